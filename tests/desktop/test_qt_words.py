"""Qt says its own texts by the catalogue; what the catalogue does not know is left to Qt's translation."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from PySide6.QtCore import QCoreApplication, QTranslator
from PySide6.QtWidgets import QApplication

import flueleaf
from flueleaf.desktop.command import native, sequence
from flueleaf.desktop.qt_words import ASKED, OwnTranslator, speak

PROGRAM = """
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QApplication, QLineEdit
from flueleaf.desktop.command import native, sequence
from flueleaf.desktop.qt_words import speak
app = QApplication([])
speak(app)
line = QLineEdit("a")
menu = line.createStandardContextMenu()
print([action.text() for action in menu.actions() if action.text()][0])
print(native("Ctrl+Shift+Return"), sequence("Ctrl+Shift+Return").toString())
print(QCoreApplication.translate("QPlatformTheme", "Cancel"))
"""


def test_english_asks_nobody(qapp: QApplication) -> None:
    speak(qapp)
    translator = OwnTranslator(qapp)
    assert translator.isEmpty()
    assert all(translator.translate(context, text) is None for context in ASKED for text in ASKED[context])
    assert native("Ctrl+Shift+Return") == "Ctrl+Shift+Return"
    assert sequence("Ctrl+K").toString() == "Ctrl+K"


def test_it_speaks_once_however_often_it_is_told(qapp: QApplication) -> None:
    speak(qapp)
    before = len(qapp.findChildren(QTranslator))
    speak(qapp)
    assert len(qapp.findChildren(QTranslator)) == before


def test_every_text_is_one_that_qt_asks_for(qapp: QApplication) -> None:
    asked: list[tuple[str, str]] = []

    class Listening(OwnTranslator):
        def isEmpty(self) -> bool:
            return False

        def translate(
            self,
            context: str,
            sourceText: str,  # noqa: N803 - Qt's name
            disambiguation: str | None = None,
            n: int = -1,
        ) -> str | None:
            asked.append((context, sourceText))
            return super().translate(context, sourceText, disambiguation, n)

    listening = Listening(qapp)
    qapp.installTranslator(listening)
    try:
        for key in ASKED["QShortcut"]:
            native(f"Ctrl+Shift+Alt+{key}")
    finally:
        qapp.removeTranslator(listening)
    assert {text for context, text in asked if context == "QShortcut"} >= set(ASKED["QShortcut"])


def test_the_catalogue_comes_first_and_then_what_qt_brings_along(tmp_path: Path) -> None:
    catalogue = Catalog(locale="de")
    catalogue.add("Ctrl", "Kontroll")
    catalogue.add("&Undo", "&Nochmal anders")
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / "flueleaf.mo").open("wb") as file:
        write_mo(file, catalogue)
    environment = {**os.environ, "FLUELEAF_LANGUAGE": "de", "FLUELEAF_WORDS": str(tmp_path)}
    environment["PYTHONPATH"] = str(Path(flueleaf.__file__).parents[1])
    environment["QT_QPA_PLATFORM"] = "offscreen"
    done = subprocess.run(
        (sys.executable, "-c", PROGRAM), env=environment, capture_output=True, text=True, check=True
    )
    undo, keys, cancel = done.stdout.splitlines()
    assert undo.startswith("&Nochmal anders\tKontroll+")
    assert keys == "Kontroll+Umschalt+Return Ctrl+Shift+Return"
    assert cancel == "Abbrechen"
    assert QCoreApplication.translate("QPlatformTheme", "Cancel") == "Cancel"
