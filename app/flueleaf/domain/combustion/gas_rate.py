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
from flueleaf.domain.words import said

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
# Start and stop of a stopwatch together, half-width of a rectangular distribution: a two-second reaction.
# Source: common practice.
TIMING_S = Decimal(2)
# One-sided 95 % (JCGM 106:2012, guarded acceptance; recalled).
GUARD_FACTOR = 1.645

# Accepted calorific values, MJ/m3: from lean blends to butane. Source: common practice.
LOWEST_CV_MJ_M3, HIGHEST_CV_MJ_M3 = Decimal(10), Decimal(150)


# A run longer than this is not asked for; longer than an appliance is kept at one rate. Our own choice.
LONGEST_RUN_ASKED_S = 3600
# A run is asked for in whole steps of this, s, as it is timed. Our own choice.
_ASKED_STEP_S = 10


@dataclass(frozen=True, slots=True)
class Dial:
    """A test dial that was timed instead of two readings: how often it went round, what one turn passes."""

    revolutions: Decimal
    per_revolution: Decimal

    @property
    def volume(self) -> Decimal:
        """What passed, in the meter's unit."""
        return self.revolutions * self.per_revolution


@dataclass(frozen=True, slots=True)
class MeterRun:
    """What was read at the meter.

    Attributes:
        unit: of volume and step.
        volume: passed between two readings, or by the dial, above 0.
        seconds: between them, above 0.
        step: the smallest step the meter shows; None takes the usual one of its unit.
        timing_s: half-width of what start and stop may be off by, together.
        dial: how the volume came about, where a dial was timed.
    """

    unit: MeterUnit
    volume: Decimal
    seconds: Decimal
    step: Decimal | None = None
    timing_s: Decimal = TIMING_S
    dial: Dial | None = None

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
        input_gross_kw, input_net_kw: heat input, with the correction or without as ``corrected`` says.
        input_…_uncorrected_kw, input_…_corrected_kw: both, kept apart.
        step_pct: one step of the meter as part of the volume; timing_pct: likewise of the time.
        standard_uncertainty_pct: of the heat input, relative, from both.
        standard_uncertainty_kw: the same of the input on the basis ``uncertainty_basis``: the plate's own,
            gross without a plate.
        deviation_pct: from the plate on the plate's own basis; None without a plate.
        deviation_low_pct, deviation_high_pct: the same had the meter moved one step less or more.
        verdict, why: None without a plate; ``over`` only where neither a step of the meter nor the guard
            band (k = 1.645) of meter and stopwatch can explain it.
        longer_run_s: how long a run at this rate would settle a ``near`` or ``unjudged``; None where it is
            settled, or where none of sensible length would.
    """

    volume_m3_per_h: float
    metered_m3_per_h: float
    corrected: bool
    input_gross_kw: float
    input_net_kw: float
    input_gross_uncorrected_kw: float
    input_gross_corrected_kw: float
    input_net_uncorrected_kw: float
    input_net_corrected_kw: float
    step_pct: float
    timing_pct: float
    standard_uncertainty_pct: float
    standard_uncertainty_kw: float
    uncertainty_basis: PlateBasis = "gross"
    deviation_pct: float | None = None
    deviation_low_pct: float | None = None
    deviation_high_pct: float | None = None
    verdict: RateVerdict | None = None
    why: str = ""
    longer_run_s: int | None = None


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
    correction, ratio = Fraction(VOLUME_CORRECTION), Fraction(fuel.gross_net_ratio)
    plain_kw = metered * Fraction(calorific_value_mj_m3) / Fraction(MJ_PER_KWH)
    applied = correction if corrected else Fraction(1)
    gross_kw = plain_kw * applied
    step = Fraction(run.step_in_unit) / Fraction(run.volume)
    timing = Fraction(run.timing_s) / Fraction(run.seconds)
    # Two readings, each anywhere within one step: a triangle of half-width one step. Time: a rectangle.
    uncertainty = sqrt(float(step) ** 2 / 6.0 + float(timing) ** 2 / 3.0)
    rate = GasRate(
        volume_m3_per_h=float(metered * applied),
        metered_m3_per_h=float(metered),
        corrected=corrected,
        input_gross_kw=float(gross_kw),
        input_net_kw=float(gross_kw / ratio),
        input_gross_uncorrected_kw=float(plain_kw),
        input_gross_corrected_kw=float(plain_kw * correction),
        input_net_uncorrected_kw=float(plain_kw / ratio),
        input_net_corrected_kw=float(plain_kw * correction / ratio),
        step_pct=100.0 * float(step),
        timing_pct=100.0 * float(timing),
        standard_uncertainty_pct=100.0 * uncertainty,
        standard_uncertainty_kw=float(gross_kw) * uncertainty,
    )
    if plate is None:
        return rate
    return _compared(rate, plate, gross_kw / ratio if plate.basis == "net" else gross_kw, step, run.seconds)


def _compared(
    rate: GasRate, plate: Plate, measured_kw: Fraction, step: Fraction, seconds: Decimal
) -> GasRate:
    """Return a gas rate with its deviation from the plate, both on the plate's basis."""
    if not (plate.kw.is_finite() and plate.kw > 0):
        raise ValueError(f"rated input {plate.kw} kW is not above 0")
    share = measured_kw / Fraction(plate.kw)
    deviation, low, high = (100 * (share * moved - 1) for moved in (1, 1 - step, 1 + step))
    guard = Fraction(GUARD_FACTOR * rate.standard_uncertainty_pct * float(share))
    reach = max(guard, high - deviation)
    verdict, why = _judge(deviation, reach, plate)
    longer = None if verdict in ("over", "within") else _longer_run_s(deviation, reach, plate, seconds)
    if longer is not None:
        why = said("{why}: time a longer run, of {seconds} s or more", why=why, seconds=longer)
    elif verdict == "unjudged" and plate.plus_pct is not None:
        why = said("{why}, and a run of an hour would not settle it", why=why)
    return replace(
        rate,
        standard_uncertainty_kw=float(measured_kw) * rate.standard_uncertainty_pct / 100.0,
        uncertainty_basis=plate.basis,
        deviation_pct=float(deviation),
        deviation_low_pct=float(low),
        deviation_high_pct=float(high),
        verdict=verdict,
        why=why,
        longer_run_s=longer,
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


def _judge(deviation: Fraction, reach: Fraction, plate: Plate) -> tuple[RateVerdict, str]:
    """Return verdict and reason; at the limit is not beyond it.

    Args:
        deviation: from the plate, %.
        reach: how far either way it may truly be: the wider of one meter step and the guard band, %.
        plate: with its tolerance.
    """
    if plate.plus_pct is None or plate.minus_pct is None:
        return "unjudged", said("no tolerance was given")
    least, most = -Fraction(plate.minus_pct), Fraction(plate.plus_pct)
    if deviation - reach > most or deviation + reach < least:
        return "over", said("beyond the tolerance, however the meter’s last step and the watch are read")
    if not least <= deviation <= most:
        return "unjudged", said("beyond the tolerance by less than meter and stopwatch can tell")
    if deviation - reach < least or deviation + reach > most:
        return "near", said("nearer to the tolerance than meter and stopwatch can tell")
    return "within", said("clear of the tolerance")


def _longer_run_s(deviation: Fraction, reach: Fraction, plate: Plate, seconds: Decimal) -> int | None:
    """Return the seconds after which a run at the same rate is clear of the limits; None where none is.

    Step and timing weigh less in proportion to the length of the run, and so does the reach.
    """
    if plate.plus_pct is None or plate.minus_pct is None:
        return None
    distance = min(abs(deviation - limit) for limit in (-Fraction(plate.minus_pct), Fraction(plate.plus_pct)))
    if not distance:
        return None
    needed = Fraction(seconds) * reach / distance
    asked = (int(needed / _ASKED_STEP_S) + 1) * _ASKED_STEP_S
    return asked if asked <= LONGEST_RUN_ASKED_S else None
