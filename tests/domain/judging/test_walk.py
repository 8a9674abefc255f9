from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueleaf.domain.combustion.slip_figures import SlipFigures
from flueleaf.domain.judging.assessment import Doubt, Judged, SlipAssessment, Verdict
from flueleaf.domain.judging.steps import RESULTS, Procedure, Result, Step
from flueleaf.domain.judging.walk import Evidence, Walk, walk
from flueleaf.domain.records.register import Point, Rate
from flueleaf.domain.records.visits import OUTCOMES, Answer, NotMeasured, Override
from flueleaf.storage.tables.procedures import load_procedures

PROCEDURES: Mapping[str, Procedure] = {one.key: one for one in load_procedures()}
ROOM_SEALED = PROCEDURES["room_sealed"]
INLET, HIGH, LOW = ("air inlet", "max"), ("flue", "max"), ("flue", "min")
WANTED: frozenset[tuple[Point, Rate]] = frozenset((INLET, HIGH, LOW))  # type: ignore[arg-type]
CHECKS = frozenset(key for one in load_procedures() for step in one.steps for key in step.checks)


def judged(value: int | None, limit: int | None, verdict: Verdict) -> Judged:
    return Judged(
        quantity="co_ppm",
        value=None if value is None else Decimal(value),
        limit=None if limit is None else Decimal(limit),
        sense="at most",
        source="maker",
        verdict=verdict,
    )


ROWS: Mapping[str, tuple[Verdict, tuple[Judged, ...]]] = {
    "within": ("within", (judged(60, 350, "within"),)),
    "near": ("near", (judged(340, 350, "near"),)),
    "over": ("over", (judged(400, 350, "over"),)),
    "no value": ("unjudged", (judged(None, 350, "unjudged"),)),
    "no value, no limit": ("unjudged", (judged(None, None, "unjudged"),)),
    "no limit": ("unjudged", (judged(60, None, "unjudged"),)),
    "nothing": ("unjudged", ()),
}


def slip(
    place: tuple[str, str], how: str = "within", attempt: int = 1, *, adjusted: bool = False, doubt: str = ""
) -> SlipAssessment:
    verdict, rows = ROWS[how]
    return SlipAssessment(
        point=place[0],  # type: ignore[arg-type]
        rate=place[1],  # type: ignore[arg-type]
        attempt=attempt,
        decides=True,
        verdict=verdict,
        values={},
        o2_pct=None,
        co2_pct=None,
        derived=(),
        ratio=None,
        ratio_text="",
        figures=SlipFigures(),
        judged=rows,
        doubts=(Doubt(doubt, "co_ppm", "Look again."),) if doubt else (),
        adjusted=adjusted,
    )


def gone(found: Walk) -> list[tuple[str, Result | None, int]]:
    return [(one.step.key, one.result, one.attempt) for one in found.taken]


def of_slips(*slips: SlipAssessment, **more: Any) -> Walk:
    return walk(ROOM_SEALED, Evidence(slips=slips, wanted=WANTED, **more))


def whole(**more: Any) -> Walk:
    """Walk a visit of which everything is written down and good, but for what is told."""
    told: dict[str, Any] = {
        "slips": (slip(INLET), slip(HIGH), slip(LOW)),
        "answers": dict.fromkeys(CHECKS, "yes"),
        "asked": CHECKS,
        "wanted": WANTED,
        "opened": True,
        "outcome": "left in use",
        "purpose": "service",
    }
    return walk(ROOM_SEALED, Evidence(**{**told, **more}))


def test_readings_alone_go_from_the_air_inlet_to_low_rate() -> None:
    found = of_slips(slip(INLET), slip(HIGH, "near"), slip(LOW))
    assert gone(found) == [
        ("integrity", "good", 1),
        ("combustion high", "good", 1),
        ("combustion low", "good", 1),
    ]
    assert (found.here, found.stopped, found.ending, found.ahead, found.beyond) == (None, None, None, (), ())


def test_a_whole_visit_goes_through_every_step_and_ends() -> None:
    found = whole()
    keys = [one.step.key for one in found.taken]
    assert keys[:4] == ["fresh air", "supply", "pressure", "case"]
    assert keys[4:] == ["integrity", "combustion high", "combustion low", "examined", "close-up"]
    assert found.ended_as == "serviced"
    assert found.here is None
    assert whole(purpose="commissioning").ended_as == "commissioned"


