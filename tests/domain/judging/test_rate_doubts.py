from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.domain.judging.bench import ANALYSER, DAY, codes, flue, judge, limits

from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.records.register import Tolerance
from flueleaf.domain.records.visits import Slip
from flueleaf.storage.tables.fuels import load_fuels

WINDOWS = limits(co2_pct={"max": ("8.8", "9.6"), "min": ("8.2", "8.7")}, source="book 7, page 4")
LAST = dt.date(2025, 11, 20)


def pair(high: dict[str, str], low: dict[str, str]) -> tuple[Slip, Slip]:
    bare: dict[str, Any] = {"o2_pct": None, "co2_pct": None}
    return flue("max", **(bare | high)), flue("min", **(bare | low))


def swapped(*slips: Slip, **fields: Any) -> list[str]:
    found = judge(*slips, **fields)
    return [doubt.text for doubt in found.doubts if doubt.code == "rates-swapped"]


@pytest.mark.parametrize(
    ("high", "low", "doubted"),
    [
        ("8.4", "9.2", True),
        ("9.2", "8.4", False),
        # One of them in its own window is no sign, nor is one in neither.
        ("8.4", "8.4", False),
        ("9.2", "9.2", False),
        ("8.4", "9.7", False),
        ("8.1", "9.2", False),
        # The ends of a window belong to it.
        ("8.7", "8.8", True),
        ("8.2", "9.6", True),
    ],
)
def test_each_in_the_makers_window_of_the_other(high: str, low: str, doubted: bool) -> None:
    found = swapped(*pair({"co2_pct": high}, {"co2_pct": low}), limits=WINDOWS)
    assert bool(found) is doubted
    if doubted:
        assert f"CO2 is {high} % at high rate and {low} % at low rate" in found[0]


def test_windows_that_overlap_tell_only_where_they_do_not() -> None:
    wide = limits(co2_pct={"max": ("8.0", "9.6"), "min": ("8.2", "8.7")})
    assert swapped(*pair({"co2_pct": "8.4"}, {"co2_pct": "9.2"}), limits=wide) == []


@pytest.mark.parametrize(
    ("at_max", "at_min", "high", "low"),
    [
        (("8.6", "9.6"), ("8.2", "8.6"), "8.6", "9.2"),  # high rate at the lower end of its own window
        (("8.0", "8.4"), ("8.4", "9.0"), "8.4", "8.2"),  # … at the upper end
        (("8.0", "8.4"), ("8.4", "9.0"), "8.8", "8.4"),  # low rate at the lower end of its own window
        (("8.6", "9.6"), ("8.2", "8.6"), "8.3", "8.6"),  # … at the upper end
    ],
)
def test_the_end_of_its_own_window_is_no_sign(
    at_max: tuple[str, str], at_min: tuple[str, str], high: str, low: str
) -> None:
    touching = limits(co2_pct={"max": at_max, "min": at_min})
    assert swapped(*pair({"co2_pct": high}, {"co2_pct": low}), limits=touching) == []


def test_it_stands_at_the_slip_of_high_rate_and_can_be_confirmed() -> None:
    high, low = pair({"co2_pct": "8.4"}, {"co2_pct": "9.2"})
    found = judge(high, low, limits=WINDOWS)
    (doubt,) = [doubt for doubt in found.doubts if doubt.code == "rates-swapped"]
    assert (doubt.point, doubt.rate, doubt.confirmed) == ("flue", "max", False)
    confirmed = flue("max", o2_pct=None, co2_pct="8.4", confirmed=frozenset({"rates-swapped"}))
    found = judge(confirmed, low, limits=WINDOWS)
    assert [doubt.confirmed for doubt in found.doubts if doubt.code == "rates-swapped"] == [True]


def test_the_last_attempts_are_compared() -> None:
    high, low = pair({"co2_pct": "8.4"}, {"co2_pct": "9.2"})
    again = flue("min", o2_pct=None, co2_pct="8.5", attempt=2)
    assert swapped(high, low, again, limits=WINDOWS) == []


def last_time(high: dict[str, str], low: dict[str, str], date: dt.date = LAST) -> PreviousVisit:
    return PreviousVisit(date, pair(high, low))


def test_crosswise_to_last_time() -> None:
    then = last_time({"co2_pct": "9.3", "flue_c": "62"}, {"co2_pct": "8.3", "flue_c": "48"})
    now = pair({"co2_pct": "8.3", "flue_c": "49"}, {"co2_pct": "9.2", "flue_c": "61"})
    found = swapped(*now, previous=(then,))
    assert "those of low rate on 20 November 2025" in found[0]
    straight = pair({"co2_pct": "9.2", "flue_c": "61"}, {"co2_pct": "8.3", "flue_c": "49"})
    assert swapped(*straight, previous=(then,)) == []


def test_last_time_tells_nothing_where_the_rates_were_alike_or_one_figure_is_straight() -> None:
    now = pair({"co2_pct": "8.3"}, {"co2_pct": "9.2"})
    assert swapped(*now, previous=(last_time({"co2_pct": "8.9"}, {"co2_pct": "8.8"}),)) == []
    assert swapped(*now, previous=(PreviousVisit(LAST, (flue("max"),)),)) == []
    assert swapped(*now) == []
    mixed = last_time({"co2_pct": "9.3", "flue_c": "62"}, {"co2_pct": "8.3", "flue_c": "48"})
    half = pair({"co2_pct": "8.3", "flue_c": "61"}, {"co2_pct": "9.2", "flue_c": "49"})
    assert swapped(*half, previous=(mixed,)) == []


