"""Every figure of a flue slip, as it is shown, against the same slip worked out by other programs.

Dilution is counted in moles here, not by the formula with 20.95: what the flue holds of a gas stays, however
much air comes to it. Condensate in litres is at the density of IAPWS-95.
"""

from __future__ import annotations

import functools

import iapws
import pytest
from tests.outside.combustion import reference
from tests.outside.combustion.ours import our_fuel

from flueleaf.domain.combustion.slip_figures import SlipFigures, slip_figures
from flueleaf.domain.combustion.water import liquid_kg_per_l

# O2 %, CO ppm, NO ppm, flue °C, air °C, humidity %, net kW.
SLIPS = ((4.8, 61.0, 24.0, 44.0, 18.0, 55.0, 23.8), (8.5, 140.0, 40.0, 33.0, 7.0, 80.0, 6.1))
M3_PER_MOL_0C = 8.314462618 * 273.15 / 101_325.0
OFF = {
    "co2_from_o2_pct": 0.0005,
    "air_factor": 5e-5,
    "excess_air_pct": 0.005,
    "co_undiluted_ppm": 0.02,
    "nox_undiluted_ppm": 0.01,
    "co_at_3_o2_ppm": 0.02,
    "nox_at_3_o2_ppm": 0.01,
    "co_at_3_o2_mg_per_m3": 0.03,
    "nox_at_3_o2_mg_per_m3": 0.02,
    "co_mg_per_kwh": 0.05,
    "nox_mg_per_kwh": 0.05,
    "co_mg_per_kwh_gross": 0.05,
    "nox_mg_per_kwh_gross": 0.05,
    "dew_point_c": 0.005,
    "dew_point_humid_c": 0.005,
    "loss_net_pct": 0.01,
    "efficiency_net_pct": 0.01,
    "efficiency_gross_pct": 0.01,
    "efficiency_net_condensing_pct": 0.01,
    "efficiency_gross_condensing_pct": 0.01,
    "condensed_fraction": 0.0003,
    "condensate_kg_per_kwh_net": 0.0001,
    "condensate_l_per_h": 0.0005,
}


@functools.cache
def ours(name: str) -> tuple[SlipFigures, ...]:
    return tuple(
        slip_figures(
            our_fuel(name),
            o2_pct=o2,
            co2_pct=None,
            co_ppm=co,
            no_ppm=no,
            flue_c=flue,
            air_c=air,
            air_humidity_pct=humidity,
            input_net_kw=kw,
        )
        for o2, co, no, flue, air, humidity, kw in SLIPS
    )


@functools.cache
def theirs(name: str) -> tuple[dict[str, float], ...]:
    return tuple(_worked(name, *slip) for slip in SLIPS)


def _worked(
    name: str, o2: float, co: float, no: float, flue: float, air: float, humidity: float, kw: float
) -> dict[str, float]:
    burnt, flame = reference.burnt(name, o2), reference.gas()
    weight = dict(zip(flame.species_names, flame.molecular_weights, strict=True))
    gross = reference.gross_kj(name) / reference.net_kj(name)
    dry, wet = reference.efficiency(name, o2, flue, air), reference.condensing(name, o2, flue, air)
    found = {
        "co2_from_o2_pct": burnt.dry_pct("CO2"),
        "air_factor": burnt.air_mol / burnt.least_air_mol,
        "excess_air_pct": 100.0 * (burnt.air_mol / burnt.least_air_mol - 1.0),
        "dew_point_c": reference.dew_point_c(burnt.wet_share()),
        "loss_net_pct": reference.loss_pct(name, o2, flue, air),
        "efficiency_net_pct": dry.net_pct,
        "efficiency_gross_pct": dry.gross_pct,
        "efficiency_net_condensing_pct": wet.net_pct,
        "efficiency_gross_condensing_pct": wet.gross_pct,
        "condensed_fraction": wet.condensed,
    }
    for gas, ppm, molecule in (("co", co, "CO"), ("nox", no, "NO2")):
        moles = ppm * burnt.dry_mol  # millionths
        at_3 = moles / reference.burnt(name, 3.0).dry_mol
        per_kwh = moles * weight[molecule] / 1000.0 * 3600.0 / reference.net_kj(name)
        found[f"{gas}_undiluted_ppm"] = moles / reference.burnt(name, 0.0).dry_mol
        found[f"{gas}_at_3_o2_ppm"] = at_3
        found[f"{gas}_at_3_o2_mg_per_m3"] = at_3 * weight[molecule] / 1000.0 / M3_PER_MOL_0C
        found[f"{gas}_mg_per_kwh"] = per_kwh
        found[f"{gas}_mg_per_kwh_gross"] = per_kwh / gross
    vapour_kpa = humidity / 100.0 * reference.saturation_kpa(air)
    moist = burnt.air_mol * vapour_kpa / (101.325 - vapour_kpa)
    found["dew_point_humid_c"] = reference.dew_point_c(burnt.wet_share(moist))
    kg = wet.condensed * burnt.moles["H2O"] * weight["H2O"] / 1000.0 * 3600.0 / reference.net_kj(name)
    found["condensate_kg_per_kwh_net"] = kg
    found["condensate_l_per_h"] = kg * kw / iapws.IAPWS95(T=flue + 273.15, P=0.101325).rho * 1000.0
    return found


@pytest.mark.parametrize("key", OFF)
@pytest.mark.parametrize("name", reference.FUEL_NAMES)
def test_a_slip_by_other_programs(name: str, key: str) -> None:
    for mine, other in zip(ours(name), theirs(name), strict=True):
        assert getattr(mine, key) == pytest.approx(other[key], abs=OFF[key])


# IAPWS-95, liquid at 101.325 kPa: ``iapws``.
@pytest.mark.parametrize("water_c", [1.0, 25.0, 50.0, 75.0, 99.0])
def test_density_of_condensate(water_c: float) -> None:
    density = iapws.IAPWS95(T=water_c + 273.15, P=0.101325).rho / 1000.0
    assert liquid_kg_per_l(water_c) == pytest.approx(density, rel=3e-5)