def test_nothing_written_down_stands_at_the_first_step() -> None:
    found = walk(ROOM_SEALED, Evidence(answers={}, asked=CHECKS, wanted=WANTED, outcome="left in use"))
    assert found.here is not None
    assert found.here.key == "fresh air"
    assert all(result is None for _key, result, _attempt in gone(found))
    assert found.ending is None


def test_integrity_beyond_its_limit_stops_before_combustion() -> None:
    found = of_slips(slip(INLET, "over"), slip(HIGH), slip(LOW))
    assert gone(found) == [("integrity", "over", 1), ("leak", None, 0)]
    assert found.here is not None
    assert found.here.key == "leak"
    assert found.stopped == "over"
    assert [step.key for step in found.ahead] == ["integrity", "combustion high", "combustion low"]
    assert found.beyond == (("flue", "max", 1), ("flue", "min", 1))


def test_the_next_attempt_at_integrity_goes_on_from_the_remedy() -> None:
    found = of_slips(slip(INLET, "over"), slip(INLET, attempt=2), slip(HIGH), slip(LOW))
    assert gone(found) == [
        ("integrity", "over", 1),
        ("leak", "again", 0),
        ("integrity", "good", 2),
        ("combustion high", "good", 1),
        ("combustion low", "good", 1),
    ]
    assert (found.here, found.beyond) == (None, ())


def test_three_attempts_that_all_fail_are_all_gone_through() -> None:
    found = of_slips(*(slip(HIGH, "over", attempt) for attempt in (1, 2, 3)), slip(INLET))
    assert [one for one in gone(found) if one[0] == "combustion high"] == [
        ("combustion high", "over", attempt) for attempt in (1, 2, 3)
    ]
    assert found.here is not None
    assert found.here.key == "adjust high"


def test_while_low_rate_is_adjusted_both_rates_are_still_ahead() -> None:
    found = of_slips(slip(INLET), slip(HIGH), slip(LOW, "over"))
    assert found.here is not None
    assert found.here.key == "adjust low"
    assert [step.key for step in found.ahead] == ["combustion high", "combustion low"]


def test_after_an_adjustment_at_low_rate_both_rates_are_gone_through_again() -> None:
    found = of_slips(
        slip(INLET),
        slip(HIGH),
        slip(LOW, "over"),
        slip(HIGH, attempt=2, adjusted=True),
        slip(LOW, attempt=2, adjusted=True),
    )
    assert gone(found)[2:] == [
        ("combustion low", "over", 1),
        ("adjust low", "again", 0),
        ("combustion high", "good", 2),
        ("combustion low", "good", 2),
    ]
    assert (found.here, found.stale, found.beyond) == (None, (), ())


def test_high_rate_read_before_an_adjustment_at_low_rate_is_stale() -> None:
    found = of_slips(slip(INLET), slip(HIGH), slip(LOW, "over"), slip(LOW, attempt=2, adjusted=True))
    assert found.stale == (("flue", "max"),)
    assert found.here is None


def test_low_rate_read_after_an_adjustment_at_high_rate_is_not_stale() -> None:
    found = of_slips(slip(INLET), slip(HIGH, "over"), slip(HIGH, attempt=2, adjusted=True), slip(LOW))
    assert found.stale == ()


def test_high_rate_again_leaves_low_rate_wanted_once_more() -> None:
    found = of_slips(slip(INLET), slip(HIGH), slip(LOW, "over"), slip(HIGH, attempt=2, adjusted=True))
    assert gone(found)[-2:] == [("combustion high", "good", 2), ("combustion low", None, 0)]
    assert found.here is not None
    assert found.here.key == "combustion low"


def test_an_attempt_made_without_need_counts_too_and_comes_last() -> None:
    found = of_slips(slip(INLET), slip(HIGH), slip(LOW), slip(HIGH, "over", 2))
    assert gone(found)[2:] == [
        ("combustion low", "good", 1),
        ("combustion high", "over", 2),
        ("adjust high", None, 0),
    ]


