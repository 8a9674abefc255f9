"""What a reading of oxygen or carbon dioxide says: excess air, the other gas, figures free of dilution.

All from the balance of dry, CO-free flue gas with air of 20.95 % oxygen. Outside its range a function raises
``ValueError``; nothing is extrapolated.
"""

from __future__ import annotations

from flueleaf.domain.combustion.constants import MOLAR_VOLUME_15C_M3, O2_IN_DRY_AIR_PCT, STANDARD_PRESSURE_KPA
from flueleaf.domain.combustion.fuel import CO_G_PER_MOL, NO2_G_PER_MOL, Fuel
from flueleaf.domain.combustion.water import saturation_c, saturation_kpa

# Ideal molar volume at 0 °C and 101.325 kPa, m3/mol, to which emission limits in mg/m3 refer.
MOLAR_VOLUME_0C_M3 = MOLAR_VOLUME_15C_M3 * 273.15 / 288.15


def _checked_o2(o2_pct: float) -> float:
    if not 0.0 <= o2_pct < O2_IN_DRY_AIR_PCT:
        raise ValueError(f"oxygen {o2_pct} % is outside 0..{O2_IN_DRY_AIR_PCT} %")
    return o2_pct


def _not_negative(name: str, value: float) -> float:
    if not 0.0 <= value < float("inf"):
        raise ValueError(f"{name} {value} is below 0 or not finite")
    return value


def co2_from_o2_pct(fuel: Fuel, o2_pct: float) -> float:
    """Return CO2, % of dry flue gas: CO2max · (20.95 − O2) / 20.95, for 0 <= O2 <= 20.95."""
    if o2_pct == O2_IN_DRY_AIR_PCT:
        return 0.0
    # The share first: it is 1 at most, so that no rounding lifts the result above the maximum.
    return fuel.co2_max_pct * ((O2_IN_DRY_AIR_PCT - _checked_o2(o2_pct)) / O2_IN_DRY_AIR_PCT)


def o2_from_co2_pct(fuel: Fuel, co2_pct: float) -> float:
    """Return O2, % of dry flue gas, for 0 <= CO2 <= the fuel's maximum; without carbon, no answer."""
    highest = fuel.co2_max_pct
    if highest <= 0.0:
        raise ValueError(f"{fuel.name} makes no carbon dioxide")
    if not 0.0 <= co2_pct <= highest:
        raise ValueError(f"carbon dioxide {co2_pct} % is outside 0..{highest:.2f} % of {fuel.name}")
    return O2_IN_DRY_AIR_PCT * (1.0 - co2_pct / highest)


def apparent_co2_max_pct(o2_pct: float, co2_pct: float) -> float:
    """Return the CO2 maximum of the fuel that both readings speak for: CO2 · 20.95 / (20.95 − O2), %.

    Args:
        o2_pct: oxygen, % of dry flue gas, 0 <= O2 < 20.95.
        co2_pct: carbon dioxide, % of dry flue gas, 0 or more.

    Raises:
        ValueError: outside its range, or no fuel's maximum: it would be above 100 %.
    """
    found = _not_negative("carbon dioxide", co2_pct) * O2_IN_DRY_AIR_PCT
    found /= O2_IN_DRY_AIR_PCT - _checked_o2(o2_pct)
    if found > 100.0:
        raise ValueError(f"oxygen {o2_pct} % beside carbon dioxide {co2_pct} % is no flue gas of any fuel")
    return found


def air_factor(fuel: Fuel, o2_pct: float) -> float:
    """Return air supplied over air needed: 1 + k · O2 / (20.95 − O2), for 0 <= O2 < 20.95."""
    return 1.0 + fuel.k * _checked_o2(o2_pct) / (O2_IN_DRY_AIR_PCT - o2_pct)


def excess_air_pct(fuel: Fuel, o2_pct: float) -> float:
    """Return air beyond the air needed, % of it: the true figure, with the fuel's k."""
    return 100.0 * (air_factor(fuel, o2_pct) - 1.0)


def excess_air_short_pct(o2_pct: float) -> float:
    """Return excess air by the trade's short form, k = 1, which overstates: 100 · O2 / (20.95 − O2)."""
    return 100.0 * _checked_o2(o2_pct) / (O2_IN_DRY_AIR_PCT - o2_pct)


