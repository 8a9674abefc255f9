from __future__ import annotations

import datetime as dt
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.money.amount import ZERO, Money, total
from flueleaf.domain.money.document import Payment
from flueleaf.domain.money.interest import NOTHING, LateCharge, compensation, late_charge, reference_rate
from flueleaf.domain.problems import Refused
from flueleaf.storage.tables.money import money_rules

RULES = money_rules()
DUE = dt.date(2026, 3, 31)
DAY = dt.timedelta(days=1)


def _late(debt: str, *payments: tuple[int, str], days: int, rate: str = "12") -> LateCharge:
    """Charge a debt ``days`` after it was due, with payments (days after due, amount)."""
    paid = [Payment(DUE + n * DAY, Money.of(Decimal(amount))) for n, amount in payments]
    return late_charge(
        Money.of(Decimal(debt)),
        paid,
        due=DUE,
        on=DUE + days * DAY,
        rules=RULES,
        annual_rate_pct=Decimal(rate),
    )


def test_nothing_is_late_on_the_due_day() -> None:
    for days in (0, -5):
        charge = _late("1000", days=days)
        assert (charge.interest, charge.compensation) == (ZERO, ZERO)


def test_the_first_late_day_bears_one_day() -> None:
    # 3650.00 x 10 % / 365 = 1.00 a day
    assert _late("3650", days=1, rate="10").interest == Money(100)
    assert _late("3650", days=366, rate="10").interest == Money(36600)


def test_a_payment_lowers_the_balance_from_its_own_day() -> None:
    # ten days: nine at 3650.00, the tenth, on which 1825.00 came in, at half of it
    assert _late("3650", (10, "1825"), days=10, rate="10").interest == Money(950)
    assert _late("3650", (11, "1825"), days=10, rate="10").interest == Money(1000)
    assert _late("3650", (0, "1825"), days=10, rate="10").interest == Money(500)
    assert _late("3650", (3, "1000"), (3, "825"), days=10, rate="10").interest == Money(600)


def test_the_fixed_sum_goes_by_what_is_owing_on_the_first_late_day() -> None:
    assert _late("1200", (0, "300"), days=5).compensation == Money(4000)
    assert _late("1200", (1, "300"), days=5).compensation == Money(4000)
    assert _late("1200", (2, "300"), days=5).compensation == Money(7000)


def test_paid_in_time_or_too_much_bears_nothing() -> None:
    assert _late("1000", (-3, "1000"), days=40) == LateCharge(ZERO, ZERO, Decimal(12))
    assert _late("1000", (0, "1500"), days=40).interest == ZERO
    assert _late("1000", (5, "1500"), days=40).interest == _late("1000", (5, "1000"), days=40).interest


@pytest.mark.parametrize(
    ("overdue", "pounds"),
    [("-1", 0), ("0", 0), ("0.01", 40), ("999.99", 40), ("1000", 70), ("9999.99", 70), ("10000", 100),
     ("9e8", 100)],
)  # fmt: skip
def test_bands_of_the_fixed_sum(overdue: str, pounds: int) -> None:
    assert compensation(Money.of(Decimal(overdue)), RULES.late_payment[0]) == Money.of(pounds)


def _with_base(due: dt.date, base: str | None) -> LateCharge:
    return late_charge(
        Money.of(1000),
        (),
        due=due,
        on=due + 10 * DAY,
        rules=RULES,
        base_rate_pct=None if base is None else Decimal(base),
    )


def test_the_margin_is_added_to_the_base_rate() -> None:
    assert _with_base(DUE, "3.75").annual_rate_pct == Decimal("11.75")
    assert _with_base(DUE, "0").annual_rate_pct == Decimal(8)


def test_the_half_year_in_which_interest_begins_decides() -> None:
    assert _with_base(dt.date(2023, 6, 29), None).annual_rate_pct == Decimal("11.50")
    assert _with_base(dt.date(2023, 6, 30), None).annual_rate_pct == Decimal("13.00")
    assert reference_rate(RULES, dt.date(2011, 12, 31)) is None


@pytest.mark.parametrize(
    ("due", "day"), [("2026-03-31", "2025-12-31"), ("2026-06-29", "2025-12-31"), ("2026-06-30", "2026-06-30")]
)
def test_a_rate_the_table_does_not_know_is_asked_for(due: str, day: str) -> None:
    with pytest.raises(Refused, match=f"base_rate_pct: missing.*official rate on {day}"):
        _with_base(dt.date.fromisoformat(due), None)


@pytest.mark.parametrize("rate", ["-0.01", "100.01"])
def test_a_rate_out_of_range_is_refused(rate: str) -> None:
    with pytest.raises(Refused, match="base_rate_pct"):
        _with_base(DUE, rate)


def test_a_debt_older_than_the_order_is_refused_by_its_key() -> None:
    with pytest.raises(Refused, match=r"from: “2002-08-05”.*from 2002-08-06"):
        late_charge(
            Money(100),
            (),
            due=dt.date(2002, 8, 5),
            on=DUE,
            rules=RULES,
            base_rate_pct=Decimal(4),
            due_key="from",
        )
    assert _with_base(dt.date(2002, 8, 6), "4").annual_rate_pct == Decimal(12)


def test_without_lateness_no_rate_need_be_known() -> None:
    assert late_charge(Money(100), (), due=DUE, on=DUE, rules=RULES) == NOTHING


payments = st.lists(st.tuples(st.integers(-5, 60), st.integers(1, 50_000)), max_size=6)


@settings(max_examples=60)
@given(st.integers(0, 200_000), payments, st.integers(1, 50))
def test_interest_is_the_sum_over_the_days(debt: int, paid: list[tuple[int, int]], days: int) -> None:
    received = [Payment(DUE + n * DAY, Money(amount)) for n, amount in paid]
    charge = late_charge(
        Money(debt), received, due=DUE, on=DUE + days * DAY, rules=RULES, annual_rate_pct=Decimal("11.75")
    )
    pound_days = Fraction(0)
    for n in range(1, days + 1):
        balance = Money(debt) - total(p.amount for p in received if p.date <= DUE + n * DAY)
        pound_days += max(balance, ZERO).pounds
    assert charge.interest == Money.of(pound_days * Fraction("11.75") / 36_500)
