"""An assessment in the shape of the headless contract."""

from __future__ import annotations

from dataclasses import fields
from fractions import Fraction
from operator import attrgetter
from typing import Any

from flueleaf.domain.combustion.slip_figures import SlipFigures
from flueleaf.domain.judging.assessment import (
    Assessment,
    Doubt,
    Exact,
    Judged,
    Missing,
    OtherLimit,
    SlipAssessment,
)
from flueleaf.domain.judging.doubts import contradicted
from flueleaf.domain.judging.steps import Step
from flueleaf.domain.judging.walk import Taken, Walk

# Names read once: ``dataclasses.asdict`` looks them up, and copies what it finds, every time.
_FIGURES = tuple(entry.name for entry in fields(SlipFigures))
_figures = attrgetter(*_FIGURES)
# What a slip gives as used, which need not be as typed.
_USED = ("o2_pct", "co2_pct", "ratio")


def assessment_json(assessment: Assessment) -> dict[str, Any]:
    """Return the JSON document of an assessment; numbers are unrounded.

    A slip in an unconfirmed serious doubt keeps its figures, since they follow from what was measured (the
    air factor from O2, the contract says), and has ``doubtful`` true: nobody may take them for good. The
    window and the record withhold them instead.
    """
    return {
        "verdict": assessment.verdict,
        "slips": [_slip(slip) for slip in assessment.slips],
        "doubts": [_doubt(doubt) for doubt in assessment.doubts],
        "next_steps": list(assessment.next_steps),
        "missing": [_missing(entry) for entry in assessment.missing],
        "tolerance": assessment.tolerance,
        "procedure": None if assessment.walk is None else _walk(assessment.walk),
    }


def number(value: Exact | None) -> int | float | None:
    """Return an exact number as JSON has it: the nearest double, an integer where none of it is lost."""
    if value is None:
        return None
    if isinstance(value, Fraction):
        above, below = value.as_integer_ratio()
        return above if below == 1 else above / below
    # The digits tell: 9.0 stays a number with a decimal, 9 does not get one.
    text = str(value)
    return float(text) if "." in text or "E-" in text else int(value)


def _slip(slip: SlipAssessment) -> dict[str, Any]:
    measured = {key: number(value) for key, value in slip.values.items() if key not in _USED}
    return {
        **measured,
        "point": slip.point,
        "rate": slip.rate,
        "attempt": slip.attempt,
        "decides": slip.decides,
        "verdict": slip.verdict,
        "doubtful": contradicted(slip.doubts),
        "ratio": number(slip.ratio),
        "ratio_text": slip.ratio_text or None,
        "co2_pct": number(slip.co2_pct),
        "o2_pct": number(slip.o2_pct),
        "derived": list(slip.derived),
        "air_humidity_pct": number(slip.air_humidity_pct),
        **dict(zip(_FIGURES, _figures(slip.figures), strict=True)),
        "judged": [_judged(judged) for judged in slip.judged],
        "doubts": [_doubt(doubt) for doubt in slip.doubts],
    }


def _judged(judged: Judged) -> dict[str, Any]:
    return {
        "quantity": judged.quantity,
        "value": number(judged.value),
        "limit": number(judged.limit),
        "sense": judged.sense,
        "source": judged.source,
        "verdict": judged.verdict,
        "margin": number(judged.margin),
        "standard_uncertainty": judged.standard_uncertainty,
        "resolution": number(judged.resolution),
        "chance_beyond": judged.chance_beyond,
        "basis": judged.basis,
        "tolerance": judged.tolerance,
        "source_text": judged.source_text,
        "table": judged.table,
        "edition": judged.edition,
        "clause": judged.clause,
        "status": judged.status,
        "why": judged.why,
        "also": _other(judged.also),
    }


def _other(limit: OtherLimit | None) -> dict[str, Any] | None:
    if limit is None:
        return None
    return {
        "limit": number(limit.limit),
        "source": limit.source,
        "source_text": limit.source_text,
        "status": limit.status,
    }


def _doubt(doubt: Doubt) -> dict[str, Any]:
    return {
        "code": doubt.code,
        "quantity": doubt.quantity,
        "text": doubt.text,
        "confirmed": doubt.confirmed,
        "point": doubt.point,
        "rate": doubt.rate,
        "attempt": doubt.attempt,
    }


def _missing(missing: Missing) -> dict[str, Any]:
    return {"point": missing.point, "rate": missing.rate, "text": missing.text}


def _walk(walk: Walk) -> dict[str, Any]:
    return {
        "taken": [_taken(taken) for taken in walk.taken],
        "here": None if walk.here is None else _step(walk.here),
        "stopped": walk.stopped,
        "ahead": [_step(step) for step in walk.ahead],
        "beyond": [{"point": at, "rate": rate, "attempt": attempt} for at, rate, attempt in walk.beyond],
        "stale": [{"point": point, "rate": rate} for point, rate in walk.stale],
        "ending": None if walk.ending is None else walk.ended_as,
        "then": "" if walk.ending is None else walk.ending.does,
    }


def _step(step: Step) -> dict[str, Any]:
    return {"step": step.key, "title": step.title, "does": step.does}


def _taken(taken: Taken) -> dict[str, Any]:
    return {
        "step": taken.step.key,
        "title": taken.step.title,
        "result": taken.result,
        "attempt": taken.attempt,
        "adjusted": taken.adjusted,
        "reason": taken.reason,
        "overridden": taken.overridden,
    }