def test_before_what_follows_the_slips_an_attempt_left_over_is_gone_through() -> None:
    found = whole(slips=(slip(INLET), slip(HIGH), slip(LOW), slip(HIGH, "over", 2)))
    assert gone(found)[-2:] == [("combustion high", "over", 2), ("adjust high", None, 0)]
    assert found.ending is None
    good = whole(slips=(slip(INLET), slip(HIGH), slip(LOW), slip(HIGH, attempt=2)))
    assert [one[0] for one in gone(good)][-3:] == ["combustion high", "examined", "close-up"]
    assert good.ended_as == "serviced"


@pytest.mark.parametrize(
    ("how", "doubt", "result"),
    [
        ("within", "", "good"),
        ("near", "", "good"),
        ("over", "o2-co2-disagree", "over"),
        ("no value", "", "doubtful"),
        ("no value, no limit", "", "doubtful"),
        ("no limit", "", "without limit"),
        ("nothing", "", "without limit"),
        ("no limit", "o2-co2-disagree", "doubtful"),
    ],
)
def test_how_a_slip_went(how: str, doubt: str, result: str) -> None:
    assert of_slips(slip(INLET, how, doubt=doubt)).taken[0].result == result


def test_a_slip_in_doubt_waits_for_another_attempt() -> None:
    found = of_slips(slip(INLET), slip(HIGH, "no value"), slip(LOW))
    assert gone(found)[-1] == ("high again", None, 0)
    assert found.stopped == "doubtful"
    cleared = of_slips(slip(INLET), slip(HIGH, "no value"), slip(HIGH, attempt=2), slip(LOW))
    assert cleared.here is None


def test_where_there_is_no_air_inlet_test_point_the_flue_is_looked_over() -> None:
    why = NotMeasured("air inlet", "max", "No test point.")
    found = whole(slips=(slip(HIGH), slip(LOW)), not_measured=(why,))
    assert ("integrity", "not measured", 0) in gone(found)
    assert [one[0] for one in gone(found)][4:7] == ["integrity", "flue by eye", "combustion high"]
    assert found.taken[4].reason == "No test point."
    assert found.ended_as == "serviced"
    bad = whole(
        slips=(slip(HIGH), slip(LOW)),
        not_measured=(why,),
        answers={**dict.fromkeys(CHECKS, "yes"), "flue_effective": "no"},
    )
    assert gone(bad)[-2:] == [("flue by eye", "no", 0), ("mend the flue", None, 0)]
    assert bad.stopped == "no"


def test_a_low_rate_that_cannot_be_forced_is_passed_with_its_reason() -> None:
    why = NotMeasured("flue", "min", "The controls do not allow it.")
    found = whole(slips=(slip(INLET), slip(HIGH)), not_measured=(why,))
    assert ("combustion low", "not measured", 0) in gone(found)
    assert found.ended_as == "serviced"
    empty = whole(slips=(slip(INLET), slip(HIGH)), not_measured=(NotMeasured("flue", "min", " "),))
    assert ("combustion low", None, 0) in gone(empty)
    assert empty.ending is None


@pytest.mark.parametrize(
    "key",
    [
        "analyser_zeroed",
        "gas_tight",
        "standing_pressure",
        "working_pressure",
        "gas_rate",
        "case_seal",
        "functions",
    ],
)
def test_a_check_that_fails_stops_there(key: str) -> None:
    found = whole(answers={**dict.fromkeys(CHECKS, "yes"), key: "no"})
    (failed,) = (one.step for one in found.taken if key in one.step.checks)
    assert found.here is not None
    assert found.here.key in failed.ways["no"]
    assert found.here.by == "remedy"
    assert (found.stopped, found.ending) == ("no", None)
    assert found.ahead[0] is failed, "it is tried again before one goes on"


def test_what_does_not_apply_counts_as_answered() -> None:
    assert whole(answers={**dict.fromkeys(CHECKS, "yes"), "gas_tight": "not applicable"}).ended_as


def test_a_step_of_which_the_kind_asks_nothing_is_left_out() -> None:
    found = whole(asked=CHECKS - {"gas_tight"})
    assert "supply" not in [one[0] for one in gone(found)]


