"""The shipped tables of money, read from ``resources/rules``."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TypeVar

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.rules import (
    CisRates,
    Compensation,
    Election,
    LatePayment,
    MileageRate,
    MileageRates,
    MoneyRules,
    Quarter,
    ReferenceRate,
    TaxQuarters,
    VatRates,
)
from flueleaf.paths import RESOURCES
from flueleaf.storage.tables.entries import Entries

RULES = RESOURCES / "rules"

T = TypeVar("T")


@cache
def money_rules() -> MoneyRules:
    """Return the shipped tables of money."""
    return read_money_rules(RULES)


def read_money_rules(folder: Path) -> MoneyRules:
    """Return the tables of money of a folder, every edition of each.

    Raises:
        ValueError: names the file and what is wrong with it.
    """
    return MoneyRules(
        vat=_editions(folder, "vat", _vat),
        cis=_editions(folder, "cis", _cis),
        late_payment=_editions(folder, "late payment", _late_payment),
        reference_rates=tuple(
            rate for rates in _editions(folder, "reference rates", _reference_rates) for rate in rates
        ),
        mileage=_editions(folder, "mileage", _mileage),
        tax_quarters=_editions(folder, "tax quarters", _tax_quarters),
    )


def _editions(folder: Path, table: str, read: Callable[[Entries], T]) -> tuple[T, ...]:
    """Read every edition of a table; file names are ``<table>__<year>.toml``."""
    found = []
    for path in sorted(folder.glob(f"{table.replace(' ', '_')}__*.toml")):
        entries = Entries.of_file(path, table)
        found.append(read(entries))
        entries.done()
    if not found:
        raise ValueError(f"{folder}: no table {table!r}")
    return tuple(found)


def _vat(entries: Entries) -> VatRates:
    return VatRates(
        edition=entries.edition(),
        rates_pct=entries.decimals("rates_pct"),
        reverse_charge_pct=entries.decimals("reverse_charge_pct"),
        invoice_days=entries.whole("invoice_days"),
    )


def _cis(entries: Entries) -> CisRates:
    return CisRates(edition=entries.edition(), deduction_pct=entries.decimals("deduction_pct"))


def _late_payment(entries: Entries) -> LatePayment:
    bands = []
    for row in entries.rows("compensation"):
        below = Money.of(row.decimal("below")) if row.has("below") else None
        bands.append(Compensation(below=below, amount=Money.of(row.decimal("amount"))))
        row.done()
    if [n for n, band in enumerate(bands) if band.below is None] != [len(bands) - 1]:
        raise ValueError("late payment: compensation: the last band, and no other, is open")
    return LatePayment(
        edition=entries.edition(),
        margin_pct=entries.decimal("margin_pct"),
        days_in_year=entries.whole("days_in_year"),
        compensation=tuple(bands),
    )


def _reference_rates(entries: Entries) -> tuple[ReferenceRate, ...]:
    entries.edition()
    found = []
    for row in entries.rows("rate"):
        found.append(ReferenceRate(row.date("first"), row.date("last"), row.decimal("pct")))
        row.done()
    return tuple(found)


def _mileage(entries: Entries) -> MileageRates:
    rates = []
    for row in entries.rows("rate"):
        rates.append(
            MileageRate(
                vehicle=row.text("vehicle"),
                first_pounds=row.decimal("first_pounds"),
                first_miles=row.whole("first_miles") if row.has("first_miles") else None,
                then_pounds=row.decimal("then_pounds"),
            )
        )
        row.done()
    return MileageRates(edition=entries.edition(), rates=tuple(rates))


def _tax_quarters(entries: Entries) -> TaxQuarters:
    elections = []
    for row in entries.rows("election"):
        pairs = zip(row.month_days("ends"), row.month_days("deadlines"), strict=True)
        elections.append(
            Election(
                name=row.text("name"),
                starts=row.month_day("starts"),
                quarters=tuple(Quarter(ends=end, deadline=deadline) for end, deadline in pairs),
            )
        )
        row.done()
    return TaxQuarters(edition=entries.edition(), elections=tuple(elections))
