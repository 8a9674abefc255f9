from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.combustion import gas
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.slip_figures import SlipFigures, slip_figures
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
NATURAL = FUELS["natural gas"]
NOTHING: dict[str, float | None] = dict.fromkeys(("o2_pct", "co2_pct", "co_ppm", "no_ppm", "flue_c", "air_c"))


def figures(fuel: Fuel = NATURAL, **readings: float | None) -> SlipFigures:
    return slip_figures(fuel, **(NOTHING | readings))  # type: ignore[arg-type]


def present(found: SlipFigures) -> set[str]:
    return {name for name, value in dataclasses.asdict(found).items() if value is not None}


# The worked sample of the headless contract: natural gas, 4.8 / 9.1 / 61 / 54 / 18; digits as printed there.
@pytest.mark.parametrize(
    ("key", "value", "off"),
    [
        ("co2_from_o2_pct", 9.28, 0.005),
        ("air_factor", 1.2675, 0.00005),
        ("excess_air_pct", 26.75, 0.005),
        ("excess_air_short_pct", 29.7, 0.05),
        ("co_undiluted_ppm", 79.1, 0.05),
        ("co_mg_per_kwh", 85.2, 0.05),
        ("dew_point_c", 54.1, 0.05),
        ("loss_net_pct", 1.79, 0.005),
        ("loss_siegert_pct", 1.79, 0.005),
        ("efficiency_net_pct", 98.21, 0.005),
        ("efficiency_gross_pct", 88.73, 0.005),
        ("efficiency_net_condensing_pct", 98.28, 0.01),
        ("efficiency_gross_condensing_pct", 88.80, 0.005),
        ("condensed_fraction", 0.007, 0.0005),
    ],
)
def test_the_contracts_sample_comes_out(key: str, value: float, off: float) -> None:
    found = figures(o2_pct=4.8, co2_pct=9.1, co_ppm=61.0, flue_c=54.0, air_c=18.0)
    assert getattr(found, key) == pytest.approx(value, abs=off)


def test_the_british_style_of_the_sample_uses_the_measured_carbon_dioxide() -> None:
    found = figures(o2_pct=4.8, co2_pct=9.1, co_ppm=61.0, flue_c=54.0, air_c=18.0)
    derived = figures(o2_pct=4.8, flue_c=54.0, air_c=18.0)
    assert found.efficiency_net_bs845_pct is not None
    assert derived.efficiency_net_bs845_pct is not None
    assert found.efficiency_net_bs845_pct < derived.efficiency_net_bs845_pct
    assert found.efficiency_net_bs845_pct == pytest.approx(98.51, abs=0.1)
    assert found.efficiency_gross_bs845_pct == pytest.approx(88.7, abs=0.2)


def test_nothing_measured_gives_nothing() -> None:
    assert present(figures()) == set()


def test_measured_oxygen_leads_and_carbon_dioxide_steps_in() -> None:
    with_both = figures(o2_pct=5.0, co2_pct=9.5)
    from_co2 = figures(co2_pct=9.5)
    assert with_both.air_factor == gas.air_factor(NATURAL, 5.0)
    assert from_co2.air_factor == gas.air_factor(NATURAL, gas.o2_from_co2_pct(NATURAL, 9.5))
    assert from_co2.co2_from_o2_pct == pytest.approx(9.5)


@pytest.mark.parametrize("o2_pct", [20.95, 21.0, 25.0])
def test_fresh_air_gives_no_air_factor_even_beside_carbon_dioxide(o2_pct: float) -> None:
    found = figures(o2_pct=o2_pct, co2_pct=9.0, co_ppm=5.0, flue_c=60.0, air_c=20.0)
    assert "air_factor" not in present(found)
    assert "loss_net_pct" not in present(found)
    assert "co_undiluted_ppm" not in present(found)


def test_carbon_dioxide_beyond_the_fuel_gives_no_figures_of_its_own() -> None:
    found = figures(co2_pct=12.6, co_ppm=20.0, flue_c=60.0, air_c=20.0)
    assert present(found) == set()


def test_flue_gas_colder_than_the_air_loses_nothing_that_could_be_told() -> None:
    found = figures(o2_pct=5.0, co2_pct=9.0, co_ppm=20.0, flue_c=15.0, air_c=20.0)
    assert not {name for name in present(found) if "loss" in name or "efficiency" in name}
    assert found.dew_point_c is not None


def test_nox_and_humid_dew_point_come_only_with_their_readings() -> None:
    plain = figures(o2_pct=5.0, air_c=20.0)
    assert {"nox_mg_per_kwh", "dew_point_humid_c"}.isdisjoint(present(plain))
    full = figures(o2_pct=5.0, no_ppm=30.0, air_c=20.0, air_humidity_pct=60.0)
    assert full.nox_mg_per_kwh == gas.nox_mg_per_kwh(NATURAL, 30.0, 5.0)
    assert full.dew_point_humid_c is not None
    assert full.dew_point_c is not None
    assert full.dew_point_humid_c > full.dew_point_c


