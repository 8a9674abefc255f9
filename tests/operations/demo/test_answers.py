from __future__ import annotations

import pytest

from flueleaf.operations.demo.answers import check_answers
from flueleaf.operations.demo.planning import PlannedWork
from flueleaf.operations.tables import shipped

REPAIR = {"fault": "No ignition"}


def _by_key(scenario, fitted, course, purpose, cause=""):
    work = PlannedWork(fitted, course, cause)
    kind = shipped().kinds[fitted.model.kind]
    return {a["key"]: a for a in check_answers(scenario, kind, purpose, work, REPAIR)}


def _first(scenario, **wanted):
    fitted = [one for place in scenario.places for one in place.fitted]
    return next(f for f in fitted if all(getattr(f.model, key) == value for key, value in wanted.items()))


def test_every_check_of_the_procedure_is_answered(scenario) -> None:
    boiler = _first(scenario, kind="condensing boiler")
    kind = shipped().kinds["condensing boiler"]
    for purpose in ("commissioning", "service", "landlord check", "breakdown"):
        answers = _by_key(scenario, boiler, "steady", purpose)
        assert list(answers) == [check.key for check in kind.checks_for(purpose, flue="room-sealed")]
        assert {answer["answer"] for answer in answers.values()} <= {"yes", "not applicable"}


def test_spillage_is_no_question_of_a_room_sealed_appliance(scenario) -> None:
    heater, fire = _first(scenario, kind="water heater"), _first(scenario, kind="gas fire")
    assert _by_key(scenario, heater, "steady", "service").get("spillage") is None
    assert _by_key(scenario, fire, "steady", "service")["spillage"]["answer"] == "yes"


def test_lpg_has_no_meter_to_time(scenario) -> None:
    lpg = _first(scenario, fuel="propane")
    assert _by_key(scenario, lpg, "steady", "service")["gas_rate"]["answer"] == "not applicable"


def test_every_cause_answers_a_check_of_its_kind_with_no(scenario) -> None:
    for place in scenario.places:
        for fitted in place.fitted:
            for cause in (fitted.made_safe or {}).values():
                answers = _by_key(scenario, fitted, "made safe", "landlord check", cause)
                failed = {key for key, answer in answers.items() if answer["answer"] == "no"}
                assert failed
                assert failed <= set(scenario.defects[cause]["checks"])


@pytest.mark.parametrize(
    ("course", "purpose", "key", "cause", "note"),
    [
        ("mended", "breakdown", "fault_cured", "", "No ignition"),
        ("repaired", "breakdown", "fault_cured", "flue-joint", "Flue joint remade"),
        ("corrected", "service", "functions", "", "First attempt over the limit"),
    ],
)
def test_what_happened_is_noted(scenario, course, purpose, key, cause, note) -> None:
    answers = _by_key(scenario, _first(scenario, kind="condensing boiler"), course, purpose, cause)
    assert answers[key]["note"].startswith(note)
