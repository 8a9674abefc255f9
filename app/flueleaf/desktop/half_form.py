"""A form half typed: kept in the book as it is typed, and taken up again when the form is opened next."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QObject

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.draft_keeper import DraftKeeper
from flueleaf.operations import kept

KIND = "form"
TAKEN_UP = "What you typed here last time is back; it is not kept yet."


class HalfForm(QObject):
    """The fields of one form, and the draft of what they hold while that differs from how it was opened."""

    def __init__(self, desk: Desk, place: Place, fields: Mapping[str, Field], parent: QObject) -> None:
        super().__init__(parent)
        self._book = desk.book
        self._key = f"{place.leaf} {place.key} {place.within}"
        self._fields = fields
        self._opened: dict[str, str] = {}
        self.keeper = DraftKeeper(self._write, self)

    def take_up(self) -> bool:
        """Note how the form was opened, and put back what was typed before; returns whether there was any."""
        self._opened = self._texts()
        typed = kept.load(self._book, KIND, self._key)
        for name, text in (typed or {}).items():
            if name in self._fields:
                self._fields[name].set_text(str(text))
        for field in self._fields.values():
            field.edited.connect(self._on_edited)
        return typed is not None

    def drop(self) -> None:
        """Forget what was typed: the form was kept, or left without keeping."""
        self.keeper.stop()
        if kept.load(self._book, KIND, self._key) is not None:
            kept.discard(self._book, KIND, self._key)

    def _texts(self) -> dict[str, str]:
        return {name: field.text() for name, field in self._fields.items()}

    def _write(self) -> None:
        texts = self._texts()
        if texts == self._opened:
            kept.discard(self._book, KIND, self._key)
        else:
            kept.keep(self._book, KIND, self._key, texts)

    def _on_edited(self, _text: str) -> None:
        self.keeper.touch()
