from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.combustion.water import (
    latent_kj_per_mol,
    liquid_kg_per_l,
    saturation_c,
    saturation_kpa,
    vapour_per_dry_mole,
)


@settings(max_examples=50)
@given(st.floats(0.01, 360.0))
def test_pressure_and_temperature_of_saturation_undo_each_other(water_c: float) -> None:
    assert saturation_c(saturation_kpa(water_c)) == pytest.approx(water_c, abs=1e-6)


@pytest.mark.parametrize("water_c", [-0.1, 370.1, float("nan")])
def test_no_saturation_outside_liquid_water(water_c: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        saturation_kpa(water_c)


@pytest.mark.parametrize("vapour_kpa", [0.0, 0.611, 20_001.0, float("nan")])
def test_no_dew_outside_liquid_water(vapour_kpa: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        saturation_c(vapour_kpa)


@pytest.mark.parametrize("water_c", [-1.0, 100.5])
def test_latent_heat_keeps_to_the_range_of_its_mean_heat_capacity(water_c: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        latent_kj_per_mol(water_c)


# IAPWS-97 at 101.325 kPa (library iapws 1.5), kg/m3.
@pytest.mark.parametrize(
    ("water_c", "kg_per_m3"), [(4, 999.975), (20, 998.206), (40, 992.224), (60, 983.211), (99, 959.072)]
)
def test_liquid_water_weighs_what_the_steam_tables_say(water_c: float, kg_per_m3: float) -> None:
    assert 1000.0 * liquid_kg_per_l(water_c) == pytest.approx(kg_per_m3, rel=1e-4)


@pytest.mark.parametrize("water_c", [-0.1, 100.1, float("nan")])
def test_no_density_outside_liquid_water(water_c: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        liquid_kg_per_l(water_c)


def test_warmer_gas_holds_more_vapour_until_the_water_boils() -> None:
    held = [vapour_per_dry_mole(float(c)) for c in range(100)]
    assert held == sorted(held)
    with pytest.raises(ValueError, match="boils"):
        vapour_per_dry_mole(100.0)
