"""What Qt itself says in the window's language: the menus of its fields and the names of keys.

Qt asks its translators by the place in its own source (context) and the English text there. First comes our
catalogue, so that one file holds a whole language, then the translation that Qt brings along, which has its
file dialogs too. English needs neither.

Source: the texts of QLineEdit, QWidgetTextControl and QShortcut in Qt 6; read by asking for them.
"""

from __future__ import annotations

from PySide6.QtCore import QLibraryInfo, QObject, QTranslator
from PySide6.QtGui import QGuiApplication

from flueleaf.desktop.words import LANGUAGE, _
from flueleaf.domain.words import marked

OF_FIELDS = (
    marked("&Undo"),
    marked("&Redo"),
    marked("Cu&t"),
    marked("&Copy"),
    marked("Copy &Link Location"),
    marked("&Paste"),
    marked("Delete"),
    marked("Select All"),
)
OF_KEYS = (
    marked("Ctrl"),
    marked("Shift"),
    marked("Alt"),
    marked("Space"),
    marked("Esc"),
    marked("Tab"),
    marked("Backspace"),
    marked("Return"),
    marked("Enter"),
    marked("Ins"),
    marked("Del"),
    marked("Home"),
    marked("End"),
    marked("Left"),
    marked("Up"),
    marked("Right"),
    marked("Down"),
    marked("PgUp"),
    marked("PgDown"),
)
ASKED = {"QLineEdit": OF_FIELDS, "QWidgetTextControl": OF_FIELDS, "QShortcut": OF_KEYS}
_NAME = "qt_words"


class OwnTranslator(QTranslator):
    """Answers Qt from the catalogue; what the catalogue does not translate is left to the next one."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        told = {(context, text): _(text) for context, texts in ASKED.items() for text in texts}
        self._told = {asked: text for asked, text in told.items() if text != asked[1]}

    def isEmpty(self) -> bool:  # noqa: N802 - Qt's name; an empty one is not installed
        """Tell whether there is nothing to say."""
        return not self._told

    def translate(
        self,
        context: str,
        sourceText: str,  # noqa: N803 - Qt's name
        disambiguation: str | None = None,
        n: int = -1,
    ) -> str | None:
        """Return a text of Qt's in the window's language, None where another translator may know it."""
        del disambiguation, n
        return self._told.get((context, sourceText))


def speak(app: QGuiApplication) -> None:
    """Let Qt speak the window's language; a second call changes nothing."""
    if app.findChild(QObject, _NAME) is not None:
        return
    shipped = QTranslator(app)
    shipped.setObjectName(_NAME)
    folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if shipped.load(f"qtbase_{LANGUAGE}", folder):
        app.installTranslator(shipped)
    app.installTranslator(OwnTranslator(app))
