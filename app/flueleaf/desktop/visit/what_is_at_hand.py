"""Gathers what the margin shows from the judgement and the field in focus."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from flueleaf.desktop.visit import walking
from flueleaf.desktop.visit.at_hand import graphs, last_time
from flueleaf.desktop.visit.flame_at_hand import flame_figures
from flueleaf.desktop.visit.slip_column import SlipColumn, Spot
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.steps_at_hand import Steps, forked, steps
from flueleaf.desktop.visit.visit_margin import MarginFacts
from flueleaf.desktop.visit.work_panel import WorkPanel
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import Assessment, SlipAssessment
from flueleaf.operations.drafting import Judgement, Past
from flueleaf.operations.drifts import drifts_with, told
from flueleaf.operations.facts import wording
from flueleaf.operations.facts.guidance import guidance

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf

MOST_NOTES = 6


def margin_facts(leaf: TypedVisitLeaf, judgement: Judgement, past: Past) -> MarginFacts:
    """Return what the margin shows now."""
    focused = QApplication.focusWidget()
    field = walking.field_of(focused)
    for n, (work, assessment) in enumerate(zip(leaf.works, judgement.assessments, strict=False)):
        column = work.combustion.slips.column_of(field) if work.combustion is not None else None
        if column is not None:
            key = next((key for key, one in column.fields.items() if one is field), "")
            earlier = past.visits[n] if n < len(past.visits) else ()
            slip = next(
                (s for s in assessment.slips if Spot(s.point, s.rate, s.attempt) == column.spot), None
            )
            return MarginFacts(
                title=column.spot.words,
                graphs=graphs(slip, key) if slip is not None else (),
                flame=flame_figures(slip) if slip is not None else (),
                verdicts=() if slip is not None else ((_("no reading typed yet"), "unjudged"),),
                last=last_time(column.spot, earlier),
                steps=_steps(work, assessment) if forked(assessment.walk) else Steps(),
                notes=_slip_notes(
                    work,
                    column,
                    assessment,
                    [*drift_notes(judgement, past, n, column), *guidance_notes(judgement, past, slip)],
                ),
                left=leaf.left,
            )
    part = walking.part_of(leaf.parts, focused)
    stage = part.stage if isinstance(part, StagePart) else None
    at = next((n for n, work in enumerate(leaf.works) if part in work.parts), None)
    steps_here = Steps()
    if at is not None and at < len(judgement.assessments):
        steps_here = _steps(leaf.works[at], judgement.assessments[at])
    names = [work.name for work in leaf.works]
    shown = [
        (name, one.verdict) for name, one in zip(names, judgement.assessments, strict=False) if one.slips
    ]
    steps = [step for one in judgement.assessments for step in one.next_steps if one.slips]
    notes = [_(stage.caution)] if stage is not None and stage.caution else []
    notes += [told for step in dict.fromkeys(steps) if (told := _(step)) != steps_here.does]
    return MarginFacts(
        title=_("so far") if shown else "",
        steps=steps_here,
        verdicts=shown,
        notes=notes[:MOST_NOTES],
        left=leaf.left,
    )


def guidance_notes(judgement: Judgement, past: Past, slip: SlipAssessment | None) -> list[str]:
    """Return what guidelines say for information at the point of a slip that tells CO."""
    if slip is None or "co_ppm" not in slip.values:
        return []
    return [_(text) for text in guidance(past.tables, slip.point, judgement.visit.date)]


def drift_notes(judgement: Judgement, past: Past, number: int, column: SlipColumn) -> list[str]:
    """Return each drift that can be claimed with the reading typed now, at the rate of the slip in focus.

    Args:
        judgement: of the visit as typed.
        past: what the book knows of its appliances.
        number: which appliance, from 0.
        column: the slip.
    """
    visit = judgement.visit
    if column.spot.point != "flue" or number >= len(past.taken) or number >= len(visit.works):
        return []
    found = drifts_with(past.taken[number], visit, visit.works[number], judgement.assessments[number])
    return [
        _("{quantity}: {drift}", quantity=_(wording.label(row.quantity)), drift=_(told(row, visit.date)))
        for row in found
        if row.rate == column.spot.rate and row.drift.significant
    ]


def _steps(work: WorkPanel, assessment: Assessment) -> Steps:
    return steps(assessment.walk, told_outcome=work.told_outcome)


def _slip_notes(
    work: WorkPanel, column: SlipColumn, assessment: Assessment, beside: Sequence[str]
) -> Sequence[str]:
    """Return the doubts about a slip, what stands beside it, then what its procedure says."""
    doubts = [
        _("{doubt} You checked it: it stands.", doubt=_(doubt.text)) if doubt.confirmed else _(doubt.text)
        for doubt in assessment.doubts
        if doubt.point is None or Spot(doubt.point, doubt.rate or "max", doubt.attempt or 1) == column.spot
    ]
    combustion = work.combustion
    assert combustion is not None
    wanted = next(
        (w for w in combustion.kind.wanted if (w.point, w.rate) == (column.spot.point, column.spot.rate)),
        None,
    )
    care = [" ".join(_(line) for line in wanted.lines), _(wanted.caution)] if wanted is not None else []
    return [text for text in (*doubts, *beside, *care) if text][:MOST_NOTES]
