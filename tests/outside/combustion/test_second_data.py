"""The flue loss from heat capacities of other origin than ours.

Cantera's polynomials of the flue gases are the same as ours, so the grid proves the working, not the data.
Here carbon dioxide, nitrogen and oxygen follow the Shomate equations of the NIST WebBook (``chemicals``,
after JANAF) and steam follows IAPWS-95 at a pressure so low that it is ideal. The moles are Cantera's.
"""

from __future__ import annotations

import functools

import iapws
import pytest
from chemicals.heat_capacity import WebBook_Shomate_gases
from tests.outside.combustion import reference

from flueleaf.domain.combustion import gas, losses
from flueleaf.domain.combustion.species import FLUE_SPECIES, heat_content_kj_per_mol
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
CAS = {"CO2": "124-38-9", "N2": "7727-37-9", "O2": "7782-44-7"}


@functools.cache
def heat_kj(species: str, low_c: float, high_c: float) -> float:
    """Return the heat that warms a mole of gas, kJ."""
    low, high = low_c + 273.15, high_c + 273.15
    if species == "H2O":
        cold, warm = (iapws.IAPWS95(T=kelvin, P=1e-4).h for kelvin in (low, high))
        return float((warm - cold) * reference.WATER_G_PER_MOL / 1000.0)
    capacity = WebBook_Shomate_gases[CAS[species]]
    return float(capacity.force_calculate_integral(low, high) / 1000.0)


# From 25 °C on, where NIST's equation for carbon dioxide begins.
@pytest.mark.parametrize("o2_pct", [0.0, 5.0, 12.0])
@pytest.mark.parametrize("name", FUELS)
def test_flue_loss_from_other_heat_capacities(name: str, o2_pct: float) -> None:
    fuel = FUELS[name]
    factor = gas.air_factor(fuel, o2_pct)
    moles = reference.burnt(name, o2_pct).moles
    for flue_c in (40.0, 60.0, 100.0, 180.0, 250.0):
        for air_c in (25.0, 35.0):
            lost = sum(amount * heat_kj(species, air_c, flue_c) for species, amount in moles.items())
            theirs = 100.0 * lost / reference.net_kj(name)
            assert losses.loss_net_pct(fuel, factor, flue_c, air_c) == pytest.approx(theirs, abs=0.02)


# Gas by gas, from 25 °C; the two compilations lie 0.14 % apart at most.
@pytest.mark.parametrize("gas_c", [40.0, 120.0, 250.0])
@pytest.mark.parametrize("species", ["CO2", "H2O", "N2", "O2"])
def test_heat_content_by_another_compilation(species: str, gas_c: float) -> None:
    polynomial = FLUE_SPECIES[species].polynomial
    ours = heat_content_kj_per_mol(polynomial, gas_c) - heat_content_kj_per_mol(polynomial, 25.0)
    assert ours == pytest.approx(heat_kj(species, 25.0, gas_c), rel=1.5e-3)
