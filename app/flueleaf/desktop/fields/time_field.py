"""A field for a time of day, typed with or without its colon."""

from __future__ import annotations

import re

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import shortened
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.words import _

WIDTH_PX = 76
LONGEST_TIME = 20
_TYPED = re.compile(r"(\d{1,2})[:. ]?(\d{2})\Z", re.ASCII)


def read_time(text: str) -> str:
    """Return a typed time as HH:MM, or "" where it is none: 9:10, 09.10, 910 and 0910 are the same time."""
    hit = _TYPED.match(text.strip())
    if hit is None or int(hit[1]) > 23 or int(hit[2]) > 59:
        return ""
    return f"{int(hit[1]):02}:{hit[2]}"


class TimeField(LineField):
    """One time of day; it is set out as HH:MM when the field is left."""

    def __init__(self, name: str, label: str, parent: QWidget | None = None) -> None:
        super().__init__(name, label, width_px=WIDTH_PX, longest=LONGEST_TIME, parent=parent)

    def value(self) -> str:
        """Return the time as HH:MM, "" where the field is empty or its text is no time."""
        return read_time(self.text())

    def problem(self) -> str:
        """Return what is wrong with the text."""
        if not self.text().strip() or self.value():
            return ""
        return _(
            "“{value}” is no time of day. Type hours and minutes, such as 9:10 or 0910.",
            value=shortened(self.text()),
        )

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Set the time out on leaving, never under the hands of who is typing it."""
        leaving = watched is self.edit and isinstance(event, QFocusEvent) and event.lostFocus()
        if leaving and (time := self.value()) and time != self.text():
            self.edit.setText(time)
        return super().eventFilter(watched, event)
