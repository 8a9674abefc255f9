"""The glossary: what the words of the trade and of this program mean, found by typing."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget

from flueleaf.desktop.help.sheet_dialog import SheetDialog
from flueleaf.desktop.rule import Rule
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.operations import glossary
from flueleaf.operations.glossary import Word

KEY = "Shift+F1"
STATUS = {"own": _("a word of this program"), "trade": _("a word of the trade")}
WALKING = frozenset({Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown})


class SearchLine(QLineEdit):
    """A line to type into while the arrows walk the list under it."""

    def __init__(self, listed: QWidget) -> None:
        super().__init__()
        self._listed = listed

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand the arrows on; Enter has nothing to enter, and the sheet stays."""
        if Qt.Key(event.key()) in WALKING:
            QApplication.sendEvent(self._listed, event)
        elif event.key() not in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            super().keyPressEvent(event)


class GlossaryDialog(SheetDialog):
    """Words on the left, narrowed by typing; the meaning of one on the right."""

    def __init__(self, first: Sequence[Word] = (), parent: QWidget | None = None) -> None:
        """Make the sheet.

        Args:
            first: the words at hand, listed before all others; one stands on the first of them.
            parent: the window it lies on.
        """
        super().__init__("glossary", _("What the words mean"), parent)
        self._first = list(first)
        self._words: list[Word] = []
        self.search = SearchLine(self.listed)
        self.search.setObjectName("glossary.search")
        self.search.setAccessibleName(_("word"))
        self.search.setPlaceholderText(_("type a word"))
        self.left_column.insertWidget(1, self.search)
        self.search.textChanged.connect(self._on_typed)
        self._on_typed("")
        self.search.setFocus()

    def page_of(self, row: int) -> QWidget:
        """Return the meaning of a word as a page."""
        if row < 0:
            return _empty_page()
        return word_page(self._words[row])

    def _on_typed(self, text: str) -> None:
        found = glossary.look_up(text)
        at_hand = [] if text.strip() else self._first
        self._words = [*at_hand, *(word for word in found if word not in at_hand)]
        self.show_list([_(word.word) for word in self._words])


def word_page(word: Word) -> QWidget:
    """Return a word with its meaning, its other forms and whose word it is."""
    page = QWidget()
    column = QVBoxLayout(page)
    column.setSpacing(current().space(3))
    column.addWidget(label(_(word.word), role="title", wrap=True))
    column.addWidget(Rule())
    meaning = label(_(word.meaning), role="lead", wrap=True)
    meaning.setObjectName("glossary.meaning")
    column.addWidget(meaning)
    if word.forms:
        also = _("also: {forms}", forms=", ".join(_(form) for form in word.forms))
        column.addWidget(label(also, tone="soft", wrap=True))
    column.addWidget(label(STATUS[word.status], role="small", tone="soft", wrap=True))
    column.addStretch(1)
    page.setAccessibleName(f"{_(word.word)}: {_(word.meaning)}")
    return page


def _empty_page() -> QWidget:
    page = QWidget()
    column = QVBoxLayout(page)
    column.addWidget(label(_("The glossary has no such word."), tone="soft", wrap=True))
    column.addStretch(1)
    return page
