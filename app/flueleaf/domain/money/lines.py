"""A line of a quote, an invoice or a credit note, as entered."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

VatCategory = Literal["S", "Z", "E", "AE", "O"]
VAT_CATEGORIES: tuple[VatCategory, ...] = ("S", "Z", "E", "AE", "O")


@dataclass(frozen=True, slots=True)
class Line:
    """One work line. Prices and quantities are exact decimals, money is in pounds until it is tallied.

    Attributes:
        base_quantity: the price is per that many.
        vat_pct: None where the document knows no VAT.
        labour: part of the base of a CIS deduction.
    """

    text: str
    quantity: Decimal
    unit: str
    unit_price: Decimal
    base_quantity: Decimal = Decimal(1)
    discount_pct: Decimal = Decimal(0)
    discount_amount: Decimal = Decimal(0)
    surcharge_amount: Decimal = Decimal(0)
    vat_pct: Decimal | None = None
    vat_category: VatCategory | None = None
    labour: bool = False
