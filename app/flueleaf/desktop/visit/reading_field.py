"""A field of the readings grid: it says which slip it belongs to, and lines up at the decimal point."""

from __future__ import annotations

import re

from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import QUANTITIES, Quantity

WIDTH_PX = 100
RULE_PX, LINE_EDGE_PX = 2, 4  # the border of the style sheet; what Qt’s line edit keeps free beside its text
_NUMBER = re.compile(r"[+-]?(?=[.0-9])[0-9]*(\.[0-9]*)?\Z")
MOST_DECIMALS = max(quantity.decimals for quantity in QUANTITIES.values())


def right_inset(decimals: int) -> int:
    """Return how far a figure with so many decimals stands from the right, so that the points line up."""
    return _inset("." + "0" * decimals if decimals else "")


def edge_px() -> int:
    """Return the room between the text of a field and its right edge: rule, padding, and the line's own."""
    return RULE_PX + current().space(1) + LINE_EDGE_PX


def _inset(tail: str) -> int:
    """Return the inset of a figure that ends with a point and some decimals, or with neither."""
    metrics = QFontMetricsF(current().font(figures=True))
    longest = metrics.horizontalAdvance("." + "0" * MOST_DECIMALS)
    return max(0, round(longest - metrics.horizontalAdvance(tail)))


class ReadingField(NumberField):
    """One reading of one slip. A smoke number may be a range such as 0-1, whose worse end is judged."""

    def __init__(self, name: str, quantity: Quantity, slip: str, parent: QWidget | None = None) -> None:
        """Make an empty field.

        Args:
            name: object name, the path of the value.
            quantity: what is read.
            slip: what the slip is called, for the message and for screen readers.
            parent: the widget it stands in.
        """
        self.slip = slip
        words = _(quantity.label)
        spoken = _("{slip}, {quantity} {unit}", slip=slip, quantity=words, unit=quantity.unit)
        super().__init__(
            name,
            quantity,
            spoken=spoken.strip(),
            show_unit=False,
            width_px=WIDTH_PX,
            parent=parent,
        )
        self._fit()
        self.edit.textChanged.connect(self._align)

    def problem(self) -> str:
        """Return what is wrong, naming the slip: the message stands under the whole row."""
        text = self.text().strip()
        if self.quantity.key == "smoke" and len(text) == 3 and text[0] <= text[2] and text[1] in "-–":
            ends = (text[0], text[2])
            if all(end.isascii() and end.isdigit() for end in ends):
                return ""
        problem = super().problem()
        if not problem:
            return ""
        quantity = _(self.quantity.label)
        return _("{slip}, {quantity}: {problem}", slip=self.slip, quantity=quantity, problem=problem)

    def _fit(self) -> None:
        super()._fit()
        if hasattr(self, "quantity"):
            self._align()

    def _align(self) -> None:
        """Let the decimal point of what stands there stand under those of the other fields."""
        number = _NUMBER.match(self.text().strip())
        inset = _inset(number[1] or "") if number else right_inset(self.quantity.decimals)
        if self.edit.textMargins().right() != inset:
            self.edit.setTextMargins(0, 0, inset, 0)
