"""Fields that several forms share."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.postcode_field import PostcodeField
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import Quantity
from flueleaf.domain.words import marked, said

# What a field shows and takes while typing; the reader of the document has the last word. Common practice.
KW = Quantity("kw", marked("heat input"), "kW", Decimal("0.1"), Decimal(10_000), 1, ("kW",))
SHARE = Quantity("rel", marked("share of the reading"), "%", Decimal(0), Decimal(100), 1, ("%",))
DAYS = Quantity("days", marked("days"), said("days"), Decimal(0), Decimal(365), 0, ("days", "day"))
FIRST_NUMBER = Quantity("first", marked("first number"), "", Decimal(1), Decimal(9999), 0)


def address_fields() -> tuple[Field, ...]:
    """Return three lines of address and the postcode."""
    return (
        TextField("address.0", _("house and street")),
        TextField("address.1", _("place")),
        TextField("address.2", _("town")),
        PostcodeField("postcode", _("postcode"), width_px=120),
    )


class ShareField(NumberField):
    """A share of a reading: typed in percent, as data sheets state it, held by the document as 0 to 1."""

    def __init__(self, name: str, label: str) -> None:
        """Make an empty field."""
        super().__init__(name, SHARE, label=label)

    def entry(self) -> str:
        """Return the share; a text that is no percentage as it stands."""
        percent = self.value()
        return super().entry() if percent is None else f"{(percent / 100).normalize():f}"

    def show_entry(self, entry: str) -> None:
        """Show a share in percent; a text that is no number as it stands."""
        try:
            self.set_text(f"{(Decimal(entry) * 100).normalize():f}")
        except InvalidOperation:
            self.set_text(entry)
