"""The readings of one slip as judging uses them: measured, derived, and the ratio with its uncertainty."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas import co2_from_o2_pct, o2_from_co2_pct
from flueleaf.domain.judging.assessment import Basis, Exact
from flueleaf.domain.judging.uncertainty import (
    PPM_PER_PERCENT,
    Tolerances,
    co_co2_ratio,
    last_digit,
    ratio_variance,
    rectangular,
)
from flueleaf.domain.records.register import FLAME_POINTS
from flueleaf.domain.records.visits import Slip

# CO2 taken for the spread of a typed ratio on a slip that tells no CO2 at all, %. Lower than a flue in use
# shows, so that the spread comes out too wide and never too narrow. Our own choice.
CO2_UNTOLD_PCT = Fraction(1)


@dataclass(frozen=True, slots=True)
class Reading:
    """One quantity of a slip.

    Attributes:
        quantity: its key; value: exact; basis: how it was had.
        variance: of the tolerance and the digits typed, in the quantity's unit squared.
        tolerance: where the tolerance comes from.
        digit: what one step of its last digit stands for as typed, None where it was worked out.
    """

    quantity: str
    value: Exact
    variance: Fraction
    basis: Basis
    tolerance: str
    digit: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Readings:
    """What a slip gives; None where it gives nothing.

    Attributes:
        o2_pct, co2_pct: measured, or at the flue derived from each other.
        computed, typed: the ratio from CO and CO2, where a flame is measured, and as the analyser printed it.
    """

    slip: Slip
    fuel: Fuel
    tolerances: Tolerances
    co_ppm: Reading | None = None
    o2_pct: Reading | None = None
    co2_pct: Reading | None = None
    computed: Reading | None = None
    typed: Reading | None = None

    @property
    def derived(self) -> tuple[str, ...]:
        """The keys of the derived quantities."""
        return tuple(r.quantity for r in (self.o2_pct, self.co2_pct) if r and r.basis == "derived")

    @property
    def ratios(self) -> tuple[Reading, ...]:
        """The ratios there are, the typed one last."""
        return tuple(r for r in (self.computed, self.typed) if r)

    def of(self, quantity: str) -> tuple[Reading, ...]:
        """Return the readings of a quantity: none, one, or for the ratio two."""
        if quantity == "ratio":
            return self.ratios
        if quantity == "o2_pct":
            reading = self.o2_pct
        elif quantity == "co2_pct":
            reading = self.co2_pct
        elif quantity == "co_ppm":
            reading = self.co_ppm
        else:
            reading = _measured(self.slip, self.tolerances, quantity)
        return () if reading is None else (reading,)


def read(slip: Slip, fuel: Fuel, tolerances: Tolerances) -> Readings:
    """Return the readings of a slip; whatever it lacks stays lacking.

    O2 and CO2 are derived from each other at the flue alone. The ratio is a division of CO by CO2 wherever a
    flame is measured; of the air of a room, outdoors or at the inlet it would tell nothing.
    """
    co, o2, co2 = (_measured(slip, tolerances, key) for key in ("co_ppm", "o2_pct", "co2_pct"))
    if slip.point == "flue":
        o2, co2 = _completed(o2, co2, fuel)
    return Readings(
        slip=slip,
        fuel=fuel,
        tolerances=tolerances,
        co_ppm=co,
        o2_pct=o2,
        co2_pct=co2,
        computed=_computed_ratio(co, co2) if slip.point in FLAME_POINTS else None,
        typed=_typed_ratio(slip, fuel, tolerances, co, co2),
    )


def _completed(o2: Reading | None, co2: Reading | None, fuel: Fuel) -> tuple[Reading | None, Reading | None]:
    """Return O2 and CO2 of a flue, one that is missing from the other where the relation gives it."""
    if co2 is None and o2 is not None:
        co2 = _derived("co2_pct", o2, co2_per_o2(fuel), co2_from_o2_pct, fuel)
    elif o2 is None and co2 is not None and fuel.co2_max_pct:
        # A fuel without carbon, as hydrogen, has no such relation.
        o2 = _derived("o2_pct", co2, 1 / co2_per_o2(fuel), o2_from_co2_pct, fuel)
    return o2, co2


def co2_per_o2(fuel: Fuel) -> Fraction:
    """Return how many points of CO2 one point of O2 stands for in the fuel's relation."""
    return fuel.co2_per_o2


def _measured(slip: Slip, tolerances: Tolerances, key: str) -> Reading | None:
    value = slip.values.get(key)
    if value is None:
        return None
    digit = last_digit(key, value)
    variance = tolerances.variance(key, value, digit)
    return Reading(key, value, variance, "measured", tolerances.source(key), digit or None)


def _derived(
    key: str, other: Reading, slope: Fraction, relation: Callable[[Fuel, float], float], fuel: Fuel
) -> Reading | None:
    """Return O2 from CO2 or the other way round, the variance carried along; None outside the relation."""
    try:
        value = Fraction(relation(fuel, float(other.value)))
    except ValueError:
        return None
    return Reading(key, value, slope**2 * other.variance, "derived", other.tolerance)


def _computed_ratio(co: Reading | None, co2: Reading | None) -> Reading | None:
    if co is None or co2 is None or co2.value <= 0:
        return None
    value = co_co2_ratio(co.value, co2.value)
    variance = ratio_variance(
        co_ppm=co.value, co2_pct=co2.value, co_variance=co.variance, co2_variance=co2.variance
    )
    return Reading("ratio", value, variance, "computed", _sources(co, co2))


def _typed_ratio(
    slip: Slip, fuel: Fuel, tolerances: Tolerances, co: Reading | None, co2: Reading | None
) -> Reading | None:
    """Return the ratio as printed; it spreads like the CO and CO2 it came from, and by its digits."""
    value = slip.values.get("ratio")
    if value is None:
        return None
    digit = last_digit("ratio", value)
    if "ratio" in tolerances.own:
        variance = tolerances.variance("ratio", value, digit)
        return Reading("ratio", value, variance, "typed", tolerances.source("ratio"), digit)
    co2_pct, co2_variance = _co2_behind(value, fuel, tolerances, co, co2)
    co_ppm = Fraction(value) * PPM_PER_PERCENT * co2_pct
    co_variance = co.variance if co else tolerances.variance("co_ppm", co_ppm)
    variance = ratio_variance(
        co_ppm=co_ppm, co2_pct=co2_pct, co_variance=co_variance, co2_variance=co2_variance
    )
    variance += rectangular(Fraction(0), digit)
    return Reading("ratio", value, variance, "typed", tolerances.source("co_ppm", "co2_pct"), digit)


def _co2_behind(
    ratio: Decimal, fuel: Fuel, tolerances: Tolerances, co: Reading | None, co2: Reading | None
) -> tuple[Fraction, Fraction]:
    """Return the CO2 behind a printed ratio, and its variance: as used, or as CO and the ratio imply it."""
    if co2 is not None and co2.value > 0:
        return Fraction(co2.value), co2.variance
    implied = CO2_UNTOLD_PCT
    if co is not None and co.value > 0 and ratio > 0:
        implied = Fraction(co.value) / (PPM_PER_PERCENT * Fraction(ratio))
        if fuel.co2_max_pct:
            implied = min(implied, Fraction(fuel.co2_max_pct))
    return implied, tolerances.variance("co2_pct", implied)


def _sources(*readings: Reading) -> str:
    return "; ".join(dict.fromkeys(reading.tolerance for reading in readings))
