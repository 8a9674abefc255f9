"""A field for a maker's window: two numbers, lower then upper."""

from __future__ import annotations

import re
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.calendar_words import SOURCE_LANGUAGE
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.words import LANGUAGE, _
from flueleaf.domain.problems import Fault
from flueleaf.domain.quantities import Quantity, parse

_BETWEEN = re.compile(r"\s*(?:\bto\b|\.\.\.?|[-–—;])\s*|\s+")
_BETWEEN_ENDS = " to " if LANGUAGE == SOURCE_LANGUAGE else " – "
LONGEST_WINDOW = 60


class WindowField(LineField):
    """Typed as ``8.8 to 9.6``; a hyphen or a blank will do between the ends."""

    def __init__(self, name: str, label: str, quantity: Quantity, parent: QWidget | None = None) -> None:
        super().__init__(
            name,
            label,
            spoken=_("{label} {unit}", label=label, unit=quantity.unit),
            width_px=112,
            longest=LONGEST_WINDOW,
            parent=parent,
        )
        self.quantity = quantity
        self.set_note(quantity.unit)

    def ends(self) -> list[str]:
        """Return the ends as typed, without their unit; not two of them where the text is no window."""
        bare = self.text()
        for unit in self.quantity.spellings:
            bare = bare.replace(unit, " ")
        return [part for part in _BETWEEN.split(bare.strip()) if part]

    def problem(self) -> str:
        """Return what is wrong with the text."""
        if not self.text().strip():
            return ""
        read = [parse(self.quantity, end) for end in self.ends()]
        numbers = [end for end in read if not isinstance(end, Fault)]
        if len(numbers) == len(read) == 2 and numbers[0] <= numbers[1]:
            return ""
        high = self.quantity.high
        return _(
            "“{text}” is no window. Type two numbers up to {high}, such as {example}.",
            text=self.text()[:24],
            high=high,
            example=window_text(["8.8", "9.6"]),
        )


def window_text(value: Any) -> str:
    """Return a window of the document as it is typed."""
    return _BETWEEN_ENDS.join(str(end) for end in value) if isinstance(value, list) else str(value)
