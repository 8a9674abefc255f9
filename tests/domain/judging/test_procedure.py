from __future__ import annotations

from dataclasses import replace

import pytest
from tests.domain.judging.bench import BOILER, FIRE, air_inlet, flue, slip

from flueleaf.domain.judging.procedure import (
    close_up_faults,
    missing_slips,
    opened_points,
    override_faults,
    sign_off_blocks,
)
from flueleaf.domain.judging.steps import procedure_for
from flueleaf.domain.records.register import Appliance
from flueleaf.domain.records.visits import CheckAnswer, NotMeasured, Outcome, Override, Work
from flueleaf.storage.tables.procedures import load_procedures

SLIPS = (air_inlet(), flue(), flue("min"))
WORK = Work(
    Appliance("condensing boiler"),
    slips=SLIPS,
    checks=(CheckAnswer("gas_tight", "yes"),),
    close_up={"air inlet": True, "flue": True},
)


def blocks(work: Work, verdict: str = "within") -> list[tuple[str, str]]:
    found = sign_off_blocks(work, BOILER, "service", verdict)  # type: ignore[arg-type]
    return [(fault.where, fault.value) for fault in found]


def test_a_whole_visit_may_be_signed_off() -> None:
    assert blocks(WORK) == []
    assert blocks(WORK, "near") == []


@pytest.mark.parametrize(
    ("close_up", "expected"),
    [
        ({}, [("close_up.air inlet", ""), ("close_up.flue", "")]),
        ({"air inlet": True}, [("close_up.flue", "")]),
        ({"air inlet": True, "flue": False}, [("close_up.flue", "false")]),
        ({"air inlet": "not sure", "flue": True}, [("close_up.air inlet", "not sure")]),
    ],
)
def test_an_opened_test_point_wants_a_plain_true(
    close_up: dict[str, object], expected: list[tuple[str, str]]
) -> None:
    work = replace(WORK, close_up=close_up)
    assert blocks(work) == expected
    for outcome in ("left in use with notes", "not accessed"):
        assert blocks(replace(work, outcome=outcome)) == expected
    for outcome in ("isolated", "made safe"):
        assert blocks(replace(work, outcome=outcome)) == []
    assert len(close_up_faults(work)) == len(expected)


def test_opened_is_what_was_measured_or_spoken_of() -> None:
    assert opened_points((slip("room", co_ppm=0),), {}) == ()
    assert opened_points((flue(),), {}) == ("flue",)
    assert opened_points((), {"flue": False}) == ("flue",)
    assert opened_points((flue("min"), air_inlet(), flue()), {}) == ("air inlet", "flue")


@pytest.mark.parametrize("verdict", ["over", "unjudged"])
def test_what_is_over_or_unjudged_is_not_simply_left_in_use(verdict: str) -> None:
    assert blocks(WORK, verdict) == [("outcome", "left in use")]
    others: tuple[Outcome, ...] = ("left in use with notes", "made safe", "isolated", "not accessed")
    for outcome in others:
        assert blocks(replace(WORK, outcome=outcome), verdict) == []


def test_the_refusal_says_why() -> None:
    over, unjudged = (sign_off_blocks(WORK, BOILER, "service", v)[0].accepted for v in ("over", "unjudged"))
    assert "over its limit" in over
    assert "never shown as good" in unjudged


def test_a_wanted_slip_is_given_or_explained() -> None:
    work = replace(WORK, slips=SLIPS[:2])
    assert blocks(work) == [("slips", "")]
    explained = NotMeasured("flue", "min", "the low rate cannot be forced")
    assert blocks(replace(work, not_measured=(explained,))) == []
    assert blocks(replace(work, not_measured=(replace(explained, reason=" "),))) == [("slips", "")]
    for outcome in ("isolated", "made safe", "not accessed"):
        assert blocks(replace(work, outcome=outcome)) == []
    assert blocks(replace(work, outcome="left in use with notes")) == [("slips", "")]


def test_what_is_missing_follows_the_purpose() -> None:
    assert [m.text for m in missing_slips(BOILER, "commissioning", ())] == [
        "air inlet at high rate",
        "flue at high rate",
        "flue at low rate",
    ]
    assert [(m.point, m.rate) for m in missing_slips(BOILER, "breakdown", ())] == [("flue", "max")]
    assert len(missing_slips(BOILER, None, ())) == 3
    assert missing_slips(FIRE, None, ()) == ()


def test_a_check_of_another_kind_is_refused() -> None:
    work = replace(WORK, checks=(CheckAnswer("gas_tight", "yes"), CheckAnswer("spillage", "yes")))
    assert blocks(work) == [("checks[1].key", "spillage")]


def test_a_step_gone_past_is_one_of_the_procedure() -> None:
    found = procedure_for(load_procedures(), "room-sealed", "gas")
    known, unknown = Override("integrity", "Because."), Override("integritty", "Because.")
    assert override_faults((known,), found) == []
    (fault,) = override_faults((known, unknown), found)
    assert (fault.where, fault.value) == ("overrides[1].step", "integritty")
    assert "“integrity”" in fault.accepted
    assert override_faults((unknown,), None) == []
    # What holds one up is the step before a remedy.
    (remedy,) = override_faults((Override("leak", "Because."),), found)
    assert remedy.value == "leak"
    assert "“leak”" not in remedy.accepted
