"""Lines, documents, debts and journeys out of a document."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

from flueleaf.domain.money.amount import CURRENCY, Money
from flueleaf.domain.money.document import (
    DOCUMENT_KINDS,
    PAYMENT_WAYS,
    VAT_MODES,
    Adjustment,
    Document,
    Payment,
)
from flueleaf.domain.money.lines import VAT_CATEGORIES, Line, VatCategory
from flueleaf.domain.money.tax import MOST_MILES
from flueleaf.domain.words import said
from flueleaf.operations.intake.reader import EARLIEST, Reader

LOCALES = ("en_GB",)  # the papers are in English; numbers come with a point for decimals

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


def read_document(json_object: object) -> Document:
    """Read a document to be tallied; see the contract's ``tally``.

    Raises:
        Refused: naming every fault of form; what contradicts itself is for the tally to say.
    """
    root = Reader.of(json_object)
    root.choice("currency", (CURRENCY,), required=False)
    root.choice("locale", LOCALES, required=False)
    document = Document(
        kind=root.choice("kind", DOCUMENT_KINDS, required=False),
        vat=root.choice("vat", VAT_MODES),
        date=root.date("date"),
        lines=tuple(read_line(entry, described=False) for entry in root.items("lines", required=True)),
        business=root.child("customer", required=False).flag("business"),
        cis_deduction_pct=root.decimal("cis_deduction_pct", low=0, high=100) or Decimal(0),
        reverse_charge=root.flag("reverse_charge"),
        prices_include_vat=root.flag("prices_include_vat"),
        adjustments=tuple(_adjustment(entry) for entry in root.items("adjustments")),
        prepaid=_amount(root, "prepaid", required=False),
        payments=tuple(_payment(entry) for entry in root.items("payments")),
        on=root.date("on"),
        due=root.date("due"),
        base_rate_pct=root.decimal("base_rate_pct", low=0, high=100),
    )
    root.finish()
    return document


@dataclass(frozen=True, slots=True)
class Debt:
    """A debt that is late: one of the rates, or none where the table knows the reference rate."""

    amount: Money
    due: dt.date
    on: dt.date
    annual_rate_pct: Decimal | None
    base_rate_pct: Decimal | None


def read_debt(json_object: object) -> Debt:
    """Read a debt; see the contract's ``interest``.

    Raises:
        Refused: naming every fault.
    """
    root = Reader.of(json_object)
    debt = Debt(
        amount=_amount(root, "debt"),
        due=_date(root, "from"),
        on=_date(root, "to"),
        annual_rate_pct=root.decimal("annual_rate_pct", low=0, high=100),
        base_rate_pct=root.decimal("base_rate_pct", low=0, high=100),
    )
    if root.has("annual_rate_pct") and root.has("base_rate_pct"):
        root.fault("base_rate_pct", said("either annual_rate_pct or base_rate_pct, not both"))
    root.finish()
    return debt


@dataclass(frozen=True, slots=True)
class ServiceDates:
    """When a service was completed, invoiced and paid; None for what has not happened."""

    completed: dt.date | None
    invoiced: dt.date | None
    paid: dt.date | None


def read_service_dates(json_object: object) -> ServiceDates:
    """Read the dates of a service; see the contract's ``tax-point``.

    Raises:
        Refused: naming every fault.
    """
    root = Reader.of(json_object)
    dates = ServiceDates(root.date("completed"), root.date("invoiced"), root.date("paid"))
    root.finish()
    return dates


@dataclass(frozen=True, slots=True)
class Journeys:
    """The business miles of a tax year with one kind of vehicle."""

    tax_year: str
    vehicle: str
    miles: Decimal


def read_journeys(json_object: object) -> Journeys:
    """Read a year's miles; see the contract's ``mileage``.

    Raises:
        Refused: naming every fault.
    """
    root = Reader.of(json_object)
    journeys = Journeys(
        tax_year=root.text("tax_year", required=True, longest=7),
        vehicle=root.text("vehicle", required=True, longest=40),
        miles=root.decimal("miles", low=0, high=MOST_MILES, required=True, decimals=FINEST) or Decimal(0),
    )
    root.finish()
    return journeys


@dataclass(frozen=True, slots=True)
class QuarterChoice:
    """A tax year and how its quarters are counted."""

    tax_year: str
    election: str


def read_quarter_choice(json_object: object) -> QuarterChoice:
    """Read which quarters are asked for; see the contract's ``quarters``.

    Raises:
        Refused: naming every fault.
    """
    root = Reader.of(json_object)
    choice = QuarterChoice(
        tax_year=root.text("tax_year", required=True, longest=7),
        election=root.text("election", longest=40, default="standard"),
    )
    root.finish()
    return choice


def read_receipt(json_object: object, *, today: dt.date, owing: Money) -> tuple[Payment, str]:
    """Read a payment just received, and its way; it is not more than what is owing.

    Raises:
        Refused: naming every fault.
    """
    root = Reader.of(json_object, typed=True)
    date = root.date("date", required=True, latest=today) or today
    amount = root.decimal("amount", low="0.01", high=BIGGEST_AMOUNT, required=True, decimals=2)
    way = root.choice("way", PAYMENT_WAYS)
    if amount is not None and Money.of(amount) > owing:
        root.fault("amount", said("at most {owing}, what is owing", owing=owing.plain()))
    root.finish()
    return Payment(date, Money.of(amount or Decimal(0))), way


def _adjustment(reader: Reader) -> Adjustment:
    return Adjustment(
        text=reader.text("text", longest=1000),
        amount=_amount(reader, "amount", low=-BIGGEST_AMOUNT),
        vat_pct=_vat_pct(reader),
        vat_category=_vat_category(reader),
    )


def _payment(reader: Reader) -> Payment:
    return Payment(date=_date(reader, "date"), amount=_amount(reader, "amount", low="0.01"))


def _amount(reader: Reader, key: str, *, low: int | str = 0, required: bool = True) -> Money:
    """Read an amount of whole pence."""
    found = reader.decimal(key, low=low, high=BIGGEST_AMOUNT, required=required, decimals=2)
    return Money.of(found or Decimal(0))


def _date(reader: Reader, key: str) -> dt.date:
    """Read a date that is needed; a refused one is stood in for until the reading ends."""
    return reader.date(key, required=True) or EARLIEST