@pytest.mark.parametrize(
    "told",
    [
        {"wanted": frozenset((INLET,))},
        {"slips": (slip(INLET),)},
        {"not_measured": (NotMeasured("air inlet", "max", "No test point."),)},
    ],
)
def test_a_slip_that_is_wanted_or_taken_or_told_to_be_missing_has_its_step(told: dict[str, Any]) -> None:
    (found,) = walk(ROOM_SEALED, Evidence(**told)).taken
    assert found.step.key == "integrity"
    assert walk(ROOM_SEALED, Evidence()).taken == ()


def test_an_open_test_point_stops_the_end() -> None:
    found = whole(open_points=("flue",))
    assert gone(found)[-2:] == [("close-up", "open point", 0), ("shut it again", None, 0)]
    assert found.here is not None
    assert found.here.key == "shut it again"
    assert [step.key for step in found.ahead] == ["close-up"]
    assert found.ending is None
    assert "close-up" not in [one[0] for one in gone(whole(opened=False))]


def test_a_test_point_of_which_nothing_is_said_is_still_to_be_shut() -> None:
    found = whole(untold_points=("flue",))
    assert gone(found)[-1] == ("close-up", None, 0)
    assert found.here is not None
    assert (found.here.key, found.stopped, found.ending) == ("close-up", None, None)
    assert whole(open_points=("air inlet",), untold_points=("flue",)).stopped == "open point"


@pytest.mark.parametrize("outcome", ["made safe", "isolated", "not accessed", "left in use with notes"])
def test_these_outcomes_end_it_wherever_one_stands(outcome: str) -> None:
    for more in ({}, {"slips": ()}, {"slips": (slip(INLET, "over"),)}, {"answers": {}}):
        found = whole(outcome=outcome, **more)
        assert found.ending is not None
        assert found.here is None
        assert found.ahead == ()
    assert whole(outcome="made safe").ended_as == "made safe: warning notice"
    assert whole(outcome="isolated").ended_as == "made safe: warning notice"


def test_readings_alone_end_nothing_whatever_the_outcome() -> None:
    found = of_slips(slip(INLET, "over"), outcome="made safe")
    assert (found.ending, found.stopped) == (None, "over")


def test_without_an_outcome_nothing_has_ended() -> None:
    found = whole(outcome=None)
    assert (found.here, found.ending, found.ended_as) == (None, None, "")


def test_one_may_go_on_past_a_stop_with_a_reason_that_stays() -> None:
    past = (Override("integrity", "The fan cannot be held at high rate."),)
    found = of_slips(slip(INLET, "over"), slip(HIGH), slip(LOW), overrides=past)
    first = found.taken[0]
    assert (first.result, first.overridden, first.reason) == ("over", True, past[0].reason)
    assert [one[0] for one in gone(found)] == ["integrity", "combustion high", "combustion low"]
    assert (found.here, found.beyond) == (None, ())


def test_going_on_without_a_reason_goes_nowhere() -> None:
    found = of_slips(slip(INLET, "over"), slip(HIGH), overrides=(Override("integrity", "  "),))
    assert found.here is not None
    assert found.here.key == "leak"


def test_going_on_past_a_step_that_went_well_is_nothing() -> None:
    found = of_slips(slip(INLET), overrides=(Override("integrity", "Because."),))
    assert not found.taken[0].overridden


def test_one_goes_on_after_the_last_attempt_only() -> None:
    past = (Override("integrity", "Because."),)
    found = of_slips(slip(INLET, "over"), slip(INLET, "over", 2), slip(HIGH), overrides=past)
    assert [one.overridden for one in found.taken][:3] == [False, False, True]


def test_one_may_go_on_past_a_check_and_an_open_point() -> None:
    past = (Override("supply", "Checked by the network this morning."), Override("close-up", "Cap on order."))
    found = whole(
        answers={**dict.fromkeys(CHECKS, "yes"), "gas_tight": "no"}, open_points=("flue",), overrides=past
    )
    assert [one.step.key for one in found.taken if one.overridden] == ["supply", "close-up"]
    assert found.ended_as == "serviced"


TOLD = {"good": "within", "over": "over", "doubtful": "no value", "without limit": "nothing"}


