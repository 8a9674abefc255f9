"""The arithmetic behind each doubt, from the very figures that raised it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from flueleaf.domain.judging.assessment import Assessment, Doubt
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.gas_doubts import (
    O2_HIGHEST_PCT,
    RATIO_DIGIT,
    off_the_line,
    ratio_range,
    shown,
)
from flueleaf.domain.judging.rate_doubts import WARMING_C, deciding
from flueleaf.domain.judging.readings import Reading, Readings, co2_per_o2
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import Rate
from flueleaf.domain.records.visits import Slip
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import said
from flueleaf.operations.explaining.explanation import Explanation, Given, unrounded
from flueleaf.operations.facts import wording

# Of one doubt: the rule in words and symbols, what went in, and the steps.
_Told = tuple[tuple[str, ...], tuple[Given, ...], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class _About:
    """A doubt about one slip, with what it came from."""

    case: Case
    doubt: Doubt
    readings: Readings


TITLES = {
    "o2-co2-disagree": said("Doubt: O2 and CO2 disagree"),
    "ratio-disagrees": said("Doubt: the printed ratio disagrees"),
    "beyond-physics": said("Doubt: beyond what can be"),
    "air-leak-suspected": said("Doubt: air may be getting in"),
    "range-exceeded": said("Doubt: beyond the analyser’s range"),
    "not-settled": said("Doubt: not settled"),
    "rates-swapped": said("Doubt: high and low rate exchanged"),
    "no-second-witness": said("Doubt: CO2 worked out from O2"),
    "calibration-expired": said("Doubt: calibration out of date"),
    "limit-unsourced": said("Doubt: a limit without its document"),
}
OWN_RULE = said("Our own rule, as it stands in the description of this program.")
CAUTION = said(
    "A doubt changes no figure. Look at the analyser’s print; confirm only what you have checked yourself."
)


def explain_doubts(case: Case, doubts: Iterable[Doubt], readings: Readings) -> list[Explanation]:
    """Return the sheet of each doubt about one slip; a change since last time has a sheet of its own.

    Args:
        case: what was judged.
        doubts: of the slip.
        readings: of the slip.
    """
    return [
        _sheet(doubt, _OF_SLIP[doubt.code](_About(case, doubt, readings)))
        for doubt in doubts
        if doubt.code in _OF_SLIP
    ]


def explain_doubts_of_all(case: Case, assessment: Assessment) -> list[Explanation]:
    """Return the sheets of the doubts that are about no single slip."""
    return [
        _sheet(doubt, _OF_ALL[doubt.code](case))
        for doubt in assessment.doubts
        if doubt.point is None and doubt.code in _OF_ALL
    ]


def doubt_key(doubt: Doubt) -> str:
    """Return the key of a doubt's sheet."""
    slip = f"{doubt.point}.{doubt.rate}.{doubt.attempt}." if doubt.point else ""
    about = f".{doubt.quantity}" if doubt.quantity else ""
    return f"{slip}doubt.{doubt.code}{about}"


def _sheet(doubt: Doubt, told: _Told) -> Explanation:
    formula, inputs, steps = told
    title = TITLES[doubt.code]
    if doubt.point and doubt.rate:
        rate = wording.RATE_NAMES[doubt.rate]
        title = said("{title}, {point}, {rate}", title=title, point=said(doubt.point), rate=rate)
    return Explanation(doubt_key(doubt), title, formula, inputs, steps, doubt.text, OWN_RULE, CAUTION)


def _given(*found: Reading | None) -> tuple[Given, ...]:
    return tuple(
        Given(QUANTITIES[one.quantity].label, shown(one, 5), one.tolerance)
        for one in found
        if one is not None
    )


