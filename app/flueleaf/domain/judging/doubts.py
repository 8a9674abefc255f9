"""Whether a slip can stand: the physics, the analyser's own range and settling, its calibration, its cells.

Every text says what was found and what to look at, in a sentence or two.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from flueleaf.domain.judging.assessment import Doubt, Judged
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.gas_doubts import gas_doubts, shown
from flueleaf.domain.judging.readings import Readings
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.visits import Slip
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import lines, said

# Every code a doubt may have, as the headless contract and its callers know them.
DOUBT_CODES = (
    "air-leak-suspected",
    "beyond-physics",
    "calibration-expired",
    "changed-since-last",
    "limit-unsourced",
    "no-second-witness",
    "not-settled",
    "o2-co2-disagree",
    "range-exceeded",
    "rates-swapped",
    "ratio-disagrees",
)
# Unconfirmed, these leave nothing of a slip good.
SERIOUS = frozenset({"beyond-physics", "o2-co2-disagree", "ratio-disagrees"})


def slip_doubts(case: Case, readings: Readings) -> tuple[Doubt, ...]:
    """Return the doubts about one slip, each with its place and whether it is confirmed."""
    slip = readings.slip
    found = (
        *gas_doubts(case, readings),
        *_air_leak(case, readings),
        *_range_exceeded(case, slip),
        *_not_settled(slip),
    )
    return tuple(placed(doubt, slip) for doubt in found)


def placed(doubt: Doubt, slip: Slip) -> Doubt:
    """Return a doubt with the place of its slip."""
    return replace(
        doubt,
        point=slip.point,
        rate=slip.rate,
        attempt=slip.attempt,
        confirmed=doubt.code in slip.confirmed,
    )


def contradicted(doubts: Iterable[Doubt]) -> bool:
    """Tell whether readings contradict each other or the fuel and nobody stands by them."""
    return any(doubt.code in SERIOUS and not doubt.confirmed for doubt in doubts)


def after_doubts(judged: tuple[Judged, ...], doubts: tuple[Doubt, ...]) -> tuple[Judged, ...]:
    """Return the verdicts with within and near turned to unjudged while a serious doubt is not confirmed."""
    open_codes = [doubt.code for doubt in doubts if doubt.code in SERIOUS and not doubt.confirmed]
    if not open_codes:
        return judged
    why = said("in doubt: {codes}", codes=", ".join(dict.fromkeys(open_codes)))
    return tuple(
        replace(one, verdict="unjudged", why=why) if one.verdict in ("within", "near") else one
        for one in judged
    )


def calibration_expired(case: Case) -> tuple[Doubt, ...]:
    """Return a doubt if the analyser's calibration had run out on the day."""
    due = case.instrument.calibration_due if case.instrument else None
    if due is None or case.date is None or case.date <= due:
        return ()
    text = said(
        "The calibration of this analyser was due on {due}; these readings are of {date}. "
        "They stand as taken, and the record prints it.",
        due=in_words(due),
        date=in_words(case.date),
    )
    return (Doubt("calibration-expired", "", text),)


def no_second_witness(case: Case) -> tuple[Doubt, ...]:
    """Return a doubt if the analyser has no CO2 cell, and somewhere O2 and CO2 of it stand side by side.

    It says what an agreement is worth and takes nothing away from a verdict.
    """
    if case.instrument is None or not case.instrument.co2_calculated:
        return ()
    both = [slip for slip in case.slips if {"o2_pct", "co2_pct"} <= slip.values.keys()]
    if not both:
        return ()
    text = said(
        "This analyser works CO2 out from O2: that the two agree proves nothing, and one wrong O2 makes both "
        "wrong. Compare with last time, and with the maker’s figure for the rate."
    )
    elsewhere = any(slip.point != "flue" for slip in both)
    beside = (
        [said("Such a CO2 is fit for a flue, not for the air of a room or an air inlet.")]
        if elsewhere
        else []
    )
    return (Doubt("no-second-witness", "co2_pct", lines([text, *beside], " ")),)


def _air_leak(case: Case, readings: Readings) -> Iterator[Doubt]:
    """A room-sealed flue far more diluted than its kind burns: air on the way to the probe, or a lean burner.

    The criterion: O2, measured or derived, is above the kind's figure by more than the tolerance.
    """
    o2, highest = readings.o2_pct, case.kind.air_leak_o2_pct
    if readings.slip.point != "flue" or o2 is None or highest is None or not case.room_sealed:
        return
    if o2.value <= highest:
        return
    allowed = readings.tolerances.half_width("o2_pct", o2.value)
    if Fraction(o2.value) > Fraction(highest) + allowed:
        text = said(
            "O2 {o2} at the flue of a {kind} is unusually much. Air may be getting in: look at "
            "the probe's seal, the hose, the water trap and the flue joints before adjusting. Air thins CO "
            "and CO2 alike, so the ratio does not show it.",
            o2=shown(o2),
            kind=case.kind.name,
        )
        yield Doubt("air-leak-suspected", "o2_pct", text)


def _range_exceeded(case: Case, slip: Slip) -> Iterator[Doubt]:
    ranges = case.instrument.range if case.instrument else {}
    for key, value in slip.values.items():
        if key in ranges and value > ranges[key]:
            quantity = QUANTITIES[key]
            text = said(
                "{label} {value} is beyond this analyser's range, which ends at {end:f}. The true value "
                "may be higher.",
                label=quantity.label,
                value=f"{value:f} {quantity.unit}".rstrip(),
                end=ranges[key],
            )
            yield Doubt("range-exceeded", key, text)


def _not_settled(slip: Slip) -> Iterator[Doubt]:
    if slip.settled is False:
        yield Doubt(
            "not-settled",
            "",
            said("The readings had not settled when this was taken. Wait, and measure again."),
        )
