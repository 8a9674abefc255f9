from __future__ import annotations

import pytest

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.fuel_constants import fuel_constants
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
EACH_FUEL = pytest.mark.parametrize("fuel", FUELS.values(), ids=lambda fuel: fuel.name)
PER_GAS = {
    "gross_mj_per_m3",
    "net_mj_per_m3",
    "relative_density",
    "wobbe_gross_mj_per_m3",
    "dry_flue_m3_per_m3",
    "wet_flue_m3_per_m3",
    "air_m3_per_m3",
    "net_kj_per_mol",
    "gross_kj_per_mol",
}


def shown(fuel: Fuel) -> dict[str, float]:
    return {name: value for name, value in fuel_constants(fuel).items() if value is not None}


@EACH_FUEL
def test_only_what_goes_by_the_mole_is_absent_of_a_liquid(fuel: Fuel) -> None:
    missing = {name for name, value in fuel_constants(fuel).items() if value is None}
    assert missing == (PER_GAS if fuel.state == "liquid" else set())


@EACH_FUEL
def test_wet_flue_gas_is_dry_flue_gas_and_its_vapour(fuel: Fuel) -> None:
    found = shown(fuel)
    vapour_m3 = found["h2o_kg_per_kwh_net"] / 0.0180153 * 0.0236448
    wet = found["dry_flue_m3_per_kwh_net"] + vapour_m3
    assert found["wet_flue_m3_per_kwh_net"] == pytest.approx(wet, rel=1e-5)


@EACH_FUEL
def test_gross_and_net_differ_by_their_ratio_everywhere(fuel: Fuel) -> None:
    found = shown(fuel)
    for name in ("dry_flue_m3", "wet_flue_m3", "air_m3", "h2o_kg"):
        per_net, per_gross = found[f"{name}_per_kwh_net"], found[f"{name}_per_kwh_gross"]
        assert per_net / per_gross == pytest.approx(fuel.gross_net_ratio)
    assert found["gross_mj_per_kg"] / found["net_mj_per_kg"] == pytest.approx(fuel.gross_net_ratio)


def test_a_cubic_metre_of_methane_wants_nine_and_a_half_of_air() -> None:
    found = shown(FUELS["methane"])
    # CH4 + 2 O2: two moles of oxygen at 20.95 %.
    assert found["air_m3_per_m3"] == pytest.approx(2 / 0.2095)
    assert found["wet_flue_m3_per_m3"] == pytest.approx(1 + 2 / 0.2095)
    # ISO 6976:2016, table 3: 802.60 and 890.58 kJ/mol at 25 °C; recalled.
    assert found["net_kj_per_mol"] == pytest.approx(802.6, abs=0.2)
    assert found["gross_kj_per_mol"] == pytest.approx(890.6, abs=0.2)


def blend(**parts: float) -> Fuel:
    return Fuel("blend", "gas", {name.replace("_", " "): part for name, part in parts.items()})


def test_a_fifth_of_hydrogen_moves_every_constant_its_own_way() -> None:
    natural = FUELS["natural gas"]
    parts = {name: 0.8 * part for name, part in natural.parts.items()}
    with_hydrogen = shown(Fuel("blend", "gas", {**parts, "hydrogen": 0.2}))
    plain = shown(natural)
    for falls in ("co2_max_pct", "k", "gross_mj_per_m3", "relative_density", "wobbe_gross_mj_per_m3"):
        assert with_hydrogen[falls] < plain[falls]
    for rises in ("gross_net_ratio", "h2o_kg_per_kwh_net", "dew_point_c", "net_mj_per_kg"):
        assert with_hydrogen[rises] > plain[rises]
    # A blend by volume: 0.8 of the mix's and 0.2 of hydrogen's molar heat.
    hydrogen = shown(blend(hydrogen=1.0))["gross_kj_per_mol"]
    assert with_hydrogen["gross_kj_per_mol"] == pytest.approx(
        0.8 * plain["gross_kj_per_mol"] + 0.2 * hydrogen
    )


def test_hydrogen_alone_has_all_constants_but_no_carbon_dioxide() -> None:
    found = shown(blend(hydrogen=1.0))
    assert found["co2_max_pct"] == 0.0
    # Half a mole of oxygen; what is left dry is the air's nitrogen.
    assert found["k"] == pytest.approx(0.7905)
    assert found["gross_kj_per_mol"] == pytest.approx(285.83, abs=0.02)
    assert set(fuel_constants(blend(hydrogen=1.0))) == set(found)


def test_town_gas_rich_in_carbon_monoxide_makes_much_carbon_dioxide_of_little_heat() -> None:
    town = blend(hydrogen=0.5, carbon_monoxide=0.2, methane=0.2, carbon_dioxide=0.04, nitrogen=0.06)
    found = shown(town)
    carbon = 0.2 + 0.2 + 0.04
    air = (0.5 / 2 + 0.2 / 2 + 0.2 * 2) / 0.2095
    assert found["air_m3_per_m3"] == pytest.approx(air)
    assert found["co2_max_pct"] == pytest.approx(100 * carbon / (carbon + 0.06 + 0.7905 * air))
    assert found["gross_mj_per_m3"] < 0.5 * shown(FUELS["natural gas"])["gross_mj_per_m3"]


def test_nitrogen_in_the_gas_thins_its_heat_and_its_flue_gas() -> None:
    natural = FUELS["natural gas"]
    thin = Fuel("thin", "gas", {**{n: 0.95 * p for n, p in natural.parts.items()}, "nitrogen": 0.0614})
    found, plain = shown(thin), shown(natural)
    assert found["gross_mj_per_m3"] == pytest.approx(0.95 * plain["gross_mj_per_m3"], rel=1e-3)
    assert found["co2_max_pct"] < plain["co2_max_pct"]
    assert found["gross_net_ratio"] == pytest.approx(plain["gross_net_ratio"], rel=1e-9)
    assert found["dry_flue_m3_per_kwh_net"] > plain["dry_flue_m3_per_kwh_net"]
