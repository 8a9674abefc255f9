"""Drift: the slope, its interval, its significance, and the day a limit is reached.

tests/outside/test_drift_by_scipy.py compares whole rows with scipy; here are the edges.
"""

from __future__ import annotations

import datetime as dt
import itertools
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueleaf.domain.judging.drift import (
    DAYS_OF_YEAR,
    MOST_READINGS,
    Crossing,
    Dated,
    Drift,
    crossing,
    drift_of,
    exact_p,
)

START = dt.date(2015, 3, 1)


def rows(*values: str | int, every_days: int = 365) -> list[Dated]:
    return [Dated(START + dt.timedelta(days=every_days * n), Decimal(v)) for n, v in enumerate(values)]


def on_days(*pairs: tuple[int, str | int]) -> list[Dated]:
    return [Dated(START + dt.timedelta(days=day), Decimal(value)) for day, value in pairs]


def test_a_straight_line_has_its_slope_and_no_width() -> None:
    drift = drift_of(on_days(*((day, f"{50 + day}") for day in (0, 10, 30, 35, 100, 101))))
    assert drift.slope_per_year == drift.slope_low == drift.slope_high == pytest.approx(365.25)
    assert (drift.n, drift.tau, drift.method) == (6, 1.0, "exact")
    assert (drift.first, drift.last) == (START, START + dt.timedelta(days=101))
    assert drift.significant
    assert drift.value_on(START) == pytest.approx(50.0)
    assert drift.value_on(START + dt.timedelta(days=101)) == pytest.approx(151.0)


def test_nothing_and_one_reading_have_no_slope() -> None:
    assert drift_of([]) == Drift(0)
    assert (drift_of([]).middle_day, drift_of([]).middle_value) == (0.0, 0.0)
    alone = drift_of(rows(61))
    assert (alone.n, alone.slope_per_year, alone.slope_low, alone.p_value) == (1, None, None, None)
    assert not alone.significant
    assert (alone.first, alone.last) == (START, START)


def test_readings_of_one_day_have_no_slope_between_them() -> None:
    one_day = drift_of(on_days((0, 50), (0, 70), (0, 60)))
    assert (one_day.n, one_day.slope_per_year, one_day.slope_low, one_day.tau) == (3, None, None, None)
    # Days 0, 0 and 100: two pairs, 50→90 and 70→90; the median of their slopes is 0.3 a day.
    assert drift_of(on_days((0, 50), (0, 70), (100, 90))).slope_per_year == pytest.approx(0.3 * 365.25)


def test_equal_values_are_no_drift_and_no_proof_of_steadiness() -> None:
    drift = drift_of(rows(61, 61, 61, 61, 61, 61, 61))
    assert (drift.slope_per_year, drift.slope_low, drift.slope_high) == (0.0, 0.0, 0.0)
    assert (drift.tau, drift.p_value, drift.method) == (None, None, "none")
    assert not drift.significant


def test_ties_of_days_and_values_may_leave_no_interval() -> None:
    # Two pairs of days and one value alone: Sen's variance is below 0, scipy gives nan.
    drift = drift_of(on_days((0, 5), (0, 5), (9, 5), (9, 5)))
    assert (drift.slope_per_year, drift.slope_low, drift.slope_high) == (0.0, None, None)


def test_a_line_given_twice_counts_twice() -> None:
    assert drift_of([*rows(50, 60), *rows(50, 60)]).n == 4


def test_too_many_readings_are_refused() -> None:
    assert drift_of([Dated(START, Decimal(1))] * MOST_READINGS).n == MOST_READINGS
    with pytest.raises(ValueError, match=f"at most {MOST_READINGS}"):
        drift_of([Dated(START, Decimal(1))] * (MOST_READINGS + 1))


def test_a_value_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="NaN"):
        drift_of(rows("50", "NaN"))


@pytest.mark.parametrize(
    ("n", "fewer", "orders"),
    # Counted by hand of n! orders: the two that rise or fall throughout; with one more the n − 1 of each end.
    [(3, 0, Fraction(2, 6)), (4, 0, Fraction(2, 24)), (5, 0, Fraction(2, 120)), (5, 1, Fraction(10, 120))],
)
def test_the_exact_chance_of_small_rows(n: int, fewer: int, orders: Fraction) -> None:
    assert exact_p(n, fewer) == float(orders)


