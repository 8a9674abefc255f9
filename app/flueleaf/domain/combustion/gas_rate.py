"""Heat input from the meter, with what the meter's step and the stopwatch leave uncertain.

kW gross = m3 · 3600 / s · CV / 3.6, the trade's way of rating. The statutory volume correction is a thing of
its own: billing always applies it, gas-rating only when asked. Worked in exact fractions of the digits typed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from math import sqrt
from typing import Literal

from flueleaf.domain.combustion.fuel import Fuel

MeterUnit = Literal["m3", "ft3"]
PlateBasis = Literal["net", "gross"]
RateVerdict = Literal["over", "unjudged", "near", "within"]

METER_UNITS: tuple[MeterUnit, ...] = ("m3", "ft3")

# Exact: 1 ft = 0.3048 m. Source: Weights and Measures Act 1985, schedule 1; recalled.
M3_PER_FT3 = Decimal("0.028316846592")
# Statutory correction of volume for temperature and pressure.
# Source: Gas (Calculation of Thermal Energy) Regulations 1996 (SI 1996/439); recalled, with its worked bill.
VOLUME_CORRECTION = Decimal("1.02264")
MJ_PER_KWH = Decimal("3.6")

# The smallest step a domestic meter shows, in its own unit. Source: common practice.
STEP: dict[MeterUnit, Decimal] = {"m3": Decimal("0.001"), "ft3": Decimal("0.01")}
# Start and stop of a stopwatch together, half-width of a rectangular distribution. Source: common practice.
TIMING_S = Decimal(1)
# One-sided 95 % (JCGM 106:2012, guarded acceptance; recalled).
GUARD_FACTOR = 1.645

# Accepted calorific values, MJ/m3: from lean blends to butane. Source: common practice.
LOWEST_CV_MJ_M3, HIGHEST_CV_MJ_M3 = Decimal(10), Decimal(150)


@dataclass(frozen=True, slots=True)
class MeterRun:
    """What was read at the meter.

    Attributes:
        unit: of volume and step.
        volume: passed between two readings, above 0.
        seconds: between them, above 0.
        step: the smallest step the meter shows; None takes the usual one of its unit.
        timing_s: half-width of what start and stop may be off by, together.
    """

    unit: MeterUnit
    volume: Decimal
    seconds: Decimal
    step: Decimal | None = None
    timing_s: Decimal = TIMING_S

    @property
    def step_in_unit(self) -> Decimal:
        """The step that counts."""
        return STEP[self.unit] if self.step is None else self.step


@dataclass(frozen=True, slots=True)
class Plate:
    """The heat input of the data plate on its own basis, and how far the measured one may lie off, %."""

    basis: PlateBasis
    kw: Decimal
    plus_pct: Decimal | None = None
    minus_pct: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GasRate:
    """Heat input by the meter.

    Attributes:
        volume_m3_per_h: the volume flow the heat input is worked out with.
        metered_m3_per_h: the volume flow as the meter counted it.
        corrected: whether the statutory volume correction was applied.
        input_gross_kw, input_net_kw: heat input.
        step_pct: one step of the meter as part of the volume; timing_pct: likewise of the time.
        standard_uncertainty_pct: of the heat input, relative, from both.
        deviation_pct: from the plate on the plate's own basis; None without a plate.
        deviation_low_pct, deviation_high_pct: the same had the meter moved one step less or more.
        verdict, why: None without a plate; ``over`` only where no step of the meter can explain it.
    """

    volume_m3_per_h: float
    metered_m3_per_h: float
    corrected: bool
    input_gross_kw: float
    input_net_kw: float
    step_pct: float
    timing_pct: float
    standard_uncertainty_pct: float
    deviation_pct: float | None = None
    deviation_low_pct: float | None = None
    deviation_high_pct: float | None = None
    verdict: RateVerdict | None = None
    why: str = ""


def gas_rate(
    fuel: Fuel,
    run: MeterRun,
    *,
    calorific_value_mj_m3: Decimal,
    corrected: bool = False,
    plate: Plate | None = None,
) -> GasRate:
    """Return the heat input that a meter run shows.

    Args:
        fuel: a gas; its gross/net ratio turns gross into net.
        run: what was read.
        calorific_value_mj_m3: gross, of the day, 10 to 150 MJ/m3.
        corrected: apply the statutory volume correction.
        plate: to compare with, on its own basis.

    Raises:
        ValueError: a liquid fuel, or a figure outside its range.
    """
    _check(fuel, run, calorific_value_mj_m3)
    metered = Fraction(run.volume) * _m3(run.unit) * 3600 / Fraction(run.seconds)
    flow = metered * Fraction(VOLUME_CORRECTION) if corrected else metered
    gross_kw = flow * Fraction(calorific_value_mj_m3) / Fraction(MJ_PER_KWH)
    net_kw = gross_kw / Fraction(fuel.gross_net_ratio)
    step = Fraction(run.step_in_unit) / Fraction(run.volume)
    timing = Fraction(run.timing_s) / Fraction(run.seconds)
    # Two readings, each anywhere within one step: a triangle of half-width one step. Time: a rectangle.
    uncertainty = sqrt(float(step) ** 2 / 6.0 + float(timing) ** 2 / 3.0)
    rate = GasRate(
        volume_m3_per_h=float(flow),
        metered_m3_per_h=float(metered),
        corrected=corrected,
        input_gross_kw=float(gross_kw),
        input_net_kw=float(net_kw),
        step_pct=100.0 * float(step),
        timing_pct=100.0 * float(timing),
        standard_uncertainty_pct=100.0 * uncertainty,
    )
    if plate is None:
        return rate
    return _compared(rate, plate, net_kw if plate.basis == "net" else gross_kw, step)


def _compared(rate: GasRate, plate: Plate, measured_kw: Fraction, step: Fraction) -> GasRate:
    """Return a gas rate with its deviation from the plate, both on the plate's basis."""
    if not (plate.kw.is_finite() and plate.kw > 0):
        raise ValueError(f"rated input {plate.kw} kW is not above 0")
    share = measured_kw / Fraction(plate.kw)
    deviation, low, high = (100 * (share * moved - 1) for moved in (1, 1 - step, 1 + step))
    guard = Fraction(GUARD_FACTOR * rate.standard_uncertainty_pct * float(share))
    verdict, why = _judge(deviation, (low, high), guard, plate)
    return replace(
        rate,
        deviation_pct=float(deviation),
        deviation_low_pct=float(low),
        deviation_high_pct=float(high),
        verdict=verdict,
        why=why,
    )


