"""A field of the readings grid: it says which slip it belongs to, and lines up at the decimal point."""

from __future__ import annotations

from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import QUANTITIES, Quantity

WIDTH_PX = 100
MOST_DECIMALS = max(quantity.decimals for quantity in QUANTITIES.values())


def right_inset(decimals: int) -> int:
    """Return how far a figure with so many decimals stands from the right, so that the points line up."""
    metrics = QFontMetricsF(current().font(figures=True))

    def tail(count: int) -> float:
        return metrics.horizontalAdvance("." + "0" * count) if count else 0.0

    return round(tail(MOST_DECIMALS) - tail(decimals))


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
            self.edit.setTextMargins(0, 0, right_inset(self.quantity.decimals), 0)
