"""A form half typed: kept in the book as it is typed, and taken up again when the form is opened next."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from PySide6.QtCore import QObject

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.draft_keeper import DraftKeeper
from flueleaf.desktop.words import _
from flueleaf.operations import kept

KIND = "form"
TAKEN_UP = _("What you typed here last time is back; it is not kept yet.")


class Spot(NamedTuple):
    """Where the cursor stands: in which field, behind how many of its characters."""

    field: str
    position: int = 0


class HalfForm(QObject):
    """The fields of one form, and the draft of what they hold while that differs from how it was opened."""

    def __init__(self, desk: Desk, place: Place, fields: Mapping[str, Field], parent: QObject) -> None:
        super().__init__(parent)
        self._book = desk.book
        self._key = _key(place)
        self._fields = fields
        self._opened: dict[str, str] = {}
        self._spot = Spot("")
        self.keeper = DraftKeeper(self._write, self)

    def take_up(self) -> bool:
        """Note how the form was opened, and put back what was typed before; returns whether there was any."""
        self._opened = self.texts()
        typed = kept.load(self._book, KIND, self._key)
        for name, text in (typed or {}).items():
            if name in self._fields:
                self._fields[name].set_text(str(text))
        if typed is not None:
            self._spot = _read_spot(kept.beside(self._book, KIND, self._key, kept.AT))
        for name, field in self._fields.items():
            field.edited.connect(self._noter(name))
            field.left.connect(self._noter(name, changed=False))
        return typed is not None

    def spot(self) -> Spot:
        """Return where the cursor was when the form was left half typed; its field is "" where it was not."""
        return self._spot if self._spot.field in self._fields else Spot("")

    def drop(self) -> None:
        """Forget what was typed: the form was kept, or left without keeping."""
        self.keeper.stop()
        if kept.load(self._book, KIND, self._key) is not None:
            kept.discard(self._book, KIND, self._key)

    def texts(self) -> dict[str, str]:
        """Return what the fields hold, by name."""
        return {name: field.text() for name, field in self._fields.items()}

    def note_spot(self) -> None:
        """Note where the cursor stands now, if it stands in a field."""
        for name, field in self._fields.items():
            if field.control().hasFocus():
                self._spot = _spot_in(name, field)

    def _write(self) -> None:
        self.note_spot()
        texts = self.texts()
        if texts == self._opened:
            kept.discard(self._book, KIND, self._key)
        else:
            at = {kept.AT: f"{self._spot.field} {self._spot.position}"} if self._spot.field else {}
            kept.keep(self._book, KIND, self._key, texts, at)

    def _noter(self, name: str, *, changed: bool = True) -> Callable[..., None]:
        def note(_text: str = "") -> None:
            self._spot = _spot_in(name, self._fields[name])
            if changed:
                self.keeper.touch()

        return note


def waits(desk: Desk, place: Place) -> bool:
    """Tell whether the form of a place was left half typed."""
    return kept.load(desk.book, KIND, _key(place)) is not None


def _key(place: Place) -> str:
    return f"{place.leaf} {place.key} {place.within}"


def _spot_in(name: str, field: Field) -> Spot:
    return Spot(name, field.edit.cursorPosition() if isinstance(field, LineField) else 0)


def _read_spot(text: str) -> Spot:
    name, _blank, position = text.rpartition(" ")
    return Spot(name, int(position)) if name and position.isdecimal() else Spot("")
