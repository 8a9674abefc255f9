"""Fields that several forms share."""

from __future__ import annotations

from decimal import Decimal

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import Quantity
from flueleaf.domain.words import marked, said

# What a field shows and takes while typing; the reader of the document has the last word. Common practice.
KW = Quantity("kw", marked("heat input"), "kW", Decimal("0.1"), Decimal(10_000), 1, ("kW",))
SHARE = Quantity("rel", marked("share of the reading"), "", Decimal(0), Decimal(1), 2)
DAYS = Quantity("days", marked("days"), said("days"), Decimal(0), Decimal(365), 0, ("days", "day"))
FIRST_NUMBER = Quantity("first", marked("first number"), "", Decimal(1), Decimal(9999), 0)


def address_fields() -> tuple[Field, ...]:
    """Return three lines of address and the postcode."""
    return (
        TextField("address.0", _("house and street")),
        TextField("address.1", _("place")),
        TextField("address.2", _("town")),
        TextField("postcode", _("postcode"), width_px=120),
    )