def _disagree(of: _About) -> _Told:
    o2, co2 = of.readings.o2_pct, of.readings.co2_pct
    formula = (
        said("O2 and CO2 of a flue lie on the line of the fuel, as far as both tolerances let them."),
        "|CO2 − CO2max · (20.95 − O2) / 20.95| ≤ a(CO2) + CO2max / 20.95 · a(O2)",
    )
    if o2 is None or co2 is None:
        return formula, (), ()
    fuel, half_width = of.readings.fuel, of.readings.tolerances.half_width
    apart, allowed = off_the_line(fuel, of.readings, o2, co2)
    on_the_line = co2_per_o2(fuel) * (Fraction("20.95") - Fraction(o2.value))
    steps = (
        said(
            "CO2 that goes with this O2: {highest} · (20.95 − {o2}) / 20.95 = {result} %",
            highest=unrounded(fuel.co2_max_pct),
            o2=unrounded(o2.value),
            result=unrounded(on_the_line),
        ),
        said("|{co2} − that| = {apart}", co2=unrounded(co2.value), apart=unrounded(apart)),
        said(
            "allowed: {of_co2} + {slope} · {of_o2} = {allowed}",
            of_co2=unrounded(half_width("co2_pct", co2.value)),
            slope=unrounded(co2_per_o2(fuel)),
            of_o2=unrounded(half_width("o2_pct", o2.value)),
            allowed=unrounded(allowed),
        ),
        said("{apart} is more than {allowed}", apart=unrounded(apart), allowed=unrounded(allowed)),
    )
    return formula, (*_given(o2, co2), Given(said("fuel"), fuel.name)), steps


def _ratio(of: _About) -> _Told:
    formula = (
        said(
            "A printed ratio may be rounded or cut in its last digit; CO and CO2 are known to half of theirs."
        ),
        "CO / (10 000 · CO2)",
    )
    co, co2, typed, computed = (
        of.readings.co_ppm,
        of.readings.co2_pct,
        of.readings.typed,
        of.readings.computed,
    )
    if co is None or co2 is None or typed is None or computed is None:
        return formula, (), ()
    low, high = ratio_range(of.readings, co, co2)
    steps = (
        said(
            "{co} / (10 000 · {co2}) = {result}",
            co=unrounded(co.value),
            co2=unrounded(co2.value),
            result=unrounded(computed.value),
        ),
        said("the digits of CO and CO2 allow {low} and more", low=unrounded(low))
        if high is None
        else said("the digits of CO and CO2 allow {low} to {high}", low=unrounded(low), high=unrounded(high)),
        said(
            "{typed} lies {digit} or more outside that",
            typed=unrounded(typed.value),
            digit=unrounded(RATIO_DIGIT),
        ),
    )
    return formula, _given(co, co2, typed), steps


def _beyond(of: _About) -> _Told:
    if of.doubt.quantity == "o2_pct":
        formula = said("No air holds more than 21 % oxygen; up to {most} % may show.", most=O2_HIGHEST_PCT)
        return (
            (formula,),
            _given(of.readings.o2_pct),
            _compared(of.readings.o2_pct, Fraction(O2_HIGHEST_PCT)),
        )
    formula = said("The most CO2 that a fuel can make is that of burning it with just enough air.")
    if of.doubt.quantity == "ratio" or of.readings.co2_pct is None:
        return (formula,), _given(of.readings.typed), ()
    co2 = of.readings.co2_pct
    highest, allowed = of.readings.fuel.co2_max_pct, of.readings.tolerances.half_width("co2_pct", co2.value)
    most = Fraction(highest) + allowed
    step = said(
        "{highest} + {allowed} of tolerance = {most} %",
        highest=unrounded(highest),
        allowed=unrounded(allowed),
        most=unrounded(most),
    )
    fuel = Given(said("fuel"), of.readings.fuel.name)
    return (formula,), (*_given(co2), fuel), (step, *_compared(co2, most))


def _compared(reading: Reading | None, most: Fraction) -> tuple[str, ...]:
    if reading is None:
        return ()
    return (said("{value} is more than {most}", value=unrounded(reading.value), most=unrounded(most)),)


