from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from tests.domain.judging.bench import (
    ANALYSER,
    DAY,
    FIRE,
    air_inlet,
    flue,
    judge,
    judge_one,
    limits,
    of,
    slip,
)

from flueleaf.domain.judging import texts as steps
from flueleaf.domain.judging.next_steps import next_steps
from flueleaf.domain.judging.steps import Result
from flueleaf.domain.judging.walk import Walk
from flueleaf.storage.tables.procedures import load_procedures

MIN = flue("min", co_ppm=18)


@pytest.mark.parametrize("stopped", ["no", "open point", "over", "doubtful", None])
def test_a_failed_check_or_an_open_point_leads_to_what_to_do(stopped: Result | None) -> None:
    found = load_procedures()[0]
    (spillage,) = (check for check in FIRE.checks if check.key == "spillage")
    way = Walk(found, stopped=stopped, here=found.step("shut it again"))
    told = stopped in ("no", "open point")
    assert next_steps((), (), (), way) == ((way.here.does, steps.DEFERENCE) if told else ())
    assert next_steps((), (), (), replace(way, here=None)) == ()
    # What stops everything says so instead.
    assert way.here.does not in next_steps((), (), (), way, stops=iter((spillage,)))


def test_nothing_to_do_says_nothing() -> None:
    assert judge(air_inlet(), flue(), MIN).next_steps == ()


def test_failed_integrity_stops_the_rest() -> None:
    found = judge(air_inlet(o2_pct="20.5"), flue(), MIN).next_steps
    assert found == (steps.INTEGRITY_OVER, steps.STILL_OVER, steps.SYMPTOMS, steps.DEFERENCE)


def test_failed_combustion_is_put_right_and_measured_again() -> None:
    found = judge(air_inlet(), flue(co_ppm=600), MIN).next_steps
    assert found == (
        steps.COMBUSTION_OVER.format(rate="high rate"), steps.STILL_OVER, steps.SYMPTOMS, steps.DEFERENCE,
    )  # fmt: skip


def test_outside_the_makers_window() -> None:
    found = judge(air_inlet(), flue(), MIN, limits=limits(co2_pct={"max": ("9.4", "9.9")})).next_steps
    assert found[0] == steps.WINDOW_OVER.format(label="CO2", rate="high rate")
    assert found[-1] == steps.DEFERENCE


def test_an_earlier_attempt_asks_for_nothing() -> None:
    assert judge(air_inlet(), flue(co_ppm=600), replace(flue(), attempt=2), MIN).next_steps == ()


def test_near_says_where() -> None:
    found = judge(air_inlet(), flue(co_ppm=345, co2_pct="9.6", o2_pct=None), MIN).next_steps
    assert found[0] == steps.NEAR.format(label="CO", point="the flue", rate="high rate")


def test_where_all_is_near_every_quantity_is_told() -> None:
    one = judge_one(flue(co_ppm=345, co2_pct="9.6", o2_pct=None))
    near = replace(one, judged=(of(one, "co_ppm"),))
    wanted = steps.NEAR.format(label="CO", point="the flue", rate="high rate")
    assert next_steps([near], (), ()) == (wanted, steps.DEFERENCE)


@pytest.mark.parametrize(
    ("stopped", "beyond", "told"),
    [
        ("over", True, True),
        ("no", True, True),
        ("over", False, False),
        ("doubtful", True, False),
        (None, True, False),
    ],
)
def test_what_was_measured_beyond_a_stop_is_said(stopped: Result | None, beyond: bool, told: bool) -> None:
    way = Walk(load_procedures()[0], stopped=stopped, beyond=(("flue", "max", 1),) if beyond else ())
    assert next_steps((), (), (), way) == ((steps.BEYOND, steps.DEFERENCE) if told else ())


def test_a_doubt_is_looked_into_before_anything_else() -> None:
    doubtful = flue(co2_pct="8.0")
    assert judge(air_inlet(), doubtful, MIN).next_steps == (steps.DOUBTED, steps.DEFERENCE)
    confirmed = replace(doubtful, confirmed=frozenset({"o2-co2-disagree"}))
    assert judge(air_inlet(), confirmed, MIN).next_steps == ()


def test_what_is_wanting_is_named() -> None:
    found = judge(air_inlet(), flue(co_ppm=None)).next_steps
    assert found == (
        steps.NO_READING.format(label="CO", point="the flue", rate="high rate"),
        steps.NO_READING.format(label="CO/CO2 ratio", point="the flue", rate="high rate"),
        steps.WANTED.format(text="flue at low rate"),
        steps.DEFERENCE,
    )


def test_where_no_limit_is_known_the_makers_is_wanted() -> None:
    text = steps.NO_LIMIT.format(point="the flue", rate="high rate")
    assert judge(flue(), kind=FIRE).next_steps == (text, steps.DEFERENCE)
    room = judge(slip("room", co_ppm=0), kind=FIRE).next_steps
    assert room[0] == steps.NO_LIMIT_YET.format(point="the room", rate="high rate")
    inlet = judge(slip("air inlet", co_ppm=0), kind=FIRE).next_steps
    assert inlet[0] == steps.NO_LIMIT_ELSEWHERE.format(point="the air inlet", rate="high rate")


def test_the_air_outdoors_asks_for_nothing_where_there_is_a_slip_to_hold_against_it() -> None:
    outdoors, room = slip("outdoors", co_ppm=0), slip("room", co_ppm=2)
    assert judge(outdoors, kind=FIRE).next_steps == (steps.BASELINE, steps.DEFERENCE)
    assert judge(outdoors, room, kind=FIRE).next_steps == judge(room, kind=FIRE).next_steps
    impossible = slip("outdoors", o2_pct="21.9", co_ppm=0)
    assert steps.BASELINE in judge(impossible, room, kind=FIRE).next_steps
    hob = judge(slip("hob", co_ppm=40, co2_pct="1.6"), kind=FIRE).next_steps
    assert hob[0] == steps.NO_LIMIT_YET.format(point="the hob", rate="high rate")


def test_an_expired_calibration_is_to_be_renewed() -> None:
    late = replace(ANALYSER, calibration_due=DAY - dt.timedelta(days=1))
    assert judge(air_inlet(), flue(), MIN, instrument=late).next_steps == (steps.CALIBRATION, steps.DEFERENCE)
