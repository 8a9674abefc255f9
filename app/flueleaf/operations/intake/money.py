"""Lines, documents, debts and journeys out of a document."""

from __future__ import annotations

from decimal import Decimal

from flueleaf.domain.money.lines import VAT_CATEGORIES, Line, VatCategory
from flueleaf.operations.intake.reader import Reader

# Far beyond any job of the trade; they keep a slip of the pen out and sums within the book. Common practice.
BIGGEST_QUANTITY = 1_000_000
BIGGEST_PRICE = 10_000_000
BIGGEST_AMOUNT = 1_000_000_000
FINEST = 6
SMALLEST_BASE = Decimal("0.000001")


def read_line(reader: Reader, *, described: bool = True) -> Line:
    """Read a work line; what a rate or category may be is for the tally to say.

    Args:
        described: the line stands on a paper, so it needs its text.
    """
    one = Decimal(1)
    return Line(
        text=reader.text("text", required=described, longest=1000),
        quantity=reader.decimal("quantity", low=0, high=BIGGEST_QUANTITY, required=True, decimals=FINEST)
        or Decimal(0),
        unit=reader.text("unit", longest=40, default="each"),
        unit_price=_price(reader, "unit_price", required=True),
        base_quantity=reader.decimal(
            "base_quantity", low=SMALLEST_BASE, high=BIGGEST_QUANTITY, decimals=FINEST
        )
        or one,
        discount_pct=reader.decimal("discount_pct", low=0, high=100, decimals=FINEST) or Decimal(0),
        discount_amount=_price(reader, "discount_amount"),
        surcharge_amount=_price(reader, "surcharge_amount"),
        vat_pct=_vat_pct(reader),
        vat_category=_vat_category(reader),
        labour=reader.flag("labour"),
    )


def _price(reader: Reader, key: str, *, required: bool = False) -> Decimal:
    found = reader.decimal(key, low=0, high=BIGGEST_PRICE, required=required, decimals=FINEST)
    return found or Decimal(0)


def _vat_pct(reader: Reader) -> Decimal | None:
    return reader.decimal("vat_pct", low=0, high=100, decimals=FINEST)


def _vat_category(reader: Reader) -> VatCategory | None:
    if "vat_category" not in reader.names():
        reader.known(["vat_category"])
        return None
    return reader.choice("vat_category", VAT_CATEGORIES)