def leading_to(procedure: Procedure, target: Step, result: Result) -> Evidence:
    """Return what is written down when all goes well but for one step, which goes as told."""
    slips: list[SlipAssessment] = []
    gaps: list[NotMeasured] = []
    steps = [step for step in procedure.steps if step.by == "slip"]
    back = procedure.step(target.ways["again"][-1]) if target.by == "remedy" else None
    told = target if back is None else back
    for step in steps:
        how = result if step is target else "good"
        if step is back:
            name = next(name for name, keys in step.ways.items() if target.key in keys)
            slips += [slip(step.place, TOLD[name]), slip(step.place, attempt=2)]
        elif how == "not measured" or (told.key == "flue by eye" and step.key == "integrity"):
            gaps.append(NotMeasured(*step.place, "Because."))
        else:
            slips.append(slip(step.place, TOLD[how]))
    answers: dict[str, Answer] = dict.fromkeys(CHECKS, "yes")
    if result == "no" or (back is not None and back.by == "checks"):
        answers[told.checks[0]] = "no"
    return Evidence(
        slips=slips,
        answers=answers,
        asked=CHECKS,
        wanted=frozenset(step.place for step in steps),
        not_measured=gaps,
        open_points=("flue",) if result == "open point" or told.by == "close-up" != target.by else (),
        opened=True,
        outcome="left in use",
    )


@pytest.mark.parametrize(
    ("procedure", "target", "result"),
    [
        pytest.param(one, step, result, id=f"{one.key}: {step.key}: {result}")
        for one in PROCEDURES.values()
        for step in one.steps
        for result in RESULTS[step.by]
    ],
)
def test_every_way_of_every_procedure_is_gone(procedure: Procedure, target: Step, result: Result) -> None:
    found = walk(procedure, leading_to(procedure, target, result))
    at = next(n for n, one in enumerate(found.taken) if one.step is target)
    if result == "again" and procedure.step(target.ways[result][0]).by != "slip":
        # An answer is given anew in its place: until then one stands here, and the step itself comes next.
        assert found.here is target
        assert found.taken[at].result is None
        assert found.ahead[0].key == target.ways[result][0]
        return
    assert found.taken[at].result == result
    keys = target.ways[result]
    if keys:
        assert found.taken[at + 1].step.key == keys[-1 if target.by == "remedy" else 0]
    else:
        assert found.here is None, "whatever does not go well leads somewhere"


HOWS = st.sampled_from(tuple(ROWS))


@st.composite
def some_slips(draw: st.DrawFn) -> Sequence[SlipAssessment]:
    found = []
    for place in (INLET, HIGH, LOW):
        hows = draw(st.lists(HOWS, max_size=4))
        found += [slip(place, how, n + 1, adjusted=draw(st.booleans())) for n, how in enumerate(hows)]
    return draw(st.permutations(found))


@given(slips=some_slips(), outcome=st.sampled_from((None, *OUTCOMES)), data=st.data())
def test_any_readings_are_gone_through_at_most_once_and_none_is_lost(
    slips: Sequence[SlipAssessment], outcome: Any, data: st.DataObject
) -> None:
    answers = data.draw(
        st.none() | st.dictionaries(st.sampled_from(sorted(CHECKS)), st.sampled_from(("yes", "no")))
    )
    evidence = Evidence(
        slips=slips, answers=answers, asked=CHECKS, wanted=WANTED, opened=True, outcome=outcome
    )
    found = walk(ROOM_SEALED, evidence)
    passed = [(*one.step.place, one.attempt) for one in found.taken if one.step.by == "slip" and one.attempt]
    assert len(passed) == len(set(passed))
    assert sorted([*passed, *found.beyond]) == sorted((one.point, one.rate, one.attempt) for one in slips)
    # Attempts are gone through in their order.
    for place in (INLET, HIGH, LOW):
        attempts = [attempt for *where, attempt in passed if tuple(where) == place]
        assert attempts == sorted(attempts)


@given(slips=some_slips())
def test_only_a_way_gone_to_its_end_is_whole(slips: Sequence[SlipAssessment]) -> None:
    found = whole(slips=slips)
    last = {(one.point, one.rate): one for one in sorted(slips, key=lambda one: one.attempt)}
    if found.ending is not None:
        assert set(last) == {INLET, HIGH, LOW}
        assert all(one.verdict in ("within", "near") or one.judged == () or one.judged[0].limit is None
                   for one in last.values())  # fmt: skip
