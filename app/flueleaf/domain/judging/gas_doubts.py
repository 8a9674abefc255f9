"""Can the gases of a slip be true: what the fuel can make, what air holds, whether the figures agree.

Every text says what was found and what to look at, in a sentence or two.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from itertools import count

from flueleaf.domain.combustion.constants import O2_IN_DRY_AIR_PCT
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas import apparent_co2_max_pct
from flueleaf.domain.judging.assessment import Doubt, Exact
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.readings import Reading, Readings, co2_per_o2
from flueleaf.domain.judging.uncertainty import PPM_PER_PERCENT
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.words import lines, said

# More oxygen than this no air holds; fresh air may show 21.0 on an analyser. Source: the headless contract.
O2_HIGHEST_PCT = Decimal("21.3")
# A printed ratio may be rounded or cut to four decimals. Source: the headless contract.
RATIO_DIGIT = Fraction("0.0001")
# How far an analyser's own fuel setting may put the CO2 that it works out from O2: maxima of natural gas run
# from 11.70 % (methane) to 12.04 % (UK mix), 2.9 % apart. Computed from the shipped fuel tables.
FUEL_SETTING_REL = Fraction("0.03")

# Far more than floating point makes of percentages, far less than any tolerance.
_ROUNDING_PCT = 1e-6
_AIR_O2 = Fraction(str(O2_IN_DRY_AIR_PCT))


def gas_doubts(case: Case, readings: Readings) -> Iterator[Doubt]:
    """Yield the doubts about the gases of one slip, none of them placed; each one is serious."""
    yield from _beyond_physics(case, readings)
    yield from _o2_co2_disagree(case, readings)
    yield from _ratio_disagrees(readings)


def shown(reading: Reading, decimals: int = 2) -> str:
    """Return a reading with its unit: measured ones with the digits typed, derived ones rounded."""
    quantity = QUANTITIES[reading.quantity]
    text = f"{float(reading.value):.{decimals}f}"
    if isinstance(reading.value, Decimal):
        text = f"{reading.value:f}"
    return f"{text} {quantity.unit}".rstrip()


def _beyond_physics(case: Case, readings: Readings) -> Iterator[Doubt]:
    """More CO2 than the fuel can make, more O2 than air holds, or a ratio of a fuel that makes no CO2.

    The contract names the first two. The third is ours: a fuel without carbon, as hydrogen, has nothing to
    divide CO by, so that a ratio typed for it is as impossible.
    """
    co2, o2, fuel = readings.co2_pct, readings.o2_pct, readings.fuel
    if co2 and co2.basis == "measured" and co2.value > fuel.co2_max_pct:
        allowed = readings.tolerances.half_width("co2_pct", co2.value)
        if co2.value > Fraction(fuel.co2_max_pct) + allowed:
            text = said(
                "CO2 {co2} is above what {fuel} can make, {highest} %: is the fuel right?",
                co2=shown(co2),
                fuel=fuel.name,
                highest=_below(fuel.co2_max_pct, co2.value),
            )
            yield Doubt("beyond-physics", "co2_pct", lines([text, *_beyond_but_fits(case, readings)], " "))
    if readings.typed and readings.typed.value and not fuel.co2_max_pct:
        text = said(
            "A ratio was typed, but {fuel} makes no CO2 to divide by: is the fuel right?", fuel=fuel.name
        )
        yield Doubt("beyond-physics", "ratio", text)
    if o2 and o2.basis == "measured" and o2.value > O2_HIGHEST_PCT:
        text = said(
            "O2 {o2} is more than air holds. Look at the figure; purge the analyser in fresh air "
            "and measure again.",
            o2=shown(o2),
        )
        yield Doubt("beyond-physics", "o2_pct", text)


def _below(highest_pct: float, value: Exact) -> str:
    """Return a fuel's maximum with as many decimals as keep it below a reading that is above it."""
    told = (f"{highest_pct:.{decimals}f}" for decimals in count(1))
    return next(text for text in told if Fraction(text) < value)


def _o2_co2_disagree(case: Case, readings: Readings) -> Iterator[Doubt]:
    """O2 and CO2 of the flue must lie on the fuel's line, within both tolerances."""
    co2, o2 = readings.co2_pct, readings.o2_pct
    if readings.slip.point != "flue" or co2 is None or o2 is None or readings.derived:
        return
    if _clearly_on_the_line(readings, o2, co2):
        return
    apart, allowed = off_the_line(readings.fuel, readings, o2, co2)
    if apart > allowed:
        text = said(
            "O2 {o2} of {fuel} goes with CO2 {from_o2:.2f} %, not with {co2}: {apart:.2f} apart, "
            "{allowed:.2f} at most by the tolerances. Look at both figures.",
            o2=shown(o2),
            fuel=readings.fuel.name,
            from_o2=max(float(co2_per_o2(readings.fuel) * (_AIR_O2 - Fraction(o2.value))), 0.0),
            co2=shown(co2),
            apart=float(apart),
            allowed=float(allowed),
        )
        said_besides = [*_disagree_but_fit(case, readings, o2, co2), *_set_to_the_fuel(case)]
        yield Doubt("o2-co2-disagree", "co2_pct", lines([text, *said_besides], " "))


