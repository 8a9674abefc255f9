"""A field for one of a longer list: type its beginning, or walk the list with the arrows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCompleter, QWidget

from flueleaf.desktop.fields.field import shortened
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.fields.popup_keys import PopupKeys
from flueleaf.desktop.words import _

WIDTH_PX = 240
MOST_NAMED = 6


class ChoiceField(LineField):
    """One of a list of words. What was typed is completed on leaving where only one choice begins with it."""

    def __init__(
        self,
        name: str,
        label: str,
        choices: Sequence[str],
        *,
        others: bool = False,
        also: Mapping[str, Sequence[str]] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Make an empty choice.

        Args:
            name: object name, the path of the value.
            label: what it is called.
            choices: the words offered.
            others: whether a text that is not on the list is taken too.
            also: by choice, other words that mean it; a word may mean several, which then are named.
            parent: the widget it stands in.
        """
        super().__init__(name, label, width_px=WIDTH_PX, parent=parent)
        self._others = others
        self._also = also or {}
        self._choices: tuple[str, ...] = ()
        self.set_choices(choices)

    @property
    def choices(self) -> tuple[str, ...]:
        """The words offered."""
        return self._choices

    def set_choices(self, choices: Sequence[str]) -> None:
        """Offer another list."""
        self._choices = tuple(choices)
        completer = QCompleter(list(choices), self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        if (popup := completer.popup()) is not None:
            popup.setAccessibleName(_("{field}: choices", field=self.label))
            popup.setProperty("popup", True)
        completer.activated.connect(self._on_picked)
        self.edit.setCompleter(completer)
        PopupKeys(self, completer)

    def value(self) -> str:
        """Return the choice meant, or "" where none (or more than one) is."""
        text = " ".join(self.text().split())
        hits = [c for c in self._choices if c.lower() == text.lower()]
        hits = hits or [c for c in self._choices if text and c.lower().startswith(text.lower())]
        hits = hits or self._meant(text)
        if len(hits) == 1:
            return hits[0]
        return text if self._others else ""

    def problem(self) -> str:
        """Return what is wrong: the text, and the choices."""
        if fault := super().problem():
            return fault
        if not self.text().strip() or self.value():
            return ""
        if meant := self._meant(self.text()):
            return _(
                "“{value}” may be any of these: {named}. Choose one.",
                value=shortened(self.text()),
                named=", ".join(meant),
            )
        value, named = shortened(self.text()), ", ".join(self._choices[:MOST_NAMED])
        if not named:
            return _("“{value}” is not on the list, which is empty.", value=value)
        if (more := len(self._choices) - MOST_NAMED) > 0:
            return _(
                "“{value}” is not on the list. Choose {named} or {more} more.",
                value=value,
                named=named,
                more=more,
            )
        return _("“{value}” is not on the list. Choose {named}.", value=value, named=named)

    def _meant(self, text: str) -> list[str]:
        """Return the choices that another word for them, or its beginning, may mean."""
        begun = " ".join(text.lower().split())
        return [
            choice
            for choice in self._choices
            if begun and any(word.lower().startswith(begun) for word in self._also.get(choice, ()))
        ]

    def check(self) -> bool:
        """Complete the text where one choice is meant, then check."""
        if (meant := self.value()) and meant != self.text():
            self.edit.setText(meant)
            self.edited.emit(meant)
        return super().check()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Walk the list with the arrows, also while nothing is typed."""
        if (
            watched is self.edit
            and isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down}
            and self._choices
        ):
            self._step(1 if event.key() == Qt.Key.Key_Down else -1)
            return True
        return super().eventFilter(watched, event)

    def _step(self, by: int) -> None:
        now = self._choices.index(self.value()) if self.value() in self._choices else (-1 if by > 0 else 0)
        self._on_picked(self._choices[(now + by) % len(self._choices)])

    def _on_picked(self, choice: str) -> None:
        self.edit.setText(choice)
        self.edit.selectAll()
        self.set_fault("")
        self.edited.emit(choice)
