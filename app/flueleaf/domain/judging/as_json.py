"""An assessment in the shape of the headless contract."""

from __future__ import annotations

from dataclasses import fields
from fractions import Fraction
from typing import Any

from flueleaf.domain.combustion.slip_figures import SlipFigures
from flueleaf.domain.judging.assessment import Assessment, Doubt, Exact, Judged, Missing, SlipAssessment

# Names read once: ``dataclasses.asdict`` looks them up, and copies what it finds, every time.
_FIGURES = tuple(entry.name for entry in fields(SlipFigures))


def assessment_json(assessment: Assessment) -> dict[str, Any]:
    """Return the JSON document of an assessment; numbers are unrounded."""
    return {
        "verdict": assessment.verdict,
        "slips": [_slip(slip) for slip in assessment.slips],
        "doubts": [_doubt(doubt) for doubt in assessment.doubts],
        "next_steps": list(assessment.next_steps),
        "missing": [_missing(entry) for entry in assessment.missing],
        "tolerance": assessment.tolerance,
    }


def number(value: Exact | None) -> int | float | None:
    """Return an exact number as JSON has it: the nearest double, an integer where none of it is lost."""
    if value is None:
        return None
    if isinstance(value, Fraction):
        return int(value) if value.denominator == 1 else float(value)
    # The digits tell: 9.0 stays a number with a decimal, 9 does not get one.
    return float(value) if int(value.as_tuple().exponent) < 0 else int(value)


def _slip(slip: SlipAssessment) -> dict[str, Any]:
    measured = {key: number(value) for key, value in slip.values.items()}
    return {
        **measured,
        "point": slip.point,
        "rate": slip.rate,
        "attempt": slip.attempt,
        "decides": slip.decides,
        "verdict": slip.verdict,
        "ratio": number(slip.ratio),
        "ratio_text": slip.ratio_text or None,
        "co2_pct": number(slip.co2_pct),
        "o2_pct": number(slip.o2_pct),
        "derived": list(slip.derived),
        **{name: getattr(slip.figures, name) for name in _FIGURES},
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
        "chance_beyond": judged.chance_beyond,
        "basis": judged.basis,
        "tolerance": judged.tolerance,
        "source_text": judged.source_text,
        "table": judged.table,
        "edition": judged.edition,
        "clause": judged.clause,
        "status": judged.status,
        "why": judged.why,
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
