"""The dated tables that money is reckoned by, as read from the rule files."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol, TypeVar

from flueleaf.domain.money.amount import Money


@dataclass(frozen=True, slots=True)
class Edition:
    """Where a table comes from and when it holds; ``valid_to`` is None while it is in force."""

    edition: str
    source: str
    valid_from: dt.date
    valid_to: dt.date | None
    checked: str


class Dated(Protocol):
    """A table with an edition."""

    @property
    def edition(self) -> Edition:
        """The table's edition."""
        ...


D = TypeVar("D", bound=Dated)


@dataclass(frozen=True, slots=True)
class VatRates:
    """Rates of VAT in %, those of a reverse charge, and the days in which an invoice sets the tax point."""

    edition: Edition
    rates_pct: tuple[Decimal, ...]
    reverse_charge_pct: tuple[Decimal, ...]
    invoice_days: int


@dataclass(frozen=True, slots=True)
class CisRates:
    """Rates of deduction in % under the Construction Industry Scheme."""

    edition: Edition
    deduction_pct: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class Compensation:
    """A fixed sum for a debt below an amount; ``below`` is None in the last band."""

    below: Money | None
    amount: Money


@dataclass(frozen=True, slots=True)
class LatePayment:
    """Statutory interest: points over the reference rate, days of a year, fixed sums by size of debt."""

    edition: Edition
    margin_pct: Decimal
    days_in_year: int
    compensation: tuple[Compensation, ...]


@dataclass(frozen=True, slots=True)
class ReferenceRate:
    """The reference rate in % for interest that begins between two dates, both included."""

    first: dt.date
    last: dt.date
    pct: Decimal


@dataclass(frozen=True, slots=True)
class MileageRate:
    """Rates of one kind of vehicle in pounds a mile; the first holds for ``first_miles`` of the tax year."""

    vehicle: str
    first_pounds: Decimal
    first_miles: int | None
    then_pounds: Decimal


@dataclass(frozen=True, slots=True)
class MileageRates:
    """The mileage rates of an edition."""

    edition: Edition
    rates: tuple[MileageRate, ...]


@dataclass(frozen=True, slots=True)
class Quarter:
    """The last day and the deadline of one quarterly update, as (month, day)."""

    ends: tuple[int, int]
    deadline: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Election:
    """The quarters of one way of counting; ``starts`` is (month, day)."""

    name: str
    starts: tuple[int, int]
    quarters: tuple[Quarter, ...]


@dataclass(frozen=True, slots=True)
class TaxQuarters:
    """The quarterly updates of an edition."""

    edition: Edition
    elections: tuple[Election, ...]


@dataclass(frozen=True, slots=True)
class MoneyRules:
    """All tables of money, each with its editions."""

    vat: tuple[VatRates, ...]
    cis: tuple[CisRates, ...]
    late_payment: tuple[LatePayment, ...]
    reference_rates: tuple[ReferenceRate, ...]
    mileage: tuple[MileageRates, ...]
    tax_quarters: tuple[TaxQuarters, ...]


def in_force(tables: Sequence[D], on: dt.date) -> D | None:
    """Return the edition in force on a date, or None where there is none.

    Raises:
        LookupError: two editions overlap.
    """
    hits = [
        table
        for table in tables
        if table.edition.valid_from <= on and (table.edition.valid_to is None or on <= table.edition.valid_to)
    ]
    if len(hits) > 1:
        raise LookupError(f"{len(hits)} editions in force on {on}")
    return hits[0] if hits else None


def newest(tables: Sequence[D]) -> D:
    """Return the edition that came into force last."""
    return max(tables, key=lambda table: table.edition.valid_from)


def begins(tables: Sequence[D]) -> dt.date:
    """Return the first day the tables know."""
    return min(table.edition.valid_from for table in tables)


def percent(value: Decimal) -> str:
    """Return a percentage with the digits it needs: ``20``, ``12.5``."""
    return f"{value.normalize():f}" if value else "0"