FULL = {"o2_pct": 5.0, "co_ppm": 60.0, "no_ppm": 30.0, "flue_c": 45.0, "air_c": 20.0}


def test_emissions_at_three_percent_oxygen_in_both_units_and_on_both_bases() -> None:
    found = figures(**FULL)
    # 60 · 17.95 / 15.95 ppm; 1.2497 mg CO and 2.0525 mg NO2 a ppm at 0 °C (28.0101 and 46.0055 g/mol over the
    # ideal molar volume of 22.414 l).
    assert found.co_at_3_o2_ppm == pytest.approx(67.5235, abs=0.0001)
    assert found.co_at_3_o2_mg_per_m3 == pytest.approx(67.5235 * 1.2497, rel=1e-4)
    assert found.nox_at_3_o2_mg_per_m3 == pytest.approx(33.7618 * 2.0525, rel=1e-4)
    assert found.nox_undiluted_ppm == pytest.approx(30.0 * 20.95 / 15.95)
    assert found.co_mg_per_kwh is not None
    assert found.nox_mg_per_kwh is not None
    ratio = NATURAL.gross_net_ratio
    assert found.co_mg_per_kwh_gross == pytest.approx(found.co_mg_per_kwh / ratio)
    assert found.nox_mg_per_kwh_gross == pytest.approx(found.nox_mg_per_kwh / ratio)


def test_condensate_is_weighed_per_kwh_and_in_litres_only_at_a_known_input() -> None:
    plain, at_24_kw = figures(**FULL), figures(**FULL, input_net_kw=24.0)
    assert plain.condensed_fraction is not None
    assert plain.condensed_fraction > 0.1
    kg = plain.condensed_fraction * NATURAL.h2o_kg_per_kwh_net
    assert plain.condensate_kg_per_kwh_net == pytest.approx(kg)
    assert plain.condensate_l_per_h is None
    # 0.9902 kg/l at 45 °C: IAPWS-97, 990.2 kg/m3.
    assert at_24_kw.condensate_l_per_h == pytest.approx(24.0 * kg / 0.9902, rel=1e-4)


@pytest.mark.parametrize("flue_c", [60.0, 99.9, 100.0, 250.0])
def test_above_the_dew_point_there_is_no_condensate(flue_c: float) -> None:
    found = figures(**(FULL | {"flue_c": flue_c}), input_net_kw=24.0)
    assert (found.condensate_kg_per_kwh_net, found.condensate_l_per_h) == (0.0, 0.0)


@pytest.mark.parametrize(
    "impossible",
    [{"o2_pct": 21.2}, {"o2_pct": None, "co2_pct": 13.0}, {"flue_c": 15.0}, {"flue_c": -5.0, "air_c": -20.0}],
)
def test_impossible_readings_give_no_condensate(impossible: dict[str, float | None]) -> None:
    found = figures(**(FULL | impossible), input_net_kw=24.0)
    assert not {name for name in present(found) if "condens" in name}


def readings(low: float, high: float) -> st.SearchStrategy[float | None]:
    return st.none() | st.floats(low, high) | st.sampled_from([low, high])


@settings(max_examples=100)
@given(
    st.sampled_from(
        [
            *FUELS.values(),
            Fuel("hydrogen", "gas", {"hydrogen": 1.0}),
            Fuel("no water", "gas", {"carbon monoxide": 1.0}),
        ]
    ),
    st.fixed_dictionaries(
        {
            "o2_pct": readings(0.0, 25.0),
            "co2_pct": readings(0.0, 25.0),
            "co_ppm": readings(0.0, 100_000.0),
            "no_ppm": readings(0.0, 100_000.0),
            "flue_c": readings(-30.0, 600.0),
            "air_c": readings(-30.0, 600.0),
            "air_humidity_pct": readings(0.0, 100.0),
            "input_net_kw": readings(0.1, 10_000.0),
        }
    ),
)
def test_what_an_instrument_can_show_never_raises_and_never_gives_nonsense(
    fuel: Fuel, given_: dict[str, float | None]
) -> None:
    found = slip_figures(fuel, **given_)  # type: ignore[arg-type]
    values = dataclasses.asdict(found)
    assert all(value is None or math.isfinite(value) for value in values.values())
    for name, value in values.items():
        if value is not None and name.startswith("efficiency"):
            assert 0.0 <= value <= 120.0
        if value is not None and name.startswith("efficiency_gross"):
            assert value <= 100.0
        if value is not None and name.startswith("efficiency_net"):
            assert value <= 100.0 * fuel.gross_net_ratio
        if value is not None and ("condens" in name or "co_" in name or "nox_" in name):
            assert value >= 0.0
