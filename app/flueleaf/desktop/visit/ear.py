"""What every part of the visit leaf is given: the desk, the ear that hears what is typed, the photographs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from PySide6.QtCore import QObject, Signal

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.photo.photo_line import PhotoNote
from flueleaf.desktop.visit.later import Later


class Ear(QObject):
    """Hears every field of the leaf."""

    typed = Signal()
    left = Signal()
    grown = Signal()  # fields came or went: the order of the keyboard is set anew

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.later = Later(self)
        self.field = ""  # the name of the field that is being heard, "" between two

    def listen(self, fields: Iterable[Field]) -> None:
        """Hear some fields from now on."""
        for one in fields:
            one.edited.connect(self._on_edited)
            one.left.connect(self._on_left)

    def _on_edited(self, _text: str) -> None:
        typed_in = self.sender()
        self.field = typed_in.objectName() if typed_in is not None else ""
        self.typed.emit()
        self.field = ""

    def _on_left(self) -> None:
        self.left.emit()


@dataclass(frozen=True, slots=True)
class Typing:
    """Handed to each part when it is made."""

    desk: Desk
    ear: Ear
    photos: PhotoNote = field(default_factory=PhotoNote)
