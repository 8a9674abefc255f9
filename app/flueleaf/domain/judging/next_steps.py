"""What to do next, in short sentences; the maker, the standard and the registered engineer decide."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from flueleaf.domain.judging.assessment import Doubt, Judged, Missing, SlipAssessment
from flueleaf.domain.judging.doubts import SERIOUS
from flueleaf.domain.judging.kind import Check
from flueleaf.domain.judging.walk import Walk
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import Rate
from flueleaf.domain.words import marked, said

# What burns badly when beyond its limit; the other limits at the flue are windows of the maker's setting.
OF_COMBUSTION = ("co_ppm", "ratio", "smoke")

RATE_WORDS: dict[Rate, str] = {
    "max": said("high rate"),
    "min": said("low rate"),
    "mid": said("middle rate"),
}

INTEGRITY_OVER = said(
    "Flue integrity is beyond its limit: do not go on to combustion. Look for leaking flue joints, seals and "
    "recirculation, put right what you find, and measure the air inlet again."
)
COMBUSTION_OVER = marked(
    "Combustion at {rate} is beyond its limit: check the installation, the gas supply and the setting by the "
    "maker's instructions, then measure again and enter it as the next attempt."
)
STILL_OVER = said(
    "If it is still beyond the limit after that, the appliance is not left in use: take it out of use and "
    "warn the responsible person."
)
WINDOW_OVER = marked(
    "{label} at {rate} is outside the maker's window: adjust only what the maker allows, the way the maker "
    "says, and measure again at both rates."
)
SYMPTOMS = said("Symptoms, smell, staining or spillage outrank any reading.")
DOUBTED = said(
    "A reading is in doubt: look at the slip and the figures typed, measure again where they stand, and "
    "confirm a doubt only if you have checked it yourself."
)
NEAR = marked(
    "{label} at {point}, {rate}, is closer to its limit than the analyser can tell: compare with last time "
    "and with the maker's instructions before you decide."
)
NO_LIMIT = marked(
    "No limit is known for {point} at {rate}: enter the maker's limits, with document and page, from the "
    "instructions. Until then nothing there is judged."
)
NO_LIMIT_ELSEWHERE = marked(
    "No limit applies to {point} at {rate}: the reading is kept and printed, and nothing is judged by it."
)
NO_READING = marked("{label} at {point}, {rate}, is wanted before anything there can be judged.")
BEFORE_ADJUSTMENT = marked(
    "The slip of {point} at {rate} was taken before the adjustment: measure there again, and enter it as the "
    "next attempt."
)
BEYOND = said(
    "Readings were taken although the step before them was not clear: put that right first, and measure them "
    "again, or write down why you went on."
)
STOPPED = marked(
    "“{question}” is answered no: appliance off, room aired. Do not go on and do not leave it in use until "
    "that is put right and tried again."
)
WANTED = marked("Still wanted: {text}, or the reason why it could not be measured.")
CALIBRATION = said("Have the analyser calibrated; the record prints that its date had passed.")
DEFERENCE = said(
    "The maker's instructions, the current standard and your own judgement as registered engineer decide."
)


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
    steps: list[str] = [said(STOPPED, question=check.question) for check in stops]
    if steps:
        steps.append(SYMPTOMS)
    for slip in slips:
        steps += _over(slip)
    if any(judged.verdict == "over" for slip in slips for judged in slip.judged):
        steps += [STILL_OVER, SYMPTOMS]
    known = tuple(doubts)
    if any(doubt.code in SERIOUS and not doubt.confirmed for doubt in known):
        steps.append(DOUBTED)
    for slip in slips:
        steps += _open(slip)
    steps += _out_of_order(way) if way else []
    steps += [said(WANTED, text=entry.text) for entry in missing]
    if any(doubt.code == "calibration-expired" for doubt in known):
        steps.append(CALIBRATION)
    return (*dict.fromkeys(steps), DEFERENCE) if steps else ()


def _out_of_order(way: Walk) -> list[str]:
    """Return what the order of the procedure asks for."""
    steps: list[str] = [BEYOND] if way.beyond and way.stopped in ("over", "no") else []
    for point, rate in way.stale:
        steps.append(said(BEFORE_ADJUSTMENT, point=said("the {point}", point=point), rate=RATE_WORDS[rate]))
    return steps


def _over(slip: SlipAssessment) -> list[str]:
    over = [judged for judged in slip.judged if judged.verdict == "over"]
    if not over:
        return []
    if slip.point == "air inlet":
        return [INTEGRITY_OVER]
    rate = RATE_WORDS[slip.rate]
    steps: list[str] = []
    if any(judged.quantity in OF_COMBUSTION for judged in over):
        steps.append(said(COMBUSTION_OVER, rate=rate))
    steps += [
        said(WINDOW_OVER, label=_label(judged), rate=rate)
        for judged in over
        if judged.quantity not in OF_COMBUSTION
    ]
    return steps


def _open(slip: SlipAssessment) -> list[str]:
    """Return the steps for what is near or unjudged, beyond what a doubt already asks for."""
    unlimited = all(judged.limit is None for judged in slip.judged)
    if not unlimited and all(judged.verdict != "near" and judged.value is not None for judged in slip.judged):
        return []
    place = {"point": said("the {point}", point=slip.point), "rate": RATE_WORDS[slip.rate]}
    if unlimited:
        text = NO_LIMIT if slip.point == "flue" else NO_LIMIT_ELSEWHERE
        return [said(text, **place)]
    steps: list[str] = []
    for judged in slip.judged:
        if judged.verdict == "near":
            steps.append(said(NEAR, label=_label(judged), **place))
        elif judged.value is None:
            steps.append(said(NO_READING, label=_label(judged), **place))
    return steps


def _label(judged: Judged) -> str:
    return QUANTITIES[judged.quantity].label
