from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.species import FUEL_GASES
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
EACH_FUEL = pytest.mark.parametrize("fuel", FUELS.values(), ids=lambda fuel: fuel.name)
BURNING = sorted(name for name, gas in FUEL_GASES.items() if gas.hydrogen or name == "carbon monoxide")


def mix(**parts: float) -> Fuel:
    return Fuel("mix", "gas", {name.replace("_", " "): share for name, share in parts.items()})


@st.composite
def gas_mixes(draw: st.DrawFn) -> Fuel:
    names = [draw(st.sampled_from(BURNING)), *draw(st.lists(st.sampled_from(sorted(FUEL_GASES)), max_size=4))]
    weights = {name: draw(st.floats(0.05, 1.0)) for name in names}
    total = sum(weights.values())
    return Fuel("mix", "gas", {name: weight / total for name, weight in weights.items()})


@EACH_FUEL
def test_atoms_in_are_atoms_out(fuel: Fuel) -> None:
    flue, air = fuel.flue_mol, fuel.air_mol
    assert flue["CO2"] == fuel.atoms.carbon
    assert 2.0 * flue["H2O"] == fuel.atoms.hydrogen
    oxygen_in = fuel.atoms.oxygen + 2.0 * 0.2095 * air
    assert 2.0 * flue["CO2"] + flue["H2O"] + 2.0 * flue["SO2"] == pytest.approx(oxygen_in)
    assert 2.0 * flue["N2"] == pytest.approx(fuel.atoms.nitrogen + 2.0 * 0.7905 * air)


@settings(max_examples=60)
@given(gas_mixes())
def test_any_mix_of_gases_gives_sound_constants(fuel: Fuel) -> None:
    assert 0.0 <= fuel.co2_max_pct < 100.0
    assert fuel.k > 0.0
    assert 1.0 <= fuel.gross_net_ratio < 1.19  # hydrogen alone: 1.182
    assert fuel.gross_mj_per_m3 is not None
    assert fuel.net_mj_per_m3 is not None
    assert fuel.gross_mj_per_m3 >= fuel.net_mj_per_m3 > 0.0


@settings(max_examples=40)
@given(gas_mixes(), gas_mixes(), st.floats(0.0, 1.0))
def test_heat_per_mole_of_a_blend_is_the_sum_of_its_parts(one: Fuel, other: Fuel, share: float) -> None:
    names = set(one.parts) | set(other.parts)
    parts = {
        n: share * one.parts.get(n, 0.0) + (1.0 - share) * other.parts.get(n, 0.0) for n in sorted(names)
    }
    blend = Fuel("blend", "gas", parts)
    assert blend.net_kj == pytest.approx(share * one.net_kj + (1.0 - share) * other.net_kj)
    assert blend.air_mol == pytest.approx(share * one.air_mol + (1.0 - share) * other.air_mol)


def test_a_hydrogen_blend_makes_less_carbon_dioxide_and_more_water() -> None:
    methane = mix(methane=1.0)
    blend = mix(methane=0.8, hydrogen=0.2)
    assert blend.co2_max_pct < methane.co2_max_pct
    assert blend.h2o_kg_per_kwh_net > methane.h2o_kg_per_kwh_net
    assert blend.gross_mj_per_m3 is not None
    assert methane.gross_mj_per_m3 is not None
    assert blend.gross_mj_per_m3 < methane.gross_mj_per_m3


def test_hydrogen_alone_makes_no_carbon_dioxide() -> None:
    assert mix(hydrogen=1.0).co2_max_pct == 0.0


def test_carbon_monoxide_alone_makes_no_water_and_has_no_dew_point() -> None:
    fuel = mix(carbon_monoxide=1.0)
    assert fuel.dew_point_c is None
    assert fuel.gross_net_ratio == 1.0


def test_so_little_water_that_it_would_be_frost_has_no_dew_point() -> None:
    faint = mix(methane=0.001, nitrogen=0.999)
    assert faint.dew_point_c is None
    assert faint.co2_max_pct > 0.0


def test_inert_gas_in_the_fuel_leaves_its_heat_per_kwh_figures_but_raises_the_flue_volume() -> None:
    lean = mix(methane=0.86, nitrogen=0.14)
    methane = mix(methane=1.0)
    assert lean.gross_net_ratio == pytest.approx(methane.gross_net_ratio)
    assert lean.h2o_kg_per_kwh_net == pytest.approx(methane.h2o_kg_per_kwh_net)
    assert lean.dry_flue_m3_per_kwh_net > methane.dry_flue_m3_per_kwh_net


@EACH_FUEL
def test_what_makes_no_sense_for_a_liquid_is_absent(fuel: Fuel) -> None:
    by_volume = (
        fuel.gross_mj_per_m3,
        fuel.net_mj_per_m3,
        fuel.relative_density,
        fuel.wobbe_gross_mj_per_m3,
        fuel.real_gas_factor,
    )
    assert all((value is None) == (fuel.state == "liquid") for value in by_volume)
    assert fuel.dew_point_c is not None


def test_sulphur_shows_in_the_dry_flue_gas_and_not_as_carbon_dioxide() -> None:
    clean = Fuel("clean", "liquid", {"carbon": 0.86, "hydrogen": 0.13}, given_net_mj_per_kg=42.5)
    sour = Fuel(
        "sour", "liquid", {"carbon": 0.86, "hydrogen": 0.13, "sulphur": 0.01}, given_net_mj_per_kg=42.5
    )
    assert sour.dry_flue_mol > clean.dry_flue_mol
    assert sour.co2_max_pct < clean.co2_max_pct
    assert sour.atoms.carbon == clean.atoms.carbon


def test_mass_fractions_come_back_from_the_atoms() -> None:
    assert FUELS["kerosene"].carbon_mass_pct == pytest.approx(86.0)
    assert FUELS["kerosene"].hydrogen_mass_pct == pytest.approx(14.0)
    assert FUELS["methane"].carbon_mass_pct + FUELS["methane"].hydrogen_mass_pct == pytest.approx(100.0)