def billing_kwh(volume_m3: Decimal, calorific_value_mj_m3: Decimal) -> Decimal:
    """Return billed energy, unrounded: m3 · 1.02264 · CV / 3.6 (SI 1996/439). Never a gas rate."""
    if volume_m3 < 0:
        raise ValueError(f"volume {volume_m3} m3 is below 0")
    _check_calorific_value(calorific_value_mj_m3)
    return volume_m3 * VOLUME_CORRECTION * calorific_value_mj_m3 / MJ_PER_KWH


def _m3(unit: MeterUnit) -> Fraction:
    return Fraction(1) if unit == "m3" else Fraction(M3_PER_FT3)


def _check(fuel: Fuel, run: MeterRun, calorific_value_mj_m3: Decimal) -> None:
    if fuel.state != "gas":
        raise ValueError(f"{fuel.name} does not pass a gas meter")
    for name, value in (("volume", run.volume), ("seconds", run.seconds)):
        if not (value.is_finite() and value > 0):
            raise ValueError(f"{name} {value} is not above 0")
    if run.step_in_unit < 0 or run.timing_s < 0:
        raise ValueError("a step or a timing below 0")
    _check_calorific_value(calorific_value_mj_m3)


def _check_calorific_value(value: Decimal) -> None:
    if not LOWEST_CV_MJ_M3 <= value <= HIGHEST_CV_MJ_M3:
        raise ValueError(f"calorific value {value} is outside {LOWEST_CV_MJ_M3}..{HIGHEST_CV_MJ_M3} MJ/m3")


def _judge(
    deviation: Fraction, ends: tuple[Fraction, Fraction], guard: Fraction, plate: Plate
) -> tuple[RateVerdict, str]:
    """Return verdict and reason; at the limit is not beyond it."""
    if plate.plus_pct is None or plate.minus_pct is None:
        return "unjudged", "no tolerance was given"
    least, most = -Fraction(plate.minus_pct), Fraction(plate.plus_pct)
    low, high = ends
    if low > most or high < least:
        return "over", "beyond the tolerance, whichever way the meter's last step is read"
    if not least <= deviation <= most:
        return "unjudged", "one step of the meter could explain it: time a longer run"
    if min(deviation - guard, low) < least or max(deviation + guard, high) > most:
        return "near", "nearer to the tolerance than meter and stopwatch can tell"
    return "within", "clear of the tolerance"
