"""One reading against one limit: beyond it, too close to tell, clear of it, or not to be judged."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.judging.assessment import Exact, Judged, Verdict, worst
from flueleaf.domain.judging.limits import AppliedLimit
from flueleaf.domain.judging.readings import Reading, Readings
from flueleaf.domain.judging.uncertainty import (
    chance_beyond,
    difference,
    is_near,
    rectangular,
    standard_uncertainty,
)
from flueleaf.domain.records.register import FLAME_POINTS
from flueleaf.domain.words import said

# What a flue slip must tell before anything of it is good.
WANTED_AT_FLUE = ("co_ppm", "ratio")
NO_READING = "no reading"
NO_LIMIT = said("no limit is known")
RATIO_DECIMALS = 4


def judge_slip(readings: Readings, limits: Iterable[AppliedLimit]) -> tuple[Judged, ...]:
    """Judge every limited quantity of a slip; one without a reading is unjudged.

    At the flue CO and the ratio are always listed where a reading or every limit is wanting; at another flame
    a ratio without a limit is listed as such.
    """
    applied = tuple(limits)
    found = [judged for limit in applied for judged in _judge(readings, limit)]
    if readings.slip.point == "flue":
        # A limit on one of the two lets the other go without a limit, but never without a reading.
        limited = {limit.quantity for limit in applied if limit.quantity in WANTED_AT_FLUE}
        for key in WANTED_AT_FLUE:
            if key not in limited and not (limited and readings.of(key)):
                found.extend(_unlimited(readings, key))
    elif readings.slip.point in FLAME_POINTS and readings.ratios and not applied:
        found.extend(_unlimited(readings, "ratio"))
    return tuple(found)


def slip_verdict(judged: Iterable[Judged]) -> Verdict:
    """Return the worst verdict of a slip; where nothing is judged, ``unjudged``."""
    return worst(one.verdict for one in judged)


def _judge(readings: Readings, limit: AppliedLimit) -> list[Judged]:
    found = readings.of(limit.quantity)
    if not found:
        return [_against(limit, None)]
    return [_against(limit, reading) for reading in found]


def _against(limit: AppliedLimit, reading: Reading | None) -> Judged:
    """Return the verdict on a reading; at the limit is not over."""
    if reading is None:
        return _judged(limit, None, "unjudged", why=NO_READING)
    margin = _margin(limit, reading.value)
    # A limit read by the display alone has its resolution for a half-width: the digits typed add nothing.
    variance = reading.variance if limit.half_width is None else rectangular(limit.half_width)
    verdict: Verdict = "within"
    if margin < 0:
        verdict = "over"
    elif is_near(margin, variance):
        verdict = "near"
    return _judged(limit, reading, verdict, margin=margin, variance=variance)


def _margin(limit: AppliedLimit, value: Exact) -> Exact:
    if limit.sense == "at most":
        return difference(limit.limit, value)
    return difference(value, limit.limit)


def _judged(
    limit: AppliedLimit,
    reading: Reading | None,
    verdict: Verdict,
    *,
    margin: Exact | None = None,
    variance: Fraction | None = None,
    why: str = "",
) -> Judged:
    tolerance = reading.tolerance if reading else ""
    digit = reading.digit if reading else None
    if reading and limit.half_width is not None:
        tolerance = said("display resolution: ±{half_width}", half_width=limit.half_width)
        digit = None
    spread = None if variance is None else standard_uncertainty(variance)
    return Judged(
        quantity=limit.quantity,
        value=reading.value if reading else None,
        limit=limit.limit,
        sense=limit.sense,
        source=limit.source,
        verdict=verdict,
        basis=reading.basis if reading else "measured",
        margin=margin,
        standard_uncertainty=spread,
        chance_beyond=None if margin is None or spread is None else chance_beyond(margin, spread),
        tolerance=tolerance,
        resolution=digit,
        source_text=limit.source_text,
        table=limit.table,
        edition=limit.edition,
        clause=limit.clause,
        status=limit.status,
        why=why,
        also=limit.also,
    )


def _unlimited(readings: Readings, quantity: str) -> list[Judged]:
    """Return a quantity that no limit applies to."""
    found: list[Reading | None] = [*readings.of(quantity)] or [None]
    return [
        Judged(
            quantity=quantity,
            value=reading.value if reading else None,
            limit=None,
            sense="at most",
            source="none",
            verdict="unjudged",
            basis=reading.basis if reading else "measured",
            standard_uncertainty=standard_uncertainty(reading.variance) if reading else None,
            tolerance=reading.tolerance if reading else "",
            resolution=reading.digit if reading else None,
            why=NO_LIMIT if reading else NO_READING,
        )
        for reading in found
    ]


def ratio_text(ratio: Exact, judged: Iterable[Judged]) -> str:
    """Return a ratio with at least four decimals, and as many more as keep it on its side of each limit.

    A ratio beyond its limit never reads as the limit, nor does one at it read as beyond.
    """
    limits = [one.limit for one in judged if one.quantity == "ratio" and one.limit is not None]
    decimals = RATIO_DECIMALS
    digits = _digits(ratio, decimals)
    while any(_side(Fraction(digits, 10**decimals), limit) != _side(ratio, limit) for limit in limits):
        decimals += 1
        digits = _digits(ratio, decimals)
    return f"{digits // 10**decimals}.{digits % 10**decimals:0{decimals}d}"


def _side(value: Exact, limit: Decimal) -> bool:
    """Tell whether a value is beyond a limit, by whole numbers."""
    (above, below), (limit_above, limit_below) = value.as_integer_ratio(), limit.as_integer_ratio()
    return above * limit_below > limit_above * below


def _digits(value: Exact, decimals: int) -> int:
    """Return a value of 0 or more in units of its last decimal, a half told as the higher."""
    above, below = value.as_integer_ratio()
    scale: int = 10**decimals
    digits, left = divmod(above * scale, below)
    return digits + 1 if 2 * left >= below else digits