@pytest.mark.parametrize("n", range(1, 7))
def test_the_exact_chance_counts_every_order(n: int) -> None:
    orders = list(itertools.permutations(range(n)))
    turned = [sum(a > b for a, b in itertools.combinations(order, 2)) for order in orders]
    for fewer in range(n * (n - 1) // 4 + 1):
        counted = Fraction(2 * sum(one <= fewer for one in turned), len(orders))
        assert exact_p(n, fewer) == float(min(counted, Fraction(1)))


def test_no_row_of_four_is_ever_significant_and_one_of_five_is() -> None:
    for n in range(1, 5):
        for values in itertools.product(range(n), repeat=n):
            for days in itertools.combinations_with_replacement(range(n), n):
                assert not drift_of(on_days(*zip(days, values, strict=True))).significant
    assert drift_of(rows(1, 2, 3, 4, 5)).significant
    assert drift_of(rows(5, 4, 3, 2, 1)).significant
    assert not drift_of(rows(1, 2, 3, 5, 4)).significant


def test_the_exact_distribution_is_counted_up_to_33_readings() -> None:
    wavy = [100 * n + (250 if n % 3 == 0 else 0) for n in range(34)]
    assert drift_of(rows(*wavy[:33])).method == "exact"
    assert drift_of(rows(*wavy)).method == "normal"
    assert drift_of(rows(*range(34))).method == "exact"  # no pair, or one, against the rest: counted
    assert drift_of(rows(*range(33, -1, -1))).method == "exact"
    assert drift_of(rows(*range(32), 33, 32)).method == "exact"
    assert drift_of(rows(*range(31), 33, 31.5, 32)).method == "normal"  # type: ignore[arg-type]


def test_the_edge_of_five_per_cent_is_not_claimed() -> None:
    assert not Drift(9, p_value=0.05).significant
    assert Drift(9, p_value=0.0499).significant


def test_where_the_correction_decides_it_is_said() -> None:
    # 1, 1, 2, 2, 3: S = 8, variance 44/3: 0.0367 as scipy has it, 0.0676 with Mann's correction. Counted out,
    # 2 of the 30 orders are so strict, 0.067.
    drift = drift_of(rows(1, 1, 2, 2, 3))
    assert drift.p_value == pytest.approx(0.03671, abs=5e-6)
    assert drift.p_corrected == pytest.approx(0.06758, abs=5e-6)
    assert drift.significant
    assert drift.borderline
    assert not drift_of(rows(1, 2, 3, 4, 5)).borderline
    assert not Drift(5).borderline
    assert Drift(9, p_value=0.04, p_corrected=0.05).borderline


@pytest.mark.parametrize("values", [(1, 2, 2, 1), (1, 1, 2, 1), (2, 1, 1, 3)])
def test_what_leans_neither_way_is_all_chance(values: tuple[int, ...]) -> None:
    # S is 0, 1 and 1: with Mann's correction nothing is left of it, and never less than nothing.
    assert drift_of(rows(*values)).p_corrected == 1.0


# ---- reaching a limit

RISING = drift_of(on_days(*((365 * n, 50 + 10 * n + (n % 2)) for n in range(7))))


def test_the_line_goes_through_the_medians() -> None:
    # values 50, 61, 70, 81, 90, 101, 110 on days 0 to 2190; the middle is 81 on day 1095
    assert (RISING.middle_value, RISING.middle_day) == (81.0, START.toordinal() + 1095.0)
    assert RISING.value_on(START + dt.timedelta(days=1095)) == 81.0


def test_a_rising_line_reaches_a_limit_above_it() -> None:
    reached = crossing(RISING, Decimal(350))
    assert reached.on is not None
    assert reached.earliest is not None
    assert reached.latest is not None
    assert reached.earliest < reached.on < reached.latest
    assert RISING.value_on(reached.on) <= 350.0 < RISING.value_on(reached.on + dt.timedelta(days=1))
    assert RISING.slope_high is not None
    assert RISING.value_on(reached.earliest, RISING.slope_high) == pytest.approx(350.0, abs=0.05)


def test_a_falling_line_reaches_a_limit_below_it() -> None:
    falling = drift_of(on_days(*((365 * n, f"{20.9 - 0.05 * n:.2f}") for n in range(6))))
    reached = crossing(falling, Decimal("20.6"))
    # 0.05 a year of 365 days: six years from the first reading, to the day
    assert reached.on == START + dt.timedelta(days=6 * 365)
    assert reached.earliest == reached.latest == reached.on


def test_a_line_that_leads_away_from_the_limit_never_reaches_it() -> None:
    assert crossing(RISING, Decimal(40)) == Crossing()
    assert crossing(RISING, Decimal("49.9")) == Crossing()


def test_a_limit_reached_among_the_readings_has_its_day_though_it_has_passed() -> None:
    reached = crossing(RISING, Decimal(95))
    assert reached.on is not None
    assert START < reached.on < START + dt.timedelta(days=2190)
    early = crossing(RISING, Decimal(60))  # before the medians the flatter end of the interval comes first
    assert early.on is not None
    assert early.earliest is not None
    assert early.latest is not None
    assert early.earliest < early.on < early.latest


def test_no_drift_no_day() -> None:
    assert crossing(drift_of(rows(50, 60, 70, 80)), Decimal(350)) == Crossing()
    assert crossing(drift_of(rows(50, 61, 49, 60, 52, 58)), Decimal(350)) == Crossing()
    assert crossing(Drift(0), Decimal(350)) == Crossing()
    assert crossing(replace(RISING, slope_per_year=0.0), Decimal(350)) == Crossing()


def test_an_end_of_the_interval_that_never_comes_near_has_no_day() -> None:
    for never in (0.0, -3.0, None):
        reached = crossing(replace(RISING, slope_low=never), Decimal(350))
        assert reached.on is not None
        assert (reached.earliest is not None, reached.latest) == (True, None)
    assert crossing(replace(RISING, slope_high=None), Decimal(350)).earliest is None


def test_beyond_the_calendar_there_is_no_day() -> None:
    slow = replace(RISING, slope_low=1e-9, slope_high=20.0)
    reached = crossing(slow, Decimal(350))
    assert reached.on is not None
    assert reached.latest is None
    far = crossing(replace(RISING, slope_per_year=1e-4, slope_low=1e-5, slope_high=9.0), Decimal(350))
    assert (far.on, far.latest) == (None, None)
    assert far.earliest is not None
    never = replace(RISING, slope_per_year=5e-324, slope_low=None, slope_high=None)
    assert crossing(never, Decimal(350)) == Crossing()
    assert crossing(RISING, Decimal(80)) == crossing(RISING, Decimal("80.0"))


def test_the_last_and_the_first_day_of_the_calendar_count() -> None:
    per_day = replace(RISING, slope_per_year=DAYS_OF_YEAR, slope_low=None, slope_high=None, middle_value=0.0)
    left = dt.date.max.toordinal() - int(per_day.middle_day)
    assert crossing(per_day, Decimal(left)).on == dt.date.max
    assert crossing(per_day, Decimal(left + 1)).on is None
    old = replace(per_day, first=dt.date.min)
    assert crossing(old, Decimal(1 - int(per_day.middle_day))).on == dt.date.min
    # 21 below the middle: a slope that takes as many days as there are before it, and one that takes one less
    for days_before, day in ((RISING.middle_day, None), (RISING.middle_day - 1, dt.date.min)):
        flat = replace(RISING, slope_low=21 * DAYS_OF_YEAR / days_before, slope_high=None)
        assert crossing(flat, Decimal(60)).earliest == day


# ---- what must not matter

VALUES = st.lists(st.tuples(st.integers(0, 3000), st.integers(0, 400)), min_size=2, max_size=14).filter(
    lambda pairs: len({day for day, _ in pairs}) > 1
)


@given(VALUES, st.randoms(use_true_random=False))
def test_the_order_of_the_rows_does_not_matter(pairs: list[tuple[int, int]], chance: object) -> None:
    readings = on_days(*pairs)
    mixed = list(readings)
    chance.shuffle(mixed)  # type: ignore[attr-defined]
    assert drift_of(mixed) == drift_of(readings)


@given(VALUES, st.integers(-5000, 5000))
def test_another_day_to_begin_with_moves_the_crossing_and_nothing_else(
    pairs: list[tuple[int, int]], days: int
) -> None:
    here, there = drift_of(on_days(*pairs)), drift_of(on_days(*((day + days, v) for day, v in pairs)))
    moved = dt.timedelta(days=days)
    assert there == replace(
        here,
        middle_day=here.middle_day + days,
        first=here.first + moved if here.first else None,
        last=here.last + moved if here.last else None,
    )
    one, other = crossing(here, Decimal(5000)).on, crossing(there, Decimal(5000)).on
    assert other == (one + moved if one and one.year < 9900 else other)


@given(VALUES, st.integers(1, 6))
def test_another_unit_scales_the_slope_and_nothing_else(pairs: list[tuple[int, int]], shift: int) -> None:
    here = drift_of(on_days(*pairs))
    there = drift_of(on_days(*((day, f"{Decimal(v).scaleb(-shift):f}") for day, v in pairs)))
    assert (there.tau, there.p_value, there.method) == (here.tau, here.p_value, here.method)
    for one, other in ((here.slope_per_year, there.slope_per_year), (here.slope_low, there.slope_low)):
        if one is not None and other is not None:
            assert other == pytest.approx(one / 10**shift)
    ours, theirs = crossing(here, Decimal(900)), crossing(there, Decimal(900).scaleb(-shift))
    assert ours == theirs


@given(VALUES)
def test_turned_upside_down_it_falls_as_it_rose(pairs: list[tuple[int, int]]) -> None:
    here, there = drift_of(on_days(*pairs)), drift_of(on_days(*((day, -value) for day, value in pairs)))
    assert there.p_value == here.p_value
    assert there.tau == (None if here.tau is None else -here.tau)
    assert there.slope_per_year == pytest.approx(-(here.slope_per_year or 0.0))
    if here.slope_low is not None and here.slope_high is not None:
        assert (there.slope_low, there.slope_high) == pytest.approx((-here.slope_high, -here.slope_low))
    assert crossing(there, Decimal(-5000)) == crossing(here, Decimal(5000))


@given(VALUES)
def test_the_slope_lies_in_its_interval(pairs: list[tuple[int, int]]) -> None:
    drift = drift_of(on_days(*pairs))
    if drift.slope_per_year is not None and drift.slope_low is not None and drift.slope_high is not None:
        assert drift.slope_low <= drift.slope_per_year <= drift.slope_high
