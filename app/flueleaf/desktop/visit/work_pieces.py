"""The document of one work by its stages: what each stage holds, what is left when some of them change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from flueleaf.desktop.visit.close_up_part import CloseUpPart
from flueleaf.desktop.visit.combustion_part import CombustionPart
from flueleaf.desktop.visit.form import digits
from flueleaf.desktop.visit.outcome_part import OutcomePart
from flueleaf.desktop.visit.slip_column import typed_slip
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.supply_part import SupplyPart
from flueleaf.domain.judging.kind import Kind, Stage
from flueleaf.domain.records.register import Flue
from flueleaf.domain.records.visits import Purpose

PARTS: Mapping[str, type[StagePart]] = {
    "gas supply": SupplyPart,
    "combustion": CombustionPart,
    "close-up": CloseUpPart,
    "sign-off": OutcomePart,
}
OF_EVERY_WORK = ("appliance", "instrument", "checks", "notes")
OF_ANSWER = ("key", "answer", "note", "as_on")


def part_class(stage: Stage) -> type[StagePart]:
    """Return the section of a stage."""
    return PARTS.get(stage.key, StagePart)


@dataclass(frozen=True, slots=True)
class Asking:
    """What picks the questions of a work: kind, purpose and flue, None where that is not known."""

    kind: Kind
    purpose: Purpose
    flue: Flue | None = None

    def checks(self, stages: Sequence[Stage]) -> list[str]:
        """Return the keys of the checks that some stages ask."""
        return [
            check.key for one in stages for check in self.kind.checks_for(self.purpose, one.key, self.flue)
        ]

    def notes(self, stages: Sequence[Stage]) -> list[str]:
        """Return the keys of what is written down at some stages."""
        return [note.key for one in stages for note in self.kind.notes_for(self.purpose, one.key, self.flue)]


def held(stages: Sequence[Stage], asking: Asking, work: Mapping[str, Any]) -> dict[str, Any]:
    """Return what some stages would read, once they are made and filled with a work's document."""
    keys = [key for stage in stages for key in part_class(stage).KEYS]
    piece = {key: digits(work[key]) for key in keys if work.get(key)}
    if "slips" in piece:
        slips = [typed_slip(slip) for slip in piece["slips"]]
        piece["slips"] = [slip.document() for slip in slips if slip.texts]
    given = {str(answer["key"]): answer for answer in work.get("checks", ())}
    answers = [given[key] for key in asking.checks(stages) if key in given]
    told = [{key: one[key] for key in OF_ANSWER if one.get(key)} for one in answers]
    piece["checks"] = [one for one in told if len(one) > 1]  # more than its key
    noted = {str(note["key"]): note for note in work.get("notes", ())}
    piece["notes"] = [dict(noted[key]) for key in asking.notes(stages) if key in noted]
    return {key: value for key, value in piece.items() if value}


def carried(
    work: Mapping[str, Any],
    read: Mapping[str, Any],
    stages: Sequence[Stage],
    asking: Asking,
) -> dict[str, Any]:
    """Return a work's document for other stages: what is typed, and what no stage shown has a field for.

    Args:
        work: as it was filled in.
        read: as it is typed now; what is missing there was taken out.
        stages: that are shown now.
        asking: what picked the questions that are shown now.
    """
    shown = {*OF_EVERY_WORK, *(key for stage in stages for key in part_class(stage).KEYS)}
    kept = {key: value for key, value in work.items() if key not in shown}
    both = {}
    for group, asked in (("checks", asking.checks(stages)), ("notes", asking.notes(stages))):
        entries = [one for one in work.get(group, ()) if one["key"] not in asked]
        both[group] = [*entries, *read.get(group, ())]
    return {**kept, **read, **{group: entries for group, entries in both.items() if entries}}