def at_oxygen_ppm(ppm: float, o2_pct: float, reference_o2_pct: float) -> float:
    """Return a concentration diluted or undiluted to a reference oxygen, ppm of dry gas."""
    remains = O2_IN_DRY_AIR_PCT - _checked_o2(o2_pct)
    return _not_negative("ppm", ppm) * (O2_IN_DRY_AIR_PCT - _checked_o2(reference_o2_pct)) / remains


def co_undiluted_ppm(co_ppm: float, o2_pct: float) -> float:
    """Return CO free of excess air: CO · 20.95 / (20.95 − O2), ppm of dry gas."""
    return at_oxygen_ppm(co_ppm, o2_pct, 0.0)


def co_co2_ratio(co_ppm: float, co2_pct: float) -> float:
    """Return CO over CO2, both as fractions of dry gas; a pure number, untouched by dilution. CO2 above 0."""
    if not 0.0 < co2_pct <= 100.0:
        raise ValueError(f"carbon dioxide {co2_pct} % is outside 0..100 %: no ratio")
    return _not_negative("CO", co_ppm) / (10_000.0 * co2_pct)


def co_mg_per_kwh(fuel: Fuel, co_ppm: float, o2_pct: float) -> float:
    """Return mg of CO per kWh of net heat."""
    return co_undiluted_ppm(co_ppm, o2_pct) * fuel.co_mg_per_kwh_net_per_ppm


def nox_mg_per_kwh(fuel: Fuel, no_ppm: float, o2_pct: float) -> float:
    """Return mg of NOx per kWh of net heat, measured NO counted as NO2 (EN 15502-1; recalled)."""
    return at_oxygen_ppm(no_ppm, o2_pct, 0.0) * fuel.nox_mg_per_kwh_net_per_ppm


def co_mg_per_m3(ppm: float) -> float:
    """Return mg of CO in a cubic metre of dry gas at 0 °C and 101.325 kPa."""
    return _not_negative("ppm", ppm) * CO_G_PER_MOL / 1000.0 / MOLAR_VOLUME_0C_M3


def no2_mg_per_m3(ppm: float) -> float:
    """Return mg of NO2 in a cubic metre of dry gas at 0 °C and 101.325 kPa."""
    return _not_negative("ppm", ppm) * NO2_G_PER_MOL / 1000.0 / MOLAR_VOLUME_0C_M3


def dry_flue_mol(fuel: Fuel, factor: float) -> float:
    """Return moles of dry flue gas per unit of fuel at an air factor of 1 or more."""
    if not 1.0 <= factor < float("inf"):
        raise ValueError(f"air factor {factor} is below 1 or not finite")
    return fuel.dry_flue_mol + (factor - 1.0) * fuel.air_mol


def air_moisture(air_c: float, humidity_pct: float) -> float:
    """Return moles of vapour per mole of dry air.

    Args:
        air_c: temperature, 0 to 99 °C (vapour pressure over liquid water).
        humidity_pct: relative humidity, 0 to 100 %.
    """
    if not 0.0 <= humidity_pct <= 100.0:
        raise ValueError(f"humidity {humidity_pct} % is outside 0..100 %")
    if not 0.0 <= air_c <= 99.0:
        raise ValueError(f"air at {air_c} °C is outside 0..99 °C")
    vapour_kpa = saturation_kpa(air_c) * humidity_pct / 100.0
    return vapour_kpa / (STANDARD_PRESSURE_KPA - vapour_kpa)


def dew_point_c(
    fuel: Fuel, factor: float, *, air_c: float | None = None, humidity_pct: float | None = None
) -> float:
    """Return the water dew point of the flue gas at 101.325 kPa.

    Args:
        fuel: what burns.
        factor: air factor, 1 or more.
        air_c, humidity_pct: of the combustion air; both or neither, neither means dry air.

    Raises:
        ValueError: outside a range, or the dew point is below 0 °C (it would be frost).
    """
    if (air_c is None) != (humidity_pct is None):
        raise ValueError("air temperature and humidity are wanted together")
    dry = dry_flue_mol(fuel, factor)
    vapour = fuel.h2o_mol
    if air_c is not None and humidity_pct is not None:
        vapour += factor * fuel.air_mol * air_moisture(air_c, humidity_pct)
    return saturation_c(STANDARD_PRESSURE_KPA * vapour / (dry + vapour))