def test_only_the_latest_visit_with_both_rates_counts() -> None:
    old = last_time({"co2_pct": "8.3"}, {"co2_pct": "9.2"}, dt.date(2024, 11, 20))
    new = last_time({"co2_pct": "9.3"}, {"co2_pct": "8.3"})
    now = pair({"co2_pct": "8.3"}, {"co2_pct": "9.2"})
    assert swapped(*now, previous=(old, new))
    assert swapped(*now, previous=(old,)) == []


def test_a_visit_without_high_rate_is_passed_over() -> None:
    whole = last_time({"co2_pct": "9.3"}, {"co2_pct": "8.3"})
    half = PreviousVisit(LAST + dt.timedelta(200), (flue("min"),))
    assert swapped(*pair({"co2_pct": "8.3"}, {"co2_pct": "9.2"}), previous=(whole, half))


@pytest.mark.parametrize(
    ("fuel", "date", "doubted"),
    [
        (None, LAST, True),
        ("natural gas", LAST, True),
        ("propane", LAST, False),
        (None, DAY, True),
        (None, DAY + dt.timedelta(1), False),
    ],
)
def test_last_time_is_of_the_same_fuel_and_not_to_come(
    fuel: str | None, date: dt.date, doubted: bool
) -> None:
    then = replace(
        last_time({"co2_pct": "9.3"}, {"co2_pct": "8.3"}, date), fuel=load_fuels()[fuel] if fuel else None
    )
    now = pair({"co2_pct": "8.3"}, {"co2_pct": "9.2"})
    assert bool(swapped(*now, previous=(then,))) is doubted
    undated = swapped(*now, previous=(then,), date=None)
    assert bool(undated) is (fuel != "propane")  # on no day every visit is an earlier one


def test_a_quantity_that_tells_nothing_leaves_the_other_its_word() -> None:
    # The flue was told apart by rate last time and is not now: CO2 alone is crosswise.
    then = last_time({"co2_pct": "9.3", "flue_c": "62"}, {"co2_pct": "8.3", "flue_c": "48"})
    now = pair({"co2_pct": "8.3", "flue_c": "55"}, {"co2_pct": "9.2", "flue_c": "55"})
    assert swapped(*now, previous=(then,))


def test_one_rate_alone_like_the_other_is_not_crosswise() -> None:
    then = last_time({"co2_pct": "9.3"}, {"co2_pct": "8.3"})
    assert swapped(*pair({"co2_pct": "8.3"}, {"co2_pct": "10.5"}), previous=(then,)) == []
    assert swapped(*pair({"co2_pct": "7.1"}, {"co2_pct": "9.2"}), previous=(then,)) == []


@pytest.mark.parametrize(("high", "doubted"), [("8.6", True), ("8.7", False), ("8.0", True), ("7.9", False)])
def test_what_both_instruments_just_explain_is_no_difference(high: str, doubted: bool) -> None:
    # Half-widths of 0.15 and 0.2 and two last digits of 0.1: k = 2 times the root of
    # (0.15² + 0.2² + 2 · 0.05²) / 3 is 0.3 to the last digit.
    ours, theirs = (
        replace(ANALYSER, tolerance={"co2_pct": Tolerance(Decimal(half))}) for half in ("0.15", "0.20")
    )
    then = replace(last_time({"co2_pct": "9.6"}, {"co2_pct": "8.3"}), instrument=theirs)
    now = pair({"co2_pct": high}, {"co2_pct": "9.6"})
    assert bool(swapped(*now, previous=(then,), instrument=ours)) is doubted


@pytest.mark.parametrize(
    ("hot", "rich", "doubted"),
    [
        # Default tolerance of the temperature 2 °C each, 5 °C of warming: more than 9 °C; CO2 0.3 each.
        ("57.1", "9.5", True),
        ("57.0", "9.5", False),
        ("57.1", "9.4", False),
        ("57.1", "9.40001", True),
    ],
)
def test_hotter_and_richer_at_low_rate(hot: str, rich: str, doubted: bool) -> None:
    now = pair({"co2_pct": "8.8", "flue_c": "48"}, {"co2_pct": rich, "flue_c": hot})
    found = swapped(*now)
    assert bool(found) is doubted
    if doubted:
        assert "the flue is hotter (57 against 48 °C)" in found[0]


@settings(max_examples=60, deadline=None)
@given(
    st.decimals("8.0", "10.0", places=1),
    st.decimals("-0.5", "1.5", places=1),
    st.decimals("45", "75", places=0),
    st.decimals("-8", "20", places=0),
    st.decimals("-0.3", "0.3", places=1),
)
def test_a_pair_as_they_come_is_never_doubted(
    high: Any, richer: Any, hot: Any, hotter: Any, noise: Any
) -> None:
    """High rate is no leaner than low rate by more than the tolerances, nor colder by more than warming."""
    then = last_time(
        {"co2_pct": str(high), "flue_c": str(hot)}, {"co2_pct": str(high - richer), "flue_c": "50"}
    )
    now = pair(
        {"co2_pct": str(high + noise), "flue_c": str(hot)},
        {"co2_pct": str(high - richer), "flue_c": str(hot - hotter)},
    )
    assert swapped(*now, previous=(then,)) == []
    assert "rates-swapped" not in codes(judge(*now))
