from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.domain.judging.bench import air_inlet, flue, judge_one, slip

from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.judging.repairs import candidates, meant_by
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.visits import Slip

PRINT = " Only the analyser’s print tells."


@pytest.mark.parametrize(
    ("key", "typed", "meant"),
    [
        ("co2_pct", "9.1", ["1.9"]),  # 0.91 has more decimals than anybody typed, 91 is no reading
        ("co2_pct", "0.4", ["4.0"]),
        ("co2_pct", "4.0", ["0.4"]),
        ("o2_pct", "12.3", ["21.3", "13.2"]),
        ("o2_pct", "12", ["21.0", "1.2"]),
        ("co_ppm", "61", ["16", "610"]),
        ("co_ppm", "610", ["160", "601", "61", "6100"]),
        ("co_ppm", "100000", ["10000"]),
        ("co_ppm", "10000", ["1000", "100000"]),
        ("ratio", "0.0120", ["0.1020", "0.0210", "0.0102", "0.0012", "0.1200"]),
        ("ratio", "0.07", ["0.7000", "0.0007", "0.0070"]),
        ("ratio", "0.0070", ["0.0700", "0.0007"]),
        ("co2_pct", "0.0", []),
    ],
)
def test_what_may_have_been_meant(key: str, typed: str, meant: list[str]) -> None:
    assert [f"{one:f}" for one in meant_by(key, Decimal(typed))] == meant


@given(st.sampled_from(["o2_pct", "co2_pct", "co_ppm", "ratio"]), st.decimals("0", "25", places=2))
def test_every_candidate_is_another_reading_that_can_be_recorded(key: str, typed: Decimal) -> None:
    typed = typed / 25 if key == "ratio" else typed
    typed = Decimal(f"{typed:.4f}")
    for question, values in candidates({key: typed}):
        assert values[key] != typed
        assert QUANTITIES[key].low <= values[key] <= QUANTITIES[key].high
        assert question.endswith(PRINT)


def told(previous: tuple[PreviousVisit, ...] = (), **values: Any) -> str:
    one = judge_one(flue(**values), previous=previous)
    assert one.doubts
    assert all(one.values[key] == Decimal(value) for key, value in values.items() if value is not None)
    return one.doubts[0].text


@pytest.mark.parametrize(
    ("values", "question"),
    [
        ({"o2_pct": "4.8", "co2_pct": "1.9"}, "CO2 9.1 % typed as 1.9?"),
        ({"o2_pct": "8.4", "co2_pct": "9.1"}, "O2 4.8 % typed as 8.4?"),
        ({"o2_pct": "9.1", "co2_pct": "4.8"}, "Were O2 and CO2 typed in each other’s place?"),
        ({"o2_pct": "20.3", "co2_pct": "4.0"}, "CO2 0.4 % typed as 4.0?"),
        (
            {"o2_pct": "4.8", "co2_pct": "9.1", "co_ppm": 61, "ratio": "0.0070"},
            "CO/CO2 ratio 0.0007 typed as 0.0070?",
        ),
        # A percentage instead of a ratio.
        (
            {"o2_pct": "4.8", "co2_pct": "9.1", "co_ppm": 61, "ratio": "0.07"},
            "CO/CO2 ratio 0.0007 typed as 0.07?",
        ),
        ({"o2_pct": "4.8", "co2_pct": "9.1", "co_ppm": 16, "ratio": "0.0007"}, "CO 61 ppm typed as 16?"),
        ({"o2_pct": "4.8", "co2_pct": "9.1", "co_ppm": 610, "ratio": "0.0007"}, "CO 61 ppm typed as 610?"),
    ],
)
def test_the_one_slip_of_the_pen_that_explains_a_doubt_is_asked_about(
    values: dict[str, Any], question: str
) -> None:
    assert told(**values).endswith(question + PRINT)


@pytest.mark.parametrize(
    "values",
    [
        # Nothing makes them agree.
        {"o2_pct": "4.8", "co2_pct": "6.6"},
        # 18 ppm typed as 180 and 0.0020 typed as 0.0002 would both do.
        {"o2_pct": "4.8", "co2_pct": "9.1", "co_ppm": 180, "ratio": "0.0002"},
    ],
)
def test_nothing_is_asked_where_none_or_several_would_explain_it(values: dict[str, Any]) -> None:
    assert "typed" not in told(**values).replace("was typed", "")


def test_last_time_must_agree_too() -> None:
    last = PreviousVisit(dt.date(2025, 11, 20), (flue(co_ppm=61),))
    assert told((last,), co_ppm=610).endswith("CO 61 ppm typed as 610?" + PRINT)
    # 30 would be no change to speak of beside 61, and no sign of a slip of the pen either.
    assert "typed" not in told((last,), co_ppm=300)
    alone = PreviousVisit(dt.date(2025, 11, 20), (flue(co_ppm=61, o2_pct=None, co2_pct=None),))
    assert "typed" not in told((alone,), co_ppm=300)
    # 9.1 for 1.9 is less than a point from 8.3, and more than both analysers explain.
    gas = PreviousVisit(dt.date(2025, 11, 20), (flue(co_ppm=None, o2_pct=None, co2_pct="8.3"),))
    assert "typed as" not in told((gas,), co2_pct="1.9")
    other = PreviousVisit(dt.date(2025, 11, 20), (flue(o2_pct="8.5", co2_pct="7.1"),))
    # 4.8 typed as 8.4 would suit CO2 9.1, and not the O2 of last time.
    assert "typed as" not in told((other,), o2_pct="8.4", co2_pct="9.1")


@pytest.mark.parametrize(
    "one",
    [
        slip("room", o2_pct="21.4"),  # 12.4 is no air of a room either
        air_inlet(o2_pct="21.4"),
        air_inlet(o2_pct="21.4", co2_pct=None),
        slip("room", co2_pct="15"),
        flue(o2_pct="21.4", co2_pct=None),
        flue(o2_pct=None, co2_pct="15"),
    ],
)
def test_nothing_is_asked_where_nothing_else_on_the_slip_bears_it_out(one: Slip) -> None:
    (doubt, *_) = judge_one(one).doubts
    assert doubt.code == "beyond-physics"
    assert "typed" not in doubt.text


def test_o2_and_co2_in_each_others_place_are_asked_about_in_air_too() -> None:
    (doubt,) = judge_one(air_inlet(o2_pct="0.0", co2_pct="20.9")).doubts
    assert doubt.text.endswith("Were O2 and CO2 typed in each other’s place?" + PRINT)


def test_a_gas_alone_is_borne_out_by_last_time() -> None:
    last = PreviousVisit(dt.date(2025, 11, 20), (flue(o2_pct=None, co2_pct="1.5"),))
    one = judge_one(flue(o2_pct=None, co2_pct="15"), previous=(last,))
    assert one.doubts[0].text.endswith("CO2 1.5 % typed as 15?" + PRINT)


def test_a_confirmed_doubt_asks_nothing() -> None:
    one = judge_one(flue(co2_pct="1.9", confirmed=frozenset({"o2-co2-disagree"})))
    assert "typed as" not in one.doubts[0].text


def test_a_figure_over_its_limit_stays_over_whatever_is_asked() -> None:
    one = judge_one(flue(co_ppm=610, ratio="0.0007"))
    assert one.verdict == "over"
    assert one.values["co_ppm"] == 610
