"""A field for one measured or priced number; it knows its quantity and keeps the digits typed."""

from __future__ import annotations

from decimal import Decimal

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import shortened
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.theme import equal_figures
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Fault
from flueleaf.domain.quantities import Quantity, parse

WIDTH_PX = 96
LONGEST_NUMBER = 60


class NumberField(LineField):
    """One number of a quantity; the unit may be typed after it, a comma is asked about."""

    def __init__(
        self,
        name: str,
        quantity: Quantity,
        *,
        label: str = "",
        spoken: str = "",
        show_unit: bool = True,
        width_px: int = WIDTH_PX,
        parent: QWidget | None = None,
    ) -> None:
        """Make an empty number field.

        Args:
            name: object name, the path of the value.
            quantity: unit, range and spelling of the number.
            label: what it is called, else the quantity's own label.
            spoken: its name for screen readers, else label and unit.
            show_unit: whether the unit stands after the control (a grid has it in the row's head).
            width_px: width at 100 % text.
            parent: the widget it stands in.
        """
        label = label or _(quantity.label)
        super().__init__(
            name,
            label,
            spoken=spoken or f"{label} {_(quantity.unit)}".strip(),
            width_px=width_px,
            longest=LONGEST_NUMBER,
            parent=parent,
        )
        self.quantity = quantity
        self._parsed: tuple[str, Decimal | Fault | None] = ("", None)  # the text read last, and what it says
        self.edit.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.set_hint(_("Accepted is {accepted}.", accepted=_(quantity.accepted)))
        if show_unit:
            self.set_note(_(quantity.unit))

    def value(self) -> Decimal | None:
        """Return the number, or None where the field is empty or its text is not accepted."""
        read = self._read()
        return read if isinstance(read, Decimal) else None

    def entry(self) -> str:
        """Return the number alone, with the digits typed; a text that is no number as it stands."""
        value = self.value()
        return f"{value:f}" if value is not None else super().entry()

    def problem(self) -> str:
        """Return what is wrong: the value as it stands, and what would be accepted."""
        read = self._read()
        if not isinstance(read, Fault):
            return ""
        return _(
            "“{value}” cannot be used. Type {accepted}.",
            value=shortened(read.value),
            accepted=_(read.accepted),
        )

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Keep figures of equal width: a style sheet that is set anew takes them off the control's font."""
        taken = event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange)
        if watched is self.edit and taken and not self.edit.font().featureTags():
            self.edit.setFont(equal_figures())
        return super().eventFilter(watched, event)

    def _read(self) -> Decimal | Fault | None:
        """Read the text as it stands; the same text is read once, as a leaf asks for it at each key."""
        text = self.text()
        if text != self._parsed[0]:
            self._parsed = (text, parse(self.quantity, text, self.objectName()) if text.strip() else None)
        return self._parsed[1]
