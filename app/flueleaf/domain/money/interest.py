"""Interest and fixed sums for late payment between businesses.

Source: Late Payment of Commercial Debts (Interest) Act 1998; SI 2002/1675. Simple interest over exact days,
rounded once; the rate is fixed on the day interest begins to run and stays.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.money.amount import ZERO, Money, total
from flueleaf.domain.money.document import Payment
from flueleaf.domain.money.rules import LatePayment, MoneyRules, begins, in_force, percent
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import said

DAY = dt.timedelta(days=1)
# A keying guard: no reference rate since 1694 has been above 17 %. Recalled.
HIGHEST_RATE_PCT = Decimal(100)


@dataclass(frozen=True, slots=True)
class LateCharge:
    """What a late debt bears.

    Attributes:
        annual_rate_pct: the rate applied; None where nothing was late and the rate is not known.
    """

    interest: Money
    compensation: Money
    annual_rate_pct: Decimal | None


NOTHING = LateCharge(ZERO, ZERO, None)


def late_charge(
    debt: Money,
    payments: Iterable[Payment],
    *,
    due: dt.date,
    on: dt.date,
    rules: MoneyRules,
    base_rate_pct: Decimal | None = None,
    annual_rate_pct: Decimal | None = None,
    due_key: str = "due",
) -> LateCharge:
    """Return interest from the day after ``due`` to ``on`` (both counted) and the fixed sum.

    A day bears interest on what is owing at its end: a payment counts from its own day. Payments after ``on``
    are ignored. The fixed sum goes by what is owing on the first late day.

    Args:
        debt: what had to be paid by ``due``.
        base_rate_pct: the reference rate, to which the statutory margin is added; by default the table's.
        annual_rate_pct: the whole rate, instead.
        due_key: what a message calls ``due``.

    Raises:
        Refused: the rate is needed and not known, or the debt is older than the table.
    """
    first = due + DAY
    in_order = sorted(payments, key=lambda payment: payment.date)
    stretches = list(_balances(debt, in_order, first=first, last=on)) if on > due else []
    rate = _rate(rules, first, base_rate_pct, annual_rate_pct)
    if not any(balance for _, balance in stretches):
        return LateCharge(ZERO, ZERO, rate)
    table = in_force(rules.late_payment, first)
    if table is None:
        accepted = said(
            "a date from {first}, where statutory interest begins",
            first=begins(rules.late_payment) - DAY,
        )
        raise Refused([Fault(due_key, str(due), accepted)])
    if rate is None:
        raise Refused([_base_rate_fault(first, "")])
    pound_days = sum((days * balance.pounds for days, balance in stretches), Fraction(0))
    interest = Money.of(pound_days * Fraction(rate) / 100 / table.days_in_year)
    return LateCharge(interest, compensation(stretches[0][1], table), rate)


def compensation(overdue: Money, table: LatePayment) -> Money:
    """Return the fixed sum for a debt, nothing where nothing is overdue."""
    if overdue <= ZERO:
        return ZERO
    return next(band.amount for band in table.compensation if band.below is None or overdue < band.below)


def reference_rate(rules: MoneyRules, begins_on: dt.date) -> Decimal | None:
    """Return the reference rate in % for interest that begins on a day, None where the table ends before."""
    hits = [rate.pct for rate in rules.reference_rates if rate.first <= begins_on <= rate.last]
    return hits[0] if hits else None


def _balances(
    debt: Money, payments: Sequence[Payment], *, first: dt.date, last: dt.date
) -> Iterable[tuple[int, Money]]:
    """Return (days, balance) for each stretch of days without a change; a credit counts as nothing."""
    changes = sorted({p.date for p in payments if first < p.date <= last})
    starts = [first, *changes]
    for start, end in zip(starts, [*changes, last + DAY], strict=True):
        balance = debt - total(p.amount for p in payments if p.date <= start)
        yield (end - start).days, max(balance, ZERO)


def _rate(
    rules: MoneyRules, begins_on: dt.date, base_pct: Decimal | None, annual_pct: Decimal | None
) -> Decimal | None:
    """Return the annual rate in %: the one given, else reference rate and margin, None where not known."""
    if annual_pct is not None:
        return annual_pct
    if base_pct is not None and not 0 <= base_pct <= HIGHEST_RATE_PCT:
        raise Refused([_base_rate_fault(begins_on, str(base_pct))])
    table = in_force(rules.late_payment, begins_on)
    base = reference_rate(rules, begins_on) if base_pct is None else base_pct
    return None if table is None or base is None else base + table.margin_pct


def _base_rate_fault(begins_on: dt.date, value: str) -> Fault:
    """Say which day's rate is wanted: of 30 June from July on, of 31 December before."""
    half = dt.date(begins_on.year, 6, 30) if begins_on.month > 6 else dt.date(begins_on.year - 1, 12, 31)
    accepted = said(
        "the Bank of England's official rate on {half} in %, from 0 to {highest}",
        half=half,
        highest=percent(HIGHEST_RATE_PCT),
    )
    return Fault("base_rate_pct", value, accepted)
