"""A check that is answered by one key and then goes on by itself."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent

from flueleaf.desktop.fields.words_field import CheckField, Word, WordsField
from flueleaf.desktop.words import _

REFITTED = (
    Word("true", _("refitted"), "y"),
    Word("false", _("not refitted"), "n"),
    Word("not sure", _("not sure"), "s"),
)


class AnswerField(CheckField):
    """Yes, no or n/a; the cursor goes on after the key, to the note after a no."""

    given = Signal()  # by a key, also where the answer was there already

    def _on_key(self, event: QKeyEvent) -> bool:
        if not event.modifiers() and self.answers_of(event.text()):
            self.given.emit()
        return _answer_and_go_on(self, event, super()._on_key)


class RefittedField(WordsField):
    """Whether an opened test point was refitted; nothing is said until the engineer says it."""

    def __init__(self, name: str, label: str) -> None:
        super().__init__(name, label, REFITTED)

    def _on_key(self, event: QKeyEvent) -> bool:
        return _answer_and_go_on(self, event, super()._on_key)


def _answer_and_go_on(field: WordsField, event: QKeyEvent, take: Callable[[QKeyEvent], bool]) -> bool:
    answers = bool(field.answers_of(event.text()))
    taken = take(event)
    if taken and answers:
        field.move_on()
    return taken
