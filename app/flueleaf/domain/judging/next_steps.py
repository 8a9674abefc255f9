"""What to do next, in short sentences; the maker, the standard and the registered engineer decide."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from flueleaf.domain.judging import texts
from flueleaf.domain.judging.assessment import Doubt, Judged, Missing, SlipAssessment
from flueleaf.domain.judging.doubts import SERIOUS
from flueleaf.domain.judging.kind import Check
from flueleaf.domain.judging.walk import Walk
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import FLAME_POINTS, Point
from flueleaf.domain.words import said

# What burns badly when beyond its limit; the other limits at the flue are windows of the maker's setting.
OF_COMBUSTION = ("co_ppm", "ratio", "smoke")


def next_steps(
    slips: Sequence[SlipAssessment],
    doubts: Iterable[Doubt],
    missing: Iterable[Missing],
    way: Walk | None = None,
    *,
    stops: Iterable[Check] = (),
) -> tuple[str, ...]:
    """Return the steps that answers, slips, doubts, gaps and the procedure call for, most urgent first.

    Nothing to do gives nothing; otherwise the last step says who decides.

    Args:
        slips: those that decide.
        doubts: of the appliance and of every deciding slip.
        missing: what is still wanted.
        way: the way through the procedure, None where it is not known which.
        stops: checks whose "no" stops the work.
    """
    stops = tuple(stops)
    steps: list[str] = [said(texts.STOPPED, question=check.question) for check in stops]
    if steps:
        steps.append(texts.SYMPTOMS)
    for slip in slips:
        steps += _over(slip)
    if any(judged.verdict == "over" for slip in slips for judged in slip.judged):
        steps += [texts.STILL_OVER, texts.SYMPTOMS]
    known = tuple(doubts)
    if any(doubt.code in SERIOUS and not doubt.confirmed for doubt in known):
        steps.append(texts.DOUBTED)
    for slip in slips:
        # The baseline asks for nothing where there is a slip that it is held against.
        steps += [] if slip.baseline and len(slips) > 1 else _open(slip)
    steps += _out_of_order(way) if way else []
    # What stops everything says so above.
    steps += _fork(way) if way and not stops else []
    steps += [said(texts.WANTED, text=entry.text) for entry in missing]
    if any(doubt.code == "calibration-expired" for doubt in known):
        steps.append(texts.CALIBRATION)
    return (*dict.fromkeys(steps), texts.DEFERENCE) if steps else ()


def _out_of_order(way: Walk) -> list[str]:
    """Return what the order of the procedure asks for."""
    steps: list[str] = [texts.BEYOND] if way.beyond and way.stopped in ("over", "no") else []
    for point, rate in way.stale:
        steps.append(
            said(texts.BEFORE_ADJUSTMENT, point=said("the {point}", point=point), rate=texts.RATE_WORDS[rate])
        )
    return steps


def _fork(way: Walk) -> list[str]:
    """Return what a check that failed or an open test point leads to; a slip has its own steps."""
    return [way.here.does] if way.here is not None and way.stopped in ("no", "open point") else []


def _over(slip: SlipAssessment) -> list[str]:
    over = [judged for judged in slip.judged if judged.verdict == "over"]
    if not over:
        return []
    if slip.point == "air inlet":
        return [texts.INTEGRITY_OVER]
    rate = texts.RATE_WORDS[slip.rate]
    steps: list[str] = []
    if any(judged.quantity in OF_COMBUSTION for judged in over):
        steps.append(said(texts.COMBUSTION_OVER, rate=rate))
    steps += [
        said(texts.WINDOW_OVER, label=_label(judged), rate=rate)
        for judged in over
        if judged.quantity not in OF_COMBUSTION
    ]
    return steps


def _open(slip: SlipAssessment) -> list[str]:
    """Return the steps for what is near or unjudged, beyond what a doubt already asks for."""
    unlimited = all(judged.limit is None for judged in slip.judged)
    if not unlimited and all(judged.verdict != "near" and judged.value is not None for judged in slip.judged):
        return []
    place = {"point": said("the {point}", point=slip.point), "rate": texts.RATE_WORDS[slip.rate]}
    if unlimited:
        return [said(_no_limit(slip.point), **place)]
    steps: list[str] = []
    for judged in slip.judged:
        if judged.verdict == "near":
            steps.append(said(texts.NEAR, label=_label(judged), **place))
        elif judged.value is None:
            steps.append(said(texts.NO_READING, label=_label(judged), **place))
    return steps


def _no_limit(point: Point) -> str:
    if point == "flue":
        return texts.NO_LIMIT
    if point == "outdoors":
        return texts.BASELINE
    # Every kind has a place for the limit at its flames and in its room, which the owner may fill.
    return texts.NO_LIMIT_YET if point in (*FLAME_POINTS, "room") else texts.NO_LIMIT_ELSEWHERE


def _label(judged: Judged) -> str:
    return QUANTITIES[judged.quantity].label
