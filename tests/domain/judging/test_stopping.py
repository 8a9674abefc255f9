from __future__ import annotations

from dataclasses import replace

import pytest
from tests.domain.judging.bench import BOILER, FIRE, RULES, air_inlet, flue

from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.judging.procedure import sign_off_blocks
from flueleaf.domain.judging.stopping import answer_faults, stopped_by
from flueleaf.domain.records.register import Appliance, Flue
from flueleaf.domain.records.visits import Answer, CheckAnswer, Outcome, Override, Work
from flueleaf.storage.tables.fuels import load_fuels
from flueleaf.storage.tables.kinds import load_kinds

OIL = load_kinds()["oil boiler"]


def work(kind: Kind, *checks: CheckAnswer, flue: Flue = "open", outcome: Outcome = "left in use") -> Work:
    return Work(Appliance(kind.name, flue=flue), checks=checks, outcome=outcome)


def faults(of: Work, kind: Kind) -> list[tuple[str, str]]:
    return [(fault.where, fault.value) for fault in answer_faults(of, kind, "service")]


@pytest.mark.parametrize("key", ["spillage", "flue_flow", "gas_tight", "no_symptoms"])
def test_a_no_that_stops_is_not_left_in_use(key: str) -> None:
    failed = work(FIRE, CheckAnswer("ventilation", "yes"), CheckAnswer(key, "no"))
    (fault,) = answer_faults(failed, FIRE, "service")
    assert (fault.where, fault.value) == ("outcome", "left in use")
    question = next(check.question for check in FIRE.checks if check.key == key)
    assert question in fault.accepted
    for answer in ("yes", "not applicable"):
        fine: Answer = answer  # type: ignore[assignment]
        assert faults(replace(failed, checks=(CheckAnswer(key, fine),)), FIRE) == []


def test_left_in_use_with_notes_after_a_stop_owes_the_note() -> None:
    failed = work(FIRE, CheckAnswer("ventilation", "yes"), CheckAnswer("spillage", "no"))
    failed = replace(failed, outcome="left in use with notes")
    assert faults(failed, FIRE) == [("checks[1].note", "")]
    noted = replace(failed, checks=(CheckAnswer("spillage", "no", "tried again on the 27th, see there"),))
    assert faults(noted, FIRE) == []
    gone_past = replace(failed, overrides=(Override("spillage", "fan taken out of use"),))
    assert faults(gone_past, FIRE) == []
    assert faults(replace(failed, overrides=(Override("spillage", " "),)), FIRE) != []


@pytest.mark.parametrize("outcome", ["made safe", "isolated", "not accessed"])
def test_what_is_turned_off_is_never_held_up(outcome: Outcome) -> None:
    checks = (CheckAnswer("spillage", "no"), CheckAnswer("combustion_performance", "yes"))
    assert faults(work(FIRE, *checks, outcome=outcome), FIRE) == []


def test_an_ordinary_no_stops_nothing() -> None:
    for kind in load_kinds().values():
        stopping = {check.key for check in kind.checks if check.stops}
        assert stopping <= {"spillage", "flue_flow", "gas_tight", "no_symptoms"}
        ordinary = [CheckAnswer(c.key, "no") for c in kind.checks if not c.stops]
        assert faults(work(kind, *ordinary, flue=kind.flues[0]), kind) == []


def test_spillage_is_no_matter_of_a_room_sealed_appliance() -> None:
    assert stopped_by(FIRE, {"spillage": "no"}, "room-sealed") == ()
    assert [check.key for check in stopped_by(FIRE, {"spillage": "no"}, None)] == ["spillage"]
    assert faults(work(FIRE, CheckAnswer("spillage", "no"), flue="room-sealed"), FIRE) == []


@pytest.mark.parametrize(
    ("first", "note", "own_note", "owed"),
    [
        (None, "", "", True),
        ("no", "", "", True),
        ("not applicable", "", "", True),
        ("yes", "", "", False),
        (None, "", "no test point, meter shared", False),
        ("no", "no test point, meter shared", "", False),
    ],
)
def test_combustion_performance_instead_owes_the_reason(
    first: Answer | None, note: str, own_note: str, owed: bool
) -> None:
    checks = [CheckAnswer("combustion_performance", "yes", own_note)]
    if first is not None:
        checks.append(CheckAnswer("pressure_or_input", first, note))
    found = faults(work(BOILER, *checks, flue="room-sealed"), BOILER)
    assert found == ([("checks[0].note", "")] if owed else [])
    for answer in ("no", "not applicable"):
        other: Answer = answer  # type: ignore[assignment]
        checks[0] = CheckAnswer("combustion_performance", other)
        assert faults(work(BOILER, *checks, flue="room-sealed"), BOILER) == []


def test_oil_owes_no_reason_of_gas_law() -> None:
    assert faults(work(OIL, CheckAnswer("functions", "yes")), OIL) == []


def test_the_sign_off_is_held_up_by_it() -> None:
    done = Work(
        Appliance("condensing boiler"),
        slips=(air_inlet(), flue(), flue("min")),
        checks=(CheckAnswer("gas_tight", "no"),),
        close_up={"air inlet": True, "flue": True},
    )
    assert [fault.where for fault in sign_off_blocks(done, BOILER, "service", "within")] == ["outcome"]
    first, second = sign_off_blocks(done, BOILER, "service", "unjudged")
    assert "tightness" in first.accepted
    assert "unjudged" in second.accepted


def test_the_next_step_says_so_first() -> None:
    case = Case(None, load_fuels()["natural gas"], FIRE, flue="open", purpose="service")
    assert assess(case, RULES).next_steps == ()
    found = assess(replace(case, answers={"spillage": "no", "ventilation": "no"}), RULES).next_steps
    assert "warm spillage test" in found[0]
    assert "appliance off" in found[0]
    assert "outrank any reading" in found[1]
    assert found[-1].startswith("The maker’s instructions")