def _air_leak(of: _About) -> _Told:
    formula = said(
        "Air on the way to the probe raises O2 and lowers CO and CO2 alike; the ratio stays as it was."
    )
    o2, highest = of.readings.o2_pct, of.case.kind.air_leak_o2_pct
    if o2 is None or highest is None:
        return (formula,), (), ()
    allowed = of.readings.tolerances.half_width("o2_pct", o2.value)
    most = Fraction(highest) + allowed
    step = said(
        "the most this kind burns with, {highest} %, and {allowed} of tolerance: {most} %",
        highest=unrounded(highest),
        allowed=unrounded(allowed),
        most=unrounded(most),
    )
    return (formula,), _given(o2), (step, *_compared(o2, most))


def _range(of: _About) -> _Told:
    formula = said("Beyond the end of its range an analyser shows a figure that may be too low.")
    end = (of.case.instrument.range if of.case.instrument else {}).get(of.doubt.quantity)
    value = of.readings.slip.values.get(of.doubt.quantity)
    if end is None or value is None:
        return (formula,), (), ()
    label = QUANTITIES[of.doubt.quantity].label
    step = said("{value} is more than {most}", value=unrounded(value), most=unrounded(end))
    return (
        (formula,),
        (Given(label, unrounded(value)), Given(said("end of the range"), unrounded(end))),
        (step,),
    )


def _swapped(of: _About) -> _Told:
    formula = (
        said("Told where each CO2 lies in the maker’s window of the other rate,"),
        said("or where each reading is that of the other rate last time,"),
        said(
            "or where low rate is richer in CO2 and hotter by over {warming} °C, beyond the tolerances.",
            warming=WARMING_C,
        ),
    )
    inputs: list[Given] = []
    taken: Sequence[tuple[Rate, Slip | None]] = (
        ("max", of.readings.slip),
        ("min", deciding(of.case.slips, "min")),
    )
    for rate, slip in taken:
        for key in ("co2_pct", "o2_pct", "flue_c"):
            value = None if slip is None else slip.values.get(key)
            if value is not None:
                name = said("{label}, {rate}", label=QUANTITIES[key].label, rate=wording.RATE_NAMES[rate])
                inputs.append(Given(name, f"{unrounded(value)} {QUANTITIES[key].unit}"))
    return formula, tuple(inputs), ()


def _witness(case: Case) -> _Told:
    formula = (
        said("The analyser puts its O2 into the line of the fuel it is set to; that is its CO2."),
        "CO2 = CO2max · (20.95 − O2) / 20.95",
    )
    return formula, (Given(said("analyser"), case.instrument.name if case.instrument else ""),), ()


def _calibration(case: Case) -> _Told:
    formula = said("A calibration counts up to and with the day it is due.")
    due = case.instrument.calibration_due if case.instrument else None
    if due is None or case.date is None:
        return (formula,), (), ()
    inputs = (Given(said("due"), in_words(due)), Given(said("readings"), in_words(case.date)))
    return (formula,), inputs, (said("{days} days past", days=(case.date - due).days),)


def _unsourced(case: Case) -> _Told:
    formula = said(
        "A limit of the maker’s that allows more than the table’s counts only with its document and page."
    )
    limits = case.limits
    if limits is None:
        return (formula,), (), ()
    entered = {"co_ppm": limits.co_ppm, "ratio": limits.ratio, "smoke": limits.smoke}
    inputs = tuple(
        Given(
            QUANTITIES[key].label,
            f"{value:f} {QUANTITIES[key].unit}".rstrip(),
            said("the maker’s, as entered"),
        )
        for key, value in entered.items()
        if value is not None
    )
    return (formula,), inputs, ()


def _settled(_of: _About) -> _Told:
    return (said("A reading counts once slope and spread of a minute are lost in the last digit."),), (), ()


_OF_SLIP: dict[str, Callable[[_About], _Told]] = {
    "o2-co2-disagree": _disagree,
    "ratio-disagrees": _ratio,
    "beyond-physics": _beyond,
    "air-leak-suspected": _air_leak,
    "range-exceeded": _range,
    "not-settled": _settled,
    "rates-swapped": _swapped,
}
_OF_ALL: dict[str, Callable[[Case], _Told]] = {
    "no-second-witness": _witness,
    "calibration-expired": _calibration,
    "limit-unsourced": _unsourced,
}
