"""What a visit still lacks: wanted slips, close-up confirmations, and what stands in the way of sign-off.

Every text names what would be accepted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from flueleaf.domain.judging.assessment import Missing, Verdict
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.judging.steps import Procedure
from flueleaf.domain.judging.stopping import answer_faults, not_simply_in_use
from flueleaf.domain.judging.texts import RATE_WORDS
from flueleaf.domain.problems import Fault
from flueleaf.domain.records.register import Flue, Point, Rate
from flueleaf.domain.records.visits import NotMeasured, Outcome, Override, Purpose, Slip, Work
from flueleaf.domain.words import quoted, said

CloseUp = Mapping[Point, bool | Literal["not sure"]]

# Points of the appliance itself, opened for the probe and to be refitted; the others are places in the room.
OPENED: tuple[Point, ...] = ("air inlet", "flue")
# Outcomes with the gas off, under which an open test point lets nothing out.
GAS_OFF: tuple[Outcome, ...] = ("isolated", "made safe")
# Outcomes that owe no readings: the appliance is not left in use, or nobody got to it.
OWES_NO_SLIPS: tuple[Outcome, ...] = (*GAS_OFF, "not accessed")


def missing_slips(
    kind: Kind,
    purpose: Purpose | None,
    slips: Iterable[Slip],
    not_measured: Iterable[NotMeasured] = (),
    *,
    flue: Flue | None = None,
) -> tuple[Missing, ...]:
    """Return the slips the kind's procedure wants that are neither given nor explained.

    Args:
        kind: of the appliance.
        purpose: of the visit; None wants what any purpose wants.
        slips: those given; one without a single value is given, and unjudged.
        not_measured: those that could not be had, with the reason; an empty reason explains nothing.
        flue: of the appliance; None takes the usual one of the kind.
    """
    there = {(slip.point, slip.rate) for slip in slips}
    there |= {(entry.point, entry.rate) for entry in not_measured if entry.reason.strip()}
    return tuple(
        Missing(wanted.point, wanted.rate, _spot(wanted.point, wanted.rate))
        for wanted in kind.slips_for(purpose, flue)
        if (wanted.point, wanted.rate) not in there
    )


def _spot(point: Point, rate: Rate) -> str:
    if point == "outdoors":  # the air there knows of no rate
        return said("the air outdoors")
    return said("{point} at {rate}", point=point, rate=RATE_WORDS[rate])


def opened_points(slips: Iterable[Slip], close_up: CloseUp) -> tuple[Point, ...]:
    """Return the opened test points: every one measured at, and every one that close-up speaks of."""
    measured = {slip.point for slip in slips}
    return tuple(point for point in OPENED if point in measured or point in close_up)


def close_up_faults(work: Work) -> tuple[Point, ...]:
    """Return the opened test points that are not confirmed refitted; only a plain true confirms."""
    return tuple(
        point for point in opened_points(work.slips, work.close_up) if work.close_up.get(point) is not True
    )


def sign_off_blocks(work: Work, kind: Kind, purpose: Purpose, verdict: Verdict) -> list[Fault]:
    """Return what stands in the way of sign-off at one appliance, by path within the work.

    An opened test point blocks unless the gas is off ("isolated" or "made safe"). Wanted slips are owed
    unless the gas is off or the appliance was not accessed, so that a warning notice is never held up.

    Args:
        work: what was done.
        kind: of its appliance.
        purpose: of the visit.
        verdict: on the appliance, as ``assess`` gives it.
    """
    return [
        *_close_up(work),
        *answer_faults(work, kind, purpose),
        *_outcome(work, verdict),
        *_slips(work, kind, purpose),
        *_checks(work, kind),
    ]


def override_faults(overrides: Iterable[Override], procedure: Procedure | None) -> list[Fault]:
    """Return the steps gone past that the procedure does not know, by path."""
    if procedure is None:
        return []
    accepted = said("a step of the procedure: {names}", names=quoted(procedure.passable))
    return [
        Fault(f"overrides[{place}].step", one.step, accepted)
        for place, one in enumerate(overrides)
        if one.step not in procedure.passable
    ]


def _close_up(work: Work) -> list[Fault]:
    if work.outcome in GAS_OFF:
        return []
    answers = {False: "false", "not sure": "not sure"}
    return [
        Fault(
            f"close_up.{point}",
            answers.get(work.close_up.get(point, ""), ""),
            said(
                "true, once the {point} test point is refitted; or the outcome “isolated” or “made safe”",
                point=point,
            ),
        )
        for point in close_up_faults(work)
    ]


def _outcome(work: Work, verdict: Verdict) -> list[Fault]:
    if work.outcome != "left in use" or verdict not in ("over", "unjudged"):
        return []
    why = (
        said("a reading is over its limit")
        if verdict == "over"
        else said("something is unjudged, so never shown as good")
    )
    return [not_simply_in_use(why)]


def _slips(work: Work, kind: Kind, purpose: Purpose) -> list[Fault]:
    if work.outcome in OWES_NO_SLIPS:
        return []
    return [
        Fault("slips", "", said("a slip of the {slip}, or the reason in not_measured", slip=missing.text))
        for missing in _missing(work, kind, purpose)
    ]


def _missing(work: Work, kind: Kind, purpose: Purpose) -> tuple[Missing, ...]:
    return missing_slips(kind, purpose, work.slips, work.not_measured, flue=work.appliance.flue)


def _checks(work: Work, kind: Kind) -> list[Fault]:
    known = {check.key for check in kind.checks}
    return [
        Fault(f"checks[{place}].key", answer.key, said("a check of the kind “{kind}”", kind=kind.name))
        for place, answer in enumerate(work.checks)
        if answer.key not in known
    ]
