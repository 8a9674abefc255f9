"""Believable slips: what the physics makes of an appliance, through an analyser with its noise and digits."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from flueleaf.domain.combustion.constants import O2_IN_DRY_AIR_PCT
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas import co2_from_o2_pct, co_co2_ratio, o2_from_co2_pct
from flueleaf.domain.records.register import Rate
from flueleaf.operations.demo.copies import YEAR_DAYS
from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.planning import Span
from flueleaf.operations.demo.scenario import Fitted, Json

# How appliances and analysers of the story differ, well inside the tolerances of demo_db/business.toml.
APPLIANCE_CO2_SPREAD_PCT = 0.07
VISIT_CO2_SPREAD_PCT = 0.04
APPLIANCE_CO_SPREAD = 0.12
VISIT_CO_SPREAD = 0.06
O2_NOISE_PCT = 0.03
CO_NOISE_PPM = 1.2
TEMPERATURE_NOISE_C = 0.4
FRESH_AIR_O2_PCT = 20.92
FRESH_AIR_NOISE_PCT = 0.025
WINDOW_SHY_PCT = 0.22  # a well set appliance of the story keeps that far inside its maker's CO2 window
DRIFT_AT_MINIMUM = 0.3  # of the drift at maximum rate
FLUE_C: Mapping[str, Mapping[str, float]] = {
    "condensing boiler": {"max": 56.0, "min": 43.0, "mid": 49.0},
    "water heater": {"max": 138.0, "min": 104.0, "mid": 120.0},
    "gas fire": {"max": 124.0, "min": 92.0, "mid": 108.0},
}
_PLAIN_FLUE_C = 90.0


@dataclass(frozen=True, slots=True)
class Spell:
    """Years an appliance has drifted since it was last right, and by what factor a fault raises its CO."""

    years: float
    co_factor: float = 1.0


def drifted(fitted: Fitted, date: dt.date, span: Span, serviced_days_before: int) -> Spell:
    """Return the spell of drift before a date; a correction at an earlier yearly visit starts it anew."""
    starts = [span.first, span.today - dt.timedelta(days=fitted.installed_days_before)]
    for years_ago in fitted.corrected_years_ago:
        starts.append(span.today - dt.timedelta(days=serviced_days_before + years_ago * YEAR_DAYS))
    since = max(start for start in starts if start < date or start is starts[0])
    return Spell(max((date - since).days, 0) / YEAR_DAYS)


def flue_slip(fitted: Fitted, fuel: Fuel, rate: Rate, spell: Spell, dice: Dice) -> Json:
    """Return one flue slip as the analyser prints it, every value a text with its digits.

    Args:
        fitted: the appliance; fuel: what it burns.
        rate: at which rate.
        spell: how far it has drifted, and by what its CO is raised by a fault.
        dice: chance of this slip.
    """
    model = fitted.model
    own = Dice("appliance", fitted.serial)
    aim = model.aim_pct.get(rate, model.aim_pct["max"]) + own.bell(APPLIANCE_CO2_SPREAD_PCT)
    co2 = _inside(model.limits, rate, aim + dice.bell(VISIT_CO2_SPREAD_PCT))
    o2_shown = o2_from_co2_pct(fuel, co2) + dice.bell(O2_NOISE_PCT)
    co2_shown = co2_from_o2_pct(fuel, o2_shown)  # the analyser has an oxygen cell and works CO2 out
    base = model.co_ppm.get(rate, model.co_ppm["max"]) * (1.0 + own.bell(APPLIANCE_CO_SPREAD))
    drift = fitted.drift_ppm_per_year * spell.years * (1.0 if rate == "max" else DRIFT_AT_MINIMUM)
    co = (base + drift) * spell.co_factor * (1.0 + dice.bell(VISIT_CO_SPREAD)) + dice.bell(CO_NOISE_PPM)
    co_shown = max(round(co), 1)
    flue_c = FLUE_C.get(model.kind, {}).get(rate, _PLAIN_FLUE_C) + own.bell(3.0) + dice.bell(1.0)
    return {
        "point": "flue",
        "rate": rate,
        "o2_pct": f"{o2_shown:.1f}",
        "co2_pct": f"{co2_shown:.1f}",
        "co_ppm": str(co_shown),
        "ratio": f"{co_co2_ratio(co_shown, co2_shown):.4f}",
        "flue_c": f"{flue_c + dice.bell(TEMPERATURE_NOISE_C):.1f}",
        "air_c": f"{17.0 + own.bell(1.5) + dice.bell(2.0):.1f}",
    }


def air_inlet_slip(fuel: Fuel, rate: Rate, dice: Dice, fault: Mapping[str, float] | None = None) -> Json:
    """Return the slip at the air-inlet test point: fresh air, or what a fault of the flue makes of it."""
    if fault:
        return {
            "point": "air inlet",
            "rate": rate,
            "o2_pct": f"{fault['o2_pct'] + dice.bell(O2_NOISE_PCT):.1f}",
            "co2_pct": f"{fault['co2_pct'] + dice.bell(O2_NOISE_PCT):.1f}",
        }
    o2 = min(FRESH_AIR_O2_PCT + dice.bell(FRESH_AIR_NOISE_PCT), O2_IN_DRY_AIR_PCT)
    return {
        "point": "air inlet",
        "rate": rate,
        "o2_pct": f"{o2:.1f}",
        "co2_pct": f"{co2_from_o2_pct(fuel, o2):.1f}",
    }


def _inside(limits: Json, rate: Rate, co2_pct: float) -> float:
    """Keep a CO2 inside the maker's window, where there is one."""
    window = limits.get("co2_pct", {}).get(rate)
    if not window:
        return co2_pct
    low, high = (float(end) for end in window)
    return min(max(co2_pct, low + WINDOW_SHY_PCT), high - WINDOW_SHY_PCT)


def supply(fitted: Fitted, fuel: Fuel, *, full: bool, dice: Dice) -> Json:
    """Return the gas supply: pressures, and where ``full`` the meter run and the tightness test too."""
    lpg = fuel.name == "propane"
    standing = 38.6 + dice.bell(0.3) if lpg else 23.1 + dice.bell(0.6)
    working = 37.1 + dice.bell(0.2) if lpg else 20.9 + dice.bell(0.25)
    found: Json = {
        "standing_mbar": f"{standing:.1f}",
        "working_mbar": f"{working:.1f}",
        "inlet_mbar": f"{working - 0.6 - abs(dice.bell(0.25)):.1f}",
    }
    gross = fuel.gross_mj_per_m3
    if lpg or not full or gross is None:
        return found
    plate = fitted.model.rated_input
    basis = fuel.gross_net_ratio if plate["basis"] == "net" else 1.0
    gross_kw = float(plate["max_kw"]) * basis * (1.0 + dice.bell(0.012))
    seconds = 120
    found["gas_rate"] = {
        "meter": {
            "unit": "m3",
            "volume": f"{gross_kw * seconds / (gross * 1000.0):.3f}",
            "seconds": str(seconds),
        },
        "calorific_value_mj_m3": f"{gross:.1f}",
    }
    found["tightness"] = {
        "let-by": "none in 1 minute",
        "test mbar": "20.5",
        "movement": "none seen",
        "duration minutes": "2",
    }
    return found
