"""Heat contents of the flue gases against compilations other than ours."""

from __future__ import annotations

import iapws
import pytest
from chemicals.heat_capacity import Cp_data_Poling, Poling_integral
from tests.outside.combustion import reference

from flueleaf.domain.combustion.species import FLUE_SPECIES, heat_content_kj_per_mol

CAS = {"CO2": "124-38-9", "H2O": "7732-18-5", "N2": "7727-37-9", "O2": "7782-44-7"}


# Poling, Prausnitz, O'Connell, 5th edition, heat capacity integrated from 20 °C: ``chemicals``.
@pytest.mark.parametrize("gas_c", [60.0, 120.0, 250.0, 500.0])
@pytest.mark.parametrize("name", CAS)
def test_heat_from_20_degrees(name: str, gas_c: float) -> None:
    row = Cp_data_Poling.loc[CAS[name]]
    coefficients = [float(row[f"a{place}"]) for place in range(5)]
    kelvin = gas_c + 273.15
    theirs = Poling_integral(kelvin, *coefficients) - Poling_integral(293.15, *coefficients)
    polynomial = FLUE_SPECIES[name].polynomial
    ours = heat_content_kj_per_mol(polynomial, gas_c) - heat_content_kj_per_mol(polynomial, 20.0)
    assert ours * 1000.0 == pytest.approx(theirs, rel=0.01)


# IAPWS-95 at a pressure so low that steam is ideal: ``iapws``.
@pytest.mark.parametrize("gas_c", [40.0, 60.0, 100.0, 180.0, 250.0])
def test_heat_of_steam(gas_c: float) -> None:
    low, high = (iapws.IAPWS95(T=c + 273.15, P=1e-4).h for c in (20.0, gas_c))
    polynomial = FLUE_SPECIES["H2O"].polynomial
    ours = heat_content_kj_per_mol(polynomial, gas_c) - heat_content_kj_per_mol(polynomial, 20.0)
    assert ours * 1000.0 / 18.015268 == pytest.approx(high - low, rel=0.003)


# Cantera's polynomials are ours: this proves the copying and the integral. Sulphur dioxide begins at 300 K.
@pytest.mark.parametrize("name", FLUE_SPECIES)
def test_heat_by_the_same_polynomials(name: str) -> None:
    polynomial = FLUE_SPECIES[name].polynomial
    for gas_c in (30.0, 90.0, 250.0, 600.0):
        theirs = reference.species_kj(name, gas_c) - reference.species_kj(name, 27.0)
        ours = heat_content_kj_per_mol(polynomial, gas_c) - heat_content_kj_per_mol(polynomial, 27.0)
        assert ours == pytest.approx(theirs, rel=1e-5)
