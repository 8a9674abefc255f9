from __future__ import annotations

import pytest

from flueleaf.domain.combustion.species import (
    FLUE_SPECIES,
    FUEL_GASES,
    enthalpy_kj_per_mol,
    heat_content_kj_per_mol,
    mixture_polynomial,
)


@pytest.mark.parametrize("name", FLUE_SPECIES)
def test_at_25_degrees_enthalpy_is_that_of_formation(name: str) -> None:
    species = FLUE_SPECIES[name]
    assert enthalpy_kj_per_mol(species, 25.0) == species.formation_kj_per_mol


@pytest.mark.parametrize("name", FLUE_SPECIES)
def test_a_warmer_gas_holds_more(name: str) -> None:
    held = [heat_content_kj_per_mol(FLUE_SPECIES[name].polynomial, c) for c in range(-30, 601, 10)]
    assert held == sorted(held)
    assert len(set(held)) == len(held)


def test_a_mixture_holds_what_its_parts_hold() -> None:
    moles = {"CO2": 1.0, "H2O": 2.0, "N2": 7.5, "O2": 0.5}
    parts = sum(n * heat_content_kj_per_mol(FLUE_SPECIES[g].polynomial, 180.0) for g, n in moles.items())
    assert heat_content_kj_per_mol(mixture_polynomial(moles), 180.0) == pytest.approx(parts, rel=1e-12)


@pytest.mark.parametrize("gas_c", [-74.0, 727.0, float("nan")])
def test_the_polynomials_are_not_stretched(gas_c: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        heat_content_kj_per_mol(FLUE_SPECIES["N2"].polynomial, gas_c)


def test_molar_masses_add_up_from_atoms() -> None:
    assert FUEL_GASES["carbon dioxide"].g_per_mol == pytest.approx(12.0107 + 2 * 15.9994)
    assert FUEL_GASES["nitrogen"].g_per_mol == pytest.approx(28.0134)
