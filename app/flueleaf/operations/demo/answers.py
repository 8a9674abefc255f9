"""The answers to the checks of an appliance's procedure, and the notes that a story's event leaves there."""

from __future__ import annotations

from collections.abc import Mapping

from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.records.visits import Purpose
from flueleaf.operations.demo.planning import PlannedWork
from flueleaf.operations.demo.scenario import Fitted, Json, Scenario

# Keys of the shipped kind tables that cannot be answered "yes" for every appliance.
_METER_ONLY = ("gas_rate",)
_MEASURED_ONLY = ("readings_settled",)
_INSTEAD = ("combustion_performance",)  # wanted only where pressure and heat input could not be had


def check_answers(
    scenario: Scenario,
    kind: Kind,
    purpose: Purpose,
    work: PlannedWork,
    repair: Json,
    *,
    measured: bool = True,
) -> list[Json]:
    """Answer every check of the kind for a purpose and the appliance's flue.

    Args:
        scenario: with the notes of corrections and defects.
        kind: of the appliance; purpose: of the visit.
        work: the appliance and how it went.
        repair: what a breakdown took.
        measured: whether any slip was printed.
    """
    failed = tuple(scenario.defects[work.cause]["checks"]) if work.course == "made safe" else ()
    notes = _notes(scenario, work, repair)
    answers: list[Json] = []
    for check in kind.checks_for(purpose, flue=work.fitted.model.flue):
        answer: Json = {
            "key": check.key,
            "answer": _answer(check.key, work.fitted, failed, measured=measured),
        }
        if check.key in notes:
            answer["note"] = notes[check.key]
        answers.append(answer)
    return answers


def _answer(key: str, fitted: Fitted, failed: tuple[str, ...], *, measured: bool) -> str:
    if key in failed or (key == "rates_forced" and fitted.no_minimum):
        return "no"
    unmetered = key in _METER_ONLY and fitted.model.fuel == "propane"
    unasked = unmetered or key in _INSTEAD or (key in _MEASURED_ONLY and not measured)
    return "not applicable" if unasked else "yes"


def _notes(scenario: Scenario, work: PlannedWork, repair: Json) -> Mapping[str, str]:
    notes = {"pressure_or_input": "Working pressure read at the appliance"}
    if work.fitted.no_minimum:
        notes["rates_forced"] = "Minimum rate could not be held"
    if work.course == "corrected":
        notes["functions"] = scenario.correction["note"]
    if work.course == "mended":
        notes["fault_cured"] = repair["fault"]
    if work.course == "repaired":
        notes["fault_cured"] = scenario.defects[work.cause]["repair"]
    return notes
