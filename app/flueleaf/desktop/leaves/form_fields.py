"""Fields that several forms share."""

from __future__ import annotations

from decimal import Decimal

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.domain.quantities import Quantity

# What a field shows and takes while typing; the reader of the document has the last word. Common practice.
KW = Quantity("kw", "heat input", "kW", Decimal("0.1"), Decimal(10_000), 1, ("kW",))
SHARE = Quantity("rel", "share of the reading", "", Decimal(0), Decimal(1), 2)
DAYS = Quantity("days", "days", "days", Decimal(0), Decimal(365), 0, ("days", "day"))


def address_fields() -> tuple[Field, ...]:
    """Return three lines of address and the postcode."""
    return (
        TextField("address.0", "house and street"),
        TextField("address.1", "place"),
        TextField("address.2", "town"),
        TextField("postcode", "postcode", width_px=120),
    )
