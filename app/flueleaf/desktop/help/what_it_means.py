"""Opening the glossary at the words one is at: of the field in focus, of its section, of a text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtWidgets import QApplication, QLabel, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.help.glossary_dialog import GlossaryDialog
from flueleaf.desktop.section import Section
from flueleaf.operations import glossary
from flueleaf.operations.glossary import Word


def show_words(parent: QWidget) -> None:
    """Open the glossary at the words of the field and of the section in focus."""
    GlossaryDialog(words_at(QApplication.focusWidget()), parent.window()).open()


def show_word(word: Word, parent: QWidget) -> None:
    """Open the glossary at one word."""
    GlossaryDialog([word], parent.window()).open()


def words_at(widget: QWidget | None) -> Sequence[Word]:
    """Return the words of a control, those of its field before those of its section."""
    found = [place.word for text in _texts_at(widget) for place in glossary.places(text)]
    return tuple(dict.fromkeys(found))


def _texts_at(widget: QWidget | None) -> Iterator[str]:
    """Give the texts around a control, the nearest first."""
    if widget is not None:
        yield widget.accessibleName()
    while widget is not None:
        if isinstance(widget, Field):
            yield widget.label
        if isinstance(widget, Section):
            yield widget.title
            for shown in widget.findChildren(QLabel):
                yield shown.text()
            return
        widget = widget.parentWidget()
