"""Tax point of a service, mileage by flat rates, quarters of Making Tax Digital."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.rules import MoneyRules, begins, in_force
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import quoted, said

TAX_YEAR_STARTS = (4, 6)
TAX_YEARS = range(1990, 2200)  # those the dates of the book reach
MOST_MILES = Decimal(1_000_000)  # a keying guard, beyond any driver's year; common practice
TAX_YEAR_ACCEPTED = said("a tax year as 2026-27")
_TAX_YEAR = re.compile(r"(\d{4})-(\d{2})\Z", re.ASCII)


@dataclass(frozen=True, slots=True)
class Period:
    """One quarterly update: it covers the tax year so far.

    Attributes:
        first, last: the days it covers.
        quarter_first: first day of the quarter that is new in it.
        deadline: last day for sending it.
    """

    first: dt.date
    last: dt.date
    quarter_first: dt.date
    deadline: dt.date


def tax_point(
    rules: MoneyRules,
    *,
    completed: dt.date | None = None,
    invoiced: dt.date | None = None,
    paid: dt.date | None = None,
) -> dt.date:
    """Return the tax point of a service.

    An invoice or a payment before completion sets it (for its part); else an invoice within 14 days after
    completion; else completion. Source: Value Added Tax Act 1994 s. 6(3)-(5).

    Raises:
        Refused: no date at all, or the service is older than the VAT table.
    """
    early = [date for date in (invoiced, paid) if date and (completed is None or date < completed)]
    if early:
        return min(early)
    if completed is None:
        raise Refused([Fault("completed", "", said("at least one of completed, invoiced, paid"))])
    table = in_force(rules.vat, completed)
    if table is None:
        raise Refused(
            [Fault("completed", str(completed), said("a date from {first}", first=begins(rules.vat)))]
        )
    if invoiced and invoiced - completed <= dt.timedelta(days=table.invoice_days):
        return invoiced
    return completed


def mileage(rules: MoneyRules, *, tax_year: str, vehicle: str, miles: Decimal) -> Money:
    """Return what a year's business miles count, rounded once.

    Args:
        tax_year: as ``2026-27``.
        vehicle: a vehicle of the table.
        miles: all business miles of that kind of vehicle in the tax year.

    Raises:
        Refused: naming every fault.
    """
    faults = []
    if not miles.is_finite() or not 0 <= miles <= MOST_MILES:
        faults.append(Fault("miles", str(miles), said("a number from 0 to {most:,}", most=MOST_MILES)))
    starts = tax_year_start(tax_year)
    table = in_force(rules.mileage, starts) if starts else None
    rates = {rate.vehicle: rate for rate in table.rates} if table else {}
    if table is None:
        faults.append(
            Fault(
                "tax_year",
                tax_year,
                said(
                    "{tax_year}, from {first}",
                    tax_year=TAX_YEAR_ACCEPTED,
                    first=begins(rules.mileage),
                ),
            )
        )
    elif vehicle not in rates:
        faults.append(Fault("vehicle", vehicle, said("one of {names}", names=quoted(rates))))
    if faults:
        raise Refused(faults)
    rate, driven = rates[vehicle], Fraction(miles)
    first = driven if rate.first_miles is None else min(driven, Fraction(rate.first_miles))
    return Money.of(first * Fraction(rate.first_pounds) + (driven - first) * Fraction(rate.then_pounds))


def quarters(rules: MoneyRules, *, tax_year: str, election: str) -> tuple[Period, ...]:
    """Return the four quarterly updates of a tax year; each covers the year from its start.

    Raises:
        Refused: naming every fault.
    """
    starts = tax_year_start(tax_year)
    table = in_force(rules.tax_quarters, starts) if starts else None
    if starts is None or table is None:
        accepted = said(
            "{tax_year}, from {first}",
            tax_year=TAX_YEAR_ACCEPTED,
            first=begins(rules.tax_quarters),
        )
        raise Refused([Fault("tax_year", tax_year, accepted)])
    elections = {choice.name: choice for choice in table.elections}
    if election not in elections:
        raise Refused([Fault("election", election, said("one of {names}", names=quoted(elections)))])
    chosen = elections[election]
    first = new = dt.date(starts.year, *chosen.starts)
    periods = []
    for quarter in chosen.quarters:
        last = _next(new, quarter.ends)
        periods.append(Period(first, last, new, _next(last, quarter.deadline)))
        new = last + dt.timedelta(days=1)
    return tuple(periods)


def tax_year_start(tax_year: str) -> dt.date | None:
    """Return 6 April of the year in which a tax year such as ``2026-27`` begins, None where it is none."""
    found = _TAX_YEAR.match(tax_year)
    if not found or int(found[1]) not in TAX_YEARS or (int(found[1]) + 1) % 100 != int(found[2]):
        return None
    return dt.date(int(found[1]), *TAX_YEAR_STARTS)


def _next(after: dt.date, month_day: tuple[int, int]) -> dt.date:
    """Return the first such day of the year that is not before a date."""
    this_year = dt.date(after.year, *month_day)
    return this_year if this_year >= after else dt.date(after.year + 1, *month_day)
