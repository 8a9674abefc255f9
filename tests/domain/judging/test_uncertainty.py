from __future__ import annotations

import datetime as dt
import math
import random
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.domain.judging.bench import GAS, flue, judge_one, of
from uncertainties import ufloat

from flueleaf.domain.judging.rule_table import RuleTable
from flueleaf.domain.judging.uncertainty import (
    Tolerances,
    chance_beyond,
    co_co2_ratio,
    difference,
    has_changed,
    is_near,
    last_digit,
    ratio_variance,
    rectangular,
    standard_uncertainty,
)
from flueleaf.domain.records.register import Instrument, Tolerance

DEFAULTS = RuleTable(
    table="t",
    title="Defaults",
    edition="e",
    source="nowhere",
    valid_from=dt.date(2000, 1, 1),
    checked="recalled",
    tolerances={"co_ppm": Tolerance(Decimal(20), Decimal("0.05")), "o2_pct": Tolerance(Decimal("0.3"))},
)


def test_a_rectangular_half_width_over_root_three_is_the_standard_uncertainty() -> None:
    # JCGM 100:2008, 4.3.7: u = a/√3; the contract prints 5.8 for ±10 ppm.
    assert standard_uncertainty(rectangular(10)) == pytest.approx(10 / math.sqrt(3))
    assert round(standard_uncertainty(rectangular(10)), 1) == 5.8


@pytest.mark.parametrize(
    ("key", "typed", "digit"),
    [
        ("co_ppm", "61", 1),
        ("co_ppm", "60", 1),
        ("co_ppm", "6E+1", 1),
        ("co_ppm", "61.0", "0.1"),
        ("co2_pct", "9.1", "0.1"),
        ("co2_pct", "9.0", "0.1"),
        ("co2_pct", "9.10", "0.01"),
        # Noughts left off: the display shows them all the same.
        ("co2_pct", "9", "0.1"),
        ("ratio", "0", "0.0001"),
        ("ratio", "0.001", "0.0001"),
        ("ratio", "0.00067", "0.00001"),
    ],
)
def test_the_last_digit_typed_is_known_to_half_of_it(key: str, typed: str, digit: str | int) -> None:
    assert last_digit(key, Decimal(typed)) == Decimal(digit)
    # JCGM 100:2008, F.2.2.1: half of the digit is a rectangular half-width of its own.
    both = rectangular(10, last_digit(key, Decimal(typed)))
    assert both == Fraction(100, 3) + (Fraction(digit) / 2) ** 2 / 3


def test_many_digits_leave_the_tolerance_alone() -> None:
    assert last_digit("o2_pct", Decimal("4.80000000000")) == Decimal("1e-11")
    tolerances = Tolerances.of(None, DEFAULTS)
    coarse, fine = (tolerances.variance("o2_pct", Decimal(typed)) for typed in ("4.8", "4.80000000000"))
    assert standard_uncertainty(coarse) > standard_uncertainty(fine) == pytest.approx(0.3 / math.sqrt(3))


def test_what_was_worked_out_or_read_by_eye_has_no_last_digit() -> None:
    assert last_digit("ratio", Fraction(1, 3)) == 0
    # The tolerance of a smoke number is a step of the scale already.
    assert last_digit("smoke", Decimal(1)) == 0


@pytest.mark.parametrize(("value", "width"), [("0", 20), ("399", 20), ("400", 20), ("401", "20.05")])
def test_the_larger_of_absolute_and_relative_counts(value: str, width: str | int) -> None:
    assert Tolerances.of(None, DEFAULTS).half_width("co_ppm", Decimal(value)) == Fraction(width)


def test_tolerances_say_where_they_come_from() -> None:
    own = Instrument("analyser 2", tolerance={"co_ppm": Tolerance(Decimal(5))})
    mixed = Tolerances.of(own, DEFAULTS)
    assert mixed.half_width("co_ppm", 1 * Decimal(9)) == 5
    assert mixed.source("co_ppm", "o2_pct") == "stated for analyser 2; Defaults: nowhere"
    assert mixed.name == "stated for analyser 2"
    assert Tolerances.of(None, DEFAULTS).name == "Defaults: nowhere"
    assert Tolerances.of(Instrument("bare"), DEFAULTS).name == "Defaults: nowhere"


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2000), st.integers(10, 120), st.integers(1, 60), st.integers(1, 10))
def test_the_ratio_spreads_as_the_uncertainties_package_says(co: int, tenths: int, a: int, b: int) -> None:
    co2 = Fraction(tenths, 10)
    ours = ratio_variance(
        co_ppm=Fraction(co), co2_pct=co2, co_variance=Fraction(a) ** 2, co2_variance=Fraction(b, 10) ** 2
    )
    theirs = ufloat(co, a) / (10_000 * ufloat(float(co2), b / 10))
    assert standard_uncertainty(ours) == pytest.approx(theirs.std_dev, rel=1e-9)


def test_a_ratio_from_derived_co2_spreads_as_the_uncertainties_package_says() -> None:
    one = judge_one(flue(co2_pct=None, co_ppm=300, o2_pct="5.3"))
    # CO2 = CO2max · (20.95 − O2) / 20.95 with O2 uncertain: its share must come through the relation.
    o2 = ufloat(5.3, math.hypot(0.3, 0.05) / math.sqrt(3))
    co2 = GAS.co2_max_pct * (20.95 - o2) / 20.95
    theirs = ufloat(300, math.hypot(15, 0.5) / math.sqrt(3)) / (10_000 * co2)
    assert of(one, "ratio").standard_uncertainty == pytest.approx(theirs.std_dev, rel=1e-9)