def _clearly_on_the_line(readings: Readings, o2: Reading, co2: Reading) -> bool:
    """Tell whether measured O2 and CO2 agree so well that no rounding could matter.

    What is not clear is worked out exactly.
    """
    slope = readings.fuel.co2_max_pct / O2_IN_DRY_AIR_PCT
    apart = abs(float(co2.value) - slope * (O2_IN_DRY_AIR_PCT - float(o2.value)))
    least = readings.tolerances.least_half_width
    return apart < float(least("co2_pct")) + slope * float(least("o2_pct")) - _ROUNDING_PCT


def off_the_line(fuel: Fuel, readings: Readings, o2: Reading, co2: Reading) -> tuple[Fraction, Fraction]:
    """Return how far CO2 is from a fuel's line at that O2, and how far both tolerances let it be."""
    slope = co2_per_o2(fuel)
    half_width = readings.tolerances.half_width
    allowed = half_width("co2_pct", co2.value) + slope * half_width("o2_pct", o2.value)
    return abs(Fraction(co2.value) - slope * (_AIR_O2 - Fraction(o2.value))), allowed


def _beyond_but_fits(case: Case, readings: Readings) -> Iterator[str]:
    """Say which known fuels a CO2 above the fuel's maximum would fit, with the O2 beside it."""
    fitting = _fitting(case, readings)
    if fitting and readings.o2_pct:
        yield said("With O2 {o2} it would fit {fuels}.", o2=shown(readings.o2_pct), fuels=", ".join(fitting))


def _disagree_but_fit(case: Case, readings: Readings, o2: Reading, co2: Reading) -> Iterator[str]:
    """Say which known fuels O2 and CO2 would fit together, or the maximum that they speak for."""
    fitting = _fitting(case, readings)
    if fitting:
        yield said("They would fit {fuels}: is the fuel right?", fuels=", ".join(fitting))
        return
    try:
        apparent = apparent_co2_max_pct(float(o2.value), float(co2.value))
    except ValueError:  # no fuel of any kind
        return
    yield said("Together they speak for a fuel with {apparent:.1f} % CO2 at most.", apparent=apparent)


def _set_to_the_fuel(case: Case) -> Iterator[str]:
    """Ask for the fuel setting of an analyser that works CO2 out from O2: its two figures always agree."""
    if case.instrument and case.instrument.co2_calculated:
        yield said("This analyser works CO2 out from O2: is it set to the fuel?")


def _fitting(case: Case, readings: Readings) -> list[str]:
    """Return the other known fuels that measured O2 and CO2 of the flue fit within both tolerances."""
    co2, o2 = readings.co2_pct, readings.o2_pct
    if readings.slip.point != "flue" or co2 is None or o2 is None or readings.derived:
        return []
    others = (fuel for fuel in case.known_fuels if fuel.name != readings.fuel.name)
    return [fuel.name for fuel in others if _fits(fuel, readings, o2, co2)]


def _fits(fuel: Fuel, readings: Readings, o2: Reading, co2: Reading) -> bool:
    apart, allowed = off_the_line(fuel, readings, o2, co2)
    return apart <= allowed


def _ratio_disagrees(readings: Readings) -> Iterator[Doubt]:
    """A printed ratio must be the one that CO and CO2 give, within their digits and its own last digit."""
    typed, computed, co, co2 = readings.typed, readings.computed, readings.co_ppm, readings.co2_pct
    if typed is None or computed is None:
        return
    assert co is not None  # what was computed was computed from both
    assert co2 is not None
    low, high = ratio_range(readings, co, co2)
    value = Fraction(typed.value)
    apart = low - value if high is None else max(low - value, value - high)
    if apart >= RATIO_DIGIT:
        text = said(
            "The ratio {typed} was typed, but CO {co} and CO2 {co2} give {computed}. Look at all "
            "three figures.",
            typed=shown(typed),
            co=shown(co),
            co2=shown(co2),
            computed=shown(computed, 5),
        )
        yield Doubt("ratio-disagrees", "ratio", text)


def ratio_range(readings: Readings, co: Reading, co2: Reading) -> tuple[Fraction, Fraction | None]:
    """Return the lowest and highest ratio that the digits allow; None where nothing bounds it above."""
    if co2.basis == "derived" and readings.o2_pct:
        by_digits = co2_per_o2(readings.fuel) * _half_digit(readings.o2_pct)
        co2_half = by_digits + FUEL_SETTING_REL * Fraction(co2.value)
    else:
        co2_half = _half_digit(co2)
    co_half = _half_digit(co)
    co_low = max(Fraction(co.value) - co_half, Fraction(0))
    low = co_low / (PPM_PER_PERCENT * (Fraction(co2.value) + co2_half))
    co2_low = Fraction(co2.value) - co2_half
    if co2_low <= 0:
        return low, None
    return low, (Fraction(co.value) + co_half) / (PPM_PER_PERCENT * co2_low)


def _half_digit(measured: Reading) -> Fraction:
    """Return half of the last digit of a number as typed."""
    assert isinstance(measured.value, Decimal)
    exponent = measured.value.as_tuple().exponent
    return Fraction(10) ** min(int(exponent), 0) / 2
