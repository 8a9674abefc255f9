"""How a quantity moves over the years: ``trend``, and the drift of an appliance's readings."""

from __future__ import annotations

import datetime as dt
import math
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from flueleaf.domain.judging.drift import Crossing, Drift, crossing, drift_of
from flueleaf.domain.quantities import MINUS
from flueleaf.domain.schedule.due import month_in_words
from flueleaf.domain.words import Sentence, said
from flueleaf.operations.intake.trend import read_readings

FAR_YEARS = 40  # longer than an appliance is kept; common practice. A date beyond it would say nothing.
SLOPE_DIGITS = 2  # of a speed in a sentence; its interval is seldom known better
NO_CROSSING = Crossing()


def trend_document(text: str, *, name: str, limit: Decimal | None) -> dict[str, Any]:
    """Return the result of ``flueleaf trend``.

    Args:
        text: the CSV file.
        name: what to call it in a message.
        limit: in the unit of the values; None asks for no crossing.

    Raises:
        Refused: the file is not accepted.
    """
    drift = drift_of(read_readings(text, name=name))
    reached = crossing(drift, limit) if limit is not None else Crossing()
    return {
        "n": drift.n,
        "slope_per_year": drift.slope_per_year,
        "slope_low": drift.slope_low,
        "slope_high": drift.slope_high,
        "significant": drift.significant,
        "reaches_limit_on": reached.on,
        "earliest": reached.earliest,
        "latest": reached.latest,
        "tau": drift.tau,
        "p_value": drift.p_value,
        "p_corrected": drift.p_corrected,
        "borderline": drift.borderline,
        "method": drift.method,
        "text": drift_text(drift, "", reached, limit),
    }


def drift_text(
    drift: Drift,
    unit: str,
    reached: Crossing = NO_CROSSING,
    limit: Decimal | None = None,
    *,
    upwards_only: bool = False,
    today: dt.date | None = None,
) -> str:
    """Return a drift in a sentence, or that none can be claimed, which is not that there is none.

    Args:
        drift: the drift.
        unit: of the quantity, "" for a pure number.
        reached: when it reaches the limit.
        limit: the limit, None where there is none.
        upwards_only: whether only values above the limit are beyond it, so that a falling line nears nothing.
        today: the day from which a crossing lies ahead or behind; None: the day of the last reading.
    """
    if not drift.significant:
        if drift.n == 1:
            return said("no drift can be claimed from 1 reading")
        return said("no drift can be claimed from {n} readings", n=drift.n)
    if not drift.slope_per_year:
        return said(
            "the {n} readings move one way, by less than their digits can say a year; no date follows",
            n=drift.n,
        )
    told = _speed(drift, unit)
    if limit is not None and not (upwards_only and drift.slope_per_year < 0):
        told = _with_limit(told, drift, reached, limit=_with_unit(f"{limit:f}", unit), today=today)
    if drift.borderline:
        told = said("{drift}; only just to be told from chance", drift=told)
    return told


def _speed(drift: Drift, unit: str) -> Sentence:
    slope = drift.slope_per_year or 0.0
    ends = (drift.slope_low, drift.slope_high)
    decimals = _decimals(slope)
    each = f"{'+' if slope > 0 else ''}{_figure(slope, decimals)}"
    if ends[0] is None or ends[1] is None:
        return said("drift: {slope} a year", slope=_with_unit(each, unit))
    return said(
        "drift: {slope} a year ({low} to {high})",
        slope=_with_unit(each, unit),
        low=_figure(ends[0], decimals),
        high=_figure(ends[1], decimals),
    )


def _with_limit(
    told: Sentence, drift: Drift, reached: Crossing, *, limit: str, today: dt.date | None
) -> Sentence:
    if reached.on is None:
        return told
    month = month_in_words(reached.on)
    when = _span(reached)
    now = today or drift.last or reached.on
    if reached.on <= now:
        return said(
            "{drift}; by this line {limit} was reached about {month} ({when})",
            drift=told,
            limit=limit,
            month=month,
            when=when,
        )
    if reached.on.year > now.year + FAR_YEARS:
        return said(
            "{drift}; by this line {limit} lies more than {years} years ahead ({when})",
            drift=told,
            limit=limit,
            years=FAR_YEARS,
            when=when,
        )
    return said(
        "{drift}, reaches {limit} about {month} ({when})", drift=told, limit=limit, month=month, when=when
    )


def _span(reached: Crossing) -> str:
    """Return the years a crossing may lie in."""
    first, last = reached.earliest, reached.latest
    if first is None:
        return said("neither end can be told") if last is None else said("{year} or earlier", year=last.year)
    if last is None:
        return said("{year} or later, if at all", year=first.year)
    if first.year == last.year:
        return str(first.year)
    return said("{first} to {last}", first=first.year, last=last.year)


def _decimals(slope: float) -> int:
    """Return the decimals that leave a speed two digits, none below 0."""
    return max(0, SLOPE_DIGITS - 1 - math.floor(math.log10(abs(slope))))


def _figure(value: float, decimals: int) -> str:
    shown = Decimal(repr(value)).quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)
    return f"{shown if shown else abs(shown):f}".replace("-", MINUS)


def _with_unit(text: str, unit: str) -> str:
    return f"{text} {unit}".strip()