def test_the_chance_agrees_with_a_monte_carlo_run() -> None:
    # JCGM 101:2008: draw CO and CO2 from their rectangles and count; the normal one is 2.5 points off.
    one = of(judge_one(flue(co_ppm=350, o2_pct=None, co2_pct="9.1")), "ratio")
    dice = random.Random(20261126)
    draws = 40_000
    over = sum(
        (350 + 17.5 * dice.uniform(-1, 1) + 0.5 * dice.uniform(-1, 1))
        / (10_000 * (9.1 + 0.3 * dice.uniform(-1, 1) + 0.05 * dice.uniform(-1, 1)))
        > 0.004
        for _ in range(draws)
    )
    assert one.chance_beyond == pytest.approx(over / draws, abs=0.025)
    assert 0.1 < over / draws < 0.3


@pytest.mark.parametrize(
    ("margin", "chance"),
    # Tables of the normal distribution: 1 − Φ(z).
    [(0, 0.5), ("1.644854", 0.05), ("-1.644854", 0.95), ("1.959964", 0.025), ("3", 0.001349898)],
)
def test_the_chance_follows_the_normal_distribution(margin: str | int, chance: float) -> None:
    assert chance_beyond(Fraction(margin), 1.0) == pytest.approx(chance, abs=1e-7)
    assert chance_beyond(3 * Decimal(margin), 3.0) == pytest.approx(chance, abs=1e-7)


def test_an_exact_reading_leaves_no_chance() -> None:
    assert chance_beyond(Fraction(-1), 0.0) == 1.0
    assert chance_beyond(Fraction(0), 0.0) == 0.0


def test_the_guard_band_itself_is_clear_of_the_limit() -> None:
    assert not is_near(Fraction("1.645"), Fraction(1))
    assert is_near(Fraction("1.6449"), Fraction(1))
    assert not is_near(Fraction(0), Fraction(0))


@pytest.mark.parametrize(
    ("apart", "floor", "changed"),
    [
        ("2.01", "1", True),
        ("2", "1", False),
        ("2.01", "2.01", False),
        ("2.01", "2.5", False),
        ("-2.01", "1", True),
    ],
)
def test_a_change_is_beyond_both_uncertainty_and_floor(apart: str, floor: str, changed: bool) -> None:
    before = Decimal(10)
    now = before + Decimal(apart)
    assert has_changed(before, now, variance=Fraction(1), floor=Decimal(floor)) is changed


exact_numbers = st.one_of(
    st.decimals("0.0001", "25", places=4), st.fractions(Fraction(1, 1000), 25, max_denominator=2**40)
)


@settings(max_examples=100)
@given(exact_numbers, exact_numbers, st.fractions(0, 100), st.fractions(0, 100))
def test_whole_numbers_over_one_denominator_are_the_formula(
    co: Decimal | Fraction, co2: Decimal | Fraction, co_variance: Fraction, co2_variance: Fraction
) -> None:
    carbon, dioxide = Fraction(co), Fraction(co2)
    found = ratio_variance(co_ppm=co, co2_pct=co2, co_variance=co_variance, co2_variance=co2_variance)
    # Partial derivatives of CO / (10 000 · CO2), squared.
    by_co, by_co2 = 1 / (10_000 * dioxide), carbon / (10_000 * dioxide**2)
    assert found == by_co**2 * co_variance + by_co2**2 * co2_variance
    assert co_co2_ratio(co, co2) == carbon / (10_000 * dioxide)
    assert difference(co, co2) == carbon - dioxide
    assert rectangular(co) == carbon**2 / 3
    assert rectangular(co, Decimal("0.01")) == carbon**2 / 3 + Fraction("0.005") ** 2 / 3
    margin = carbon - dioxide
    assert is_near(margin, co_variance) is (margin**2 < Fraction("1.645") ** 2 * co_variance)


@settings(max_examples=60)
@given(
    st.decimals("0", "100000", places=3), st.decimals("0", "50", places=3), st.decimals("0", "1", places=4)
)
def test_of_absolute_and_relative_the_larger_counts_exactly(
    value: Decimal, absolute: Decimal, relative: Decimal
) -> None:
    tolerances = Tolerances({"co_ppm": Tolerance(absolute, relative)}, {}, "own", "default")
    wanted = max(Fraction(absolute), Fraction(relative) * Fraction(value))
    assert tolerances.half_width("co_ppm", value) == wanted
    assert tolerances.half_width("co_ppm", Fraction(value)) == wanted


def test_the_most_digits_a_number_may_be_typed_with_stay_exact() -> None:
    long = Decimal("1." + "1" * 39)
    tolerances = Tolerances({"co_ppm": Tolerance(Decimal(0), long)}, {}, "own", "default")
    assert tolerances.half_width("co_ppm", long) == Fraction(long) ** 2
    assert difference(Decimal("1e30"), Decimal("1e-30")) == Fraction(10**60 - 1, 10**30)
