"""Fields answered by one of a few words that stand side by side, each chosen by a letter of its own.

The letters follow the words as they are shown, in whatever language: the first letter, or one further on
where another word has that already. Accents need not be typed.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QRadioButton, QWidget

from flueleaf.desktop.calendar_words import SOURCE_LANGUAGE
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.flow_layout import FlowLayout
from flueleaf.desktop.words import LANGUAGE, _

FURTHER = "abcdefghijklmnopqrstuvwxyz0123456789"  # where all letters of a word are another's


@dataclass(frozen=True, slots=True)
class Word:
    """One possible answer: what is kept, what is shown, and the key that gives it."""

    value: str
    shown: str = ""
    key: str = ""

    @property
    def face(self) -> str:
        """What stands on the screen."""
        return self.shown or _(self.value)

    @property
    def spoken(self) -> str:
        """What a screen reader says: the answer in full, where the screen may have it short."""
        return self.face if self.value in {"true", "false"} else _(self.value)

    @property
    def first(self) -> str:
        """The first letter shown, without its accent."""
        return next(_letters(self.face), "")


def letters_of(words: Sequence[Word], language: str = LANGUAGE) -> tuple[str, ...]:
    """Return the letter of each answer, no letter twice.

    Args:
        words: the answers.
        language: of the window; a key given with an answer holds for the language of the source.
    """
    given = [word.key if language == SOURCE_LANGUAGE else "" for word in words]
    made = list(given)
    for number, word in enumerate(words):
        if not made[number] and word.first not in made:
            made[number] = word.first
    for number, word in enumerate(words):
        if not made[number]:
            beginnings = "".join(part[:1] for part in word.face.split())
            free = (*_letters(beginnings), *_letters(word.face), *FURTHER)
            made[number] = next(letter for letter in free if letter not in made)
    return tuple(made)


def bare_letter(text: str) -> str:
    """Return a typed letter in lower case and without its accent."""
    return unicodedata.normalize("NFD", text.lower())[:1]


def _letters(text: str) -> Iterator[str]:
    return (bare_letter(sign) for sign in text if sign.isalnum())


YES_NO_NA = (
    Word("yes", _("yes")),
    Word("no", _("no")),
    Word("not applicable", _("n/a"), "a"),
)


class WordsField(Field):
    """One of a few words: letters, arrows and blank choose, Backspace takes the answer back."""

    def __init__(
        self, name: str, label: str, words: Sequence[Word | str], parent: QWidget | None = None
    ) -> None:
        """Make the field without an answer.

        Args:
            name: object name, the path of the value.
            label: the question.
            words: the answers, in order.
            parent: the widget it stands in.
        """
        super().__init__(name, label, parent)
        self.words = tuple(Word(word) if isinstance(word, str) else word for word in words)
        self.letters = letters_of(self.words)
        self._group = QButtonGroup(self)
        self._buttons: list[QRadioButton] = []
        row = QWidget()
        lay = FlowLayout(row, gap_steps=0.5)
        for number, word in enumerate(self.words):
            button = QRadioButton(word.face)
            button.setObjectName(f"{name}.{word.value.replace(' ', '_')}")
            button.setAccessibleName(f"{label}: {word.spoken}")
            if self.letters[number] != word.first:
                button.setToolTip(_("key {letter}", letter=self.letters[number].upper()))
            button.installEventFilter(self)
            self._group.addButton(button, number)
            self._buttons.append(button)
            lay.addWidget(button)
        self.hold(row)
        self.line.setStretchFactor(row, 1)
        row.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._point_focus()
        self._group.idClicked.connect(self._on_clicked)

    def text(self) -> str:
        """Return the answer, "" while there is none."""
        number = self._group.checkedId()
        return self.words[number].value if number >= 0 else ""

    def set_text(self, text: str) -> None:
        """Show an answer without a signal; a text that is none of the words takes the answer away."""
        self._group.setExclusive(False)
        for word, button in zip(self.words, self._buttons, strict=True):
            button.setChecked(word.value == text)
        self._group.setExclusive(True)
        self._point_focus()

    def answer(self, text: str) -> None:
        """Give an answer as the person would, with the signal."""
        if text != self.text():
            self.set_text(text)
            self.set_fault("")
            self.edited.emit(self.text())

    def answers_of(self, typed: str) -> list[str]:
        """Return the answers a letter gives, one after the other: its own, then what else begins with it."""
        letter = bare_letter(typed)
        if not letter.isalnum():
            return []
        own = [word.value for word, its in zip(self.words, self.letters, strict=True) if its == letter]
        return [*own, *(word.value for word in self.words if word.first == letter and word.value not in own)]

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Take the answering keys before the buttons do."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and self._on_key(event):
            return True
        if isinstance(event, QFocusEvent) and event.lostFocus() and not self._holds_focus():
            self.left.emit()
        return super().eventFilter(watched, event)

    def control(self) -> QWidget:
        """Return the button that has, or would get, the focus."""
        checked = self._group.checkedButton()
        return checked if checked is not None else self._buttons[0]

    def _holds_focus(self) -> bool:
        return any(button.hasFocus() for button in self._buttons)

    def _on_key(self, event: QKeyEvent) -> bool:
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier & ~Qt.KeyboardModifier.ShiftModifier:
            return False
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.move_on()
            return True
        if event.key() in {Qt.Key.Key_Backspace, Qt.Key.Key_Delete}:
            self.answer("")
            return True
        hits = self.answers_of(event.text())
        if not hits:
            return False
        now = hits.index(self.text()) if self.text() in hits else -1
        self.answer(hits[(now + 1) % len(hits)])
        self.control().setFocus(Qt.FocusReason.OtherFocusReason)
        return True

    def _on_clicked(self, number: int) -> None:
        self._point_focus()
        self.set_fault("")
        self.edited.emit(self.words[number].value)

    def _point_focus(self) -> None:
        """Let Tab stop once at the field: on the answer given, else on the first word."""
        target = self.control()
        for button in self._buttons:
            stops = Qt.FocusPolicy.StrongFocus if button is target else Qt.FocusPolicy.ClickFocus
            button.setFocusPolicy(stops)
        self.setFocusProxy(target)


class CheckField(WordsField):
    """One check of a procedure: yes, no or n/a, by the keys y, n and a. Unanswered is none of them."""

    def __init__(self, name: str, label: str, parent: QWidget | None = None) -> None:
        """Make an unanswered check; ``text()`` is "yes", "no", "not applicable" or ""."""
        super().__init__(name, label, YES_NO_NA, parent)
