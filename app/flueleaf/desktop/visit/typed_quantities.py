"""The numbers of a visit that no analyser prints: what their fields show and take.

The reader of the document has the last word; the ranges here are the same and only keep a slip of the pen
from travelling that far. Source: common practice, as in the reader.
"""

from __future__ import annotations

from decimal import Decimal

from flueleaf.domain.quantities import Quantity
from flueleaf.domain.words import marked

PRESSURE = Quantity("mbar", marked("pressure"), "mbar", Decimal(0), Decimal(1000), 1, ("mbar", "mb"))
INPUT = Quantity("kw", marked("heat input"), "kW", Decimal("0.1"), Decimal(10_000), 1, ("kW",))
VOLUME = Quantity(
    "volume", marked("volume"), "", Decimal("0.0001"), Decimal(1000), 3, ("m3", "m³", "ft3", "ft³")
)
TURNS = Quantity("revolutions", marked("turns"), "", Decimal(1), Decimal(1000), 0)
PER_TURN = Quantity(
    "per_revolution",
    marked("volume per turn"),
    "",
    Decimal("0.0001"),
    Decimal(100),
    3,
    ("m3", "m³", "ft3", "ft³"),
)
SECONDS = Quantity("seconds", marked("time"), "s", Decimal(1), Decimal(86_400), 0, ("seconds", "sec", "s"))
HEATING_VALUE = Quantity(
    "calorific_value_mj_m3",
    marked("calorific value"),
    "MJ/m³",
    Decimal(10),
    Decimal(150),
    1,
    ("MJ/m3", "MJ/m³"),
)
PERCENT = Quantity("pct", marked("percent"), "%", Decimal(0), Decimal(100), 1, ("%",))
VAT = Quantity("vat_pct", marked("VAT %"), "%", Decimal(0), Decimal(100), 0, ("%",))
DISCOUNT = Quantity("discount_pct", marked("less %"), "%", Decimal(0), Decimal(100), 0, ("%",))
AMOUNT = Quantity("quantity", marked("quantity"), "", Decimal(0), Decimal(1_000_000), 0)
PRICE = Quantity("unit_price", marked("price"), "", Decimal(0), Decimal(10_000_000), 2, ("£", "GBP"))
