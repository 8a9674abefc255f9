"""The document of one work by its stages: what each stage holds, what is left when some of them change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from flueleaf.desktop.visit.close_up_part import CloseUpPart
from flueleaf.desktop.visit.combustion_part import CombustionPart
from flueleaf.desktop.visit.form import digits
from flueleaf.desktop.visit.outcome_part import OutcomePart
from flueleaf.desktop.visit.slip_column import typed_slip
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.supply_part import SupplyPart
from flueleaf.domain.judging.kind import Kind, Stage
from flueleaf.domain.records.visits import Purpose

PARTS: Mapping[str, type[StagePart]] = {
    "gas supply": SupplyPart,
    "combustion": CombustionPart,
    "close-up": CloseUpPart,
    "sign-off": OutcomePart,
}
OF_EVERY_WORK = ("appliance", "instrument", "checks")
OF_ANSWER = ("key", "answer", "note", "as_on")


def part_class(stage: Stage) -> type[StagePart]:
    """Return the section of a stage."""
    return PARTS.get(stage.key, StagePart)


def held(stages: Sequence[Stage], kind: Kind, purpose: Purpose, work: Mapping[str, Any]) -> dict[str, Any]:
    """Return what some stages would read, once they are made and filled with a work's document."""
    keys = [key for stage in stages for key in part_class(stage).KEYS]
    piece = {key: digits(work[key]) for key in keys if work.get(key)}
    if "slips" in piece:
        slips = [typed_slip(slip) for slip in piece["slips"]]
        piece["slips"] = [slip.document() for slip in slips if slip.texts]
    given = {str(answer["key"]): answer for answer in work.get("checks", ())}
    asked = [check.key for stage in stages for check in kind.checks_for(purpose, stage.key)]
    answers = [given[key] for key in asked if key in given]
    told = [{key: one[key] for key in OF_ANSWER if one.get(key)} for one in answers]
    piece["checks"] = [one for one in told if len(one) > 1]  # more than its key
    return {key: value for key, value in piece.items() if value}


def carried(
    work: Mapping[str, Any],
    read: Mapping[str, Any],
    stages: Sequence[Stage],
    asked: Sequence[str],
) -> dict[str, Any]:
    """Return a work's document for other stages: what is typed, and what no stage shown has a field for.

    Args:
        work: as it was filled in.
        read: as it is typed now; what is missing there was taken out.
        stages: that are shown now.
        asked: keys of the checks that are shown now.
    """
    shown = {*OF_EVERY_WORK, *(key for stage in stages for key in part_class(stage).KEYS)}
    kept = {key: value for key, value in work.items() if key not in shown}
    checks = [answer for answer in work.get("checks", ()) if answer["key"] not in asked]
    checks += read.get("checks", ())
    return {**kept, **read, **({"checks": checks} if checks else {})}
