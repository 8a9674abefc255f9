"""Air needed, flue gas, water and emission factors of each fuel against Cantera's equilibrium.

The moles, molar masses and net heat are Cantera's; the molar volume is that of an ideal gas at 15 °C and
101.325 kPa with the constant of the SI brochure (2019).
"""

from __future__ import annotations

import functools

import pytest
from tests.outside.combustion import reference
from tests.outside.combustion.ours import our_fuel

M3_PER_MOL = 8.314462618 * 288.15 / 101_325.0


KEYS = (
    "air_mol",
    "dry_flue_mol",
    "h2o_mol",
    "k",
    "dry_flue_m3_per_kwh_net",
    "h2o_kg_per_kwh_net",
    "co_mg_per_kwh_net_per_ppm",
    "nox_mg_per_kwh_net_per_ppm",
)


@functools.cache
def theirs(name: str) -> dict[str, float]:
    burnt, flame = reference.burnt(name, 0.0), reference.gas()
    per_kwh = 3600.0 / reference.net_kj(name)
    weight = dict(zip(flame.species_names, flame.molecular_weights, strict=True))
    return {
        "air_mol": burnt.least_air_mol,
        "dry_flue_mol": burnt.dry_mol,
        "h2o_mol": burnt.moles["H2O"],
        "k": burnt.dry_mol / burnt.least_air_mol,
        "dry_flue_m3_per_kwh_net": burnt.dry_mol * M3_PER_MOL * per_kwh,
        "h2o_kg_per_kwh_net": burnt.moles["H2O"] * weight["H2O"] / 1000.0 * per_kwh,
        "co_mg_per_kwh_net_per_ppm": burnt.dry_mol * weight["CO"] / 1000.0 * per_kwh,
        "nox_mg_per_kwh_net_per_ppm": burnt.dry_mol * weight["NO2"] / 1000.0 * per_kwh,
    }


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("name", reference.FUEL_NAMES)
def test_air_flue_gas_and_emissions(name: str, key: str) -> None:
    assert getattr(our_fuel(name), key) == pytest.approx(theirs(name)[key], rel=2e-4)
