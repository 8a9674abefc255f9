from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.combustion import gas
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
NATURAL = FUELS["natural gas"]
HYDROGEN = Fuel("hydrogen", "gas", {"hydrogen": 1.0})

fuels = st.sampled_from(list(FUELS.values()))
oxygens = st.floats(0.0, 20.9)


@settings(max_examples=60)
@given(fuels, oxygens)
def test_oxygen_and_carbon_dioxide_undo_each_other(fuel: Fuel, o2_pct: float) -> None:
    co2_pct = gas.co2_from_o2_pct(fuel, o2_pct)
    assert gas.o2_from_co2_pct(fuel, co2_pct) == pytest.approx(o2_pct, abs=1e-9)


@settings(max_examples=60)
@given(fuels, oxygens, oxygens)
def test_more_oxygen_never_means_more_carbon_dioxide_or_less_air(fuel: Fuel, one: float, two: float) -> None:
    low, high = sorted((one, two))
    assert gas.co2_from_o2_pct(fuel, low) >= gas.co2_from_o2_pct(fuel, high)
    assert gas.air_factor(fuel, low) <= gas.air_factor(fuel, high)
    assert gas.excess_air_short_pct(low) <= gas.excess_air_short_pct(high)


@settings(max_examples=60)
@given(fuels, oxygens)
def test_the_oxygen_of_a_flue_gas_made_up_from_air_and_products_is_read_back(
    fuel: Fuel, o2_pct: float
) -> None:
    factor = gas.air_factor(fuel, o2_pct)
    dry = gas.dry_flue_mol(fuel, factor)
    spare = (factor - 1.0) * fuel.air_mol
    assert 100.0 * 0.2095 * spare / dry == pytest.approx(o2_pct, abs=1e-9)
    assert 100.0 * fuel.atoms.carbon / dry == pytest.approx(gas.co2_from_o2_pct(fuel, o2_pct), abs=1e-9)


@settings(max_examples=60)
@given(fuels, st.floats(0.0, 12.0), st.floats(1.0, 5000.0), st.floats(0.0, 0.9))
def test_dilution_leaves_ratio_and_air_free_co_alone(
    fuel: Fuel, o2_pct: float, co_ppm: float, share_of_air: float
) -> None:
    thinned_o2 = o2_pct * (1.0 - share_of_air) + 20.95 * share_of_air
    thinned_co = co_ppm * (1.0 - share_of_air)
    before, after = gas.co2_from_o2_pct(fuel, o2_pct), gas.co2_from_o2_pct(fuel, thinned_o2)
    assert gas.co_co2_ratio(thinned_co, after) == pytest.approx(gas.co_co2_ratio(co_ppm, before))
    assert gas.co_undiluted_ppm(thinned_co, thinned_o2) == pytest.approx(gas.co_undiluted_ppm(co_ppm, o2_pct))
    assert gas.co_mg_per_kwh(fuel, thinned_co, thinned_o2) == pytest.approx(
        gas.co_mg_per_kwh(fuel, co_ppm, o2_pct)
    )


@settings(max_examples=60)
@given(fuels, oxygens)
def test_the_short_form_overstates_and_the_factor_is_one_plus_the_excess(fuel: Fuel, o2_pct: float) -> None:
    excess = gas.excess_air_pct(fuel, o2_pct)
    assert gas.air_factor(fuel, o2_pct) == pytest.approx(1.0 + excess / 100.0)
    # With next to no oxygen both are what 1 + x rounds to.
    assert gas.excess_air_short_pct(o2_pct) >= excess - 1e-9


@settings(max_examples=60)
@given(fuels, st.floats(0.0, 20.0))
def test_readings_on_a_fuels_line_speak_for_its_maximum(fuel: Fuel, o2_pct: float) -> None:
    co2_pct = gas.co2_from_o2_pct(fuel, o2_pct)
    assert gas.apparent_co2_max_pct(o2_pct, co2_pct) == pytest.approx(fuel.co2_max_pct)


@pytest.mark.parametrize(
    ("o2_pct", "co2_pct"), [(20.95, 1.0), (-0.1, 1.0), (5.0, -0.1), (20.9, 9.0), (5.0, float("nan"))]
)
def test_impossible_readings_speak_for_no_maximum(o2_pct: float, co2_pct: float) -> None:
    with pytest.raises(ValueError, match=r"oxygen|carbon dioxide"):
        gas.apparent_co2_max_pct(o2_pct, co2_pct)


def test_no_rounding_lifts_carbon_dioxide_above_its_maximum() -> None:
    mix = Fuel("mix", "gas", {"isopentane": 0.5, "ethane": 0.5})
    assert gas.co2_from_o2_pct(mix, 0.0) == mix.co2_max_pct
    assert gas.o2_from_co2_pct(mix, gas.co2_from_o2_pct(mix, 0.0)) == 0.0


def test_the_ends_of_the_oxygen_scale() -> None:
    assert gas.co2_from_o2_pct(NATURAL, 0.0) == NATURAL.co2_max_pct
    assert gas.co2_from_o2_pct(NATURAL, 20.95) == 0.0
    assert gas.o2_from_co2_pct(NATURAL, 0.0) == 20.95
    assert gas.o2_from_co2_pct(NATURAL, NATURAL.co2_max_pct) == 0.0
    assert gas.air_factor(NATURAL, 0.0) == 1.0


@pytest.mark.parametrize("o2_pct", [-0.1, 20.95, 21.0, float("nan")])
def test_oxygen_outside_its_range_is_refused(o2_pct: float) -> None:
    for work in (
        lambda: gas.air_factor(NATURAL, o2_pct),
        lambda: gas.excess_air_short_pct(o2_pct),
        lambda: gas.co_undiluted_ppm(10.0, o2_pct),
        lambda: gas.nox_mg_per_kwh(NATURAL, 10.0, o2_pct),
    ):
        with pytest.raises(ValueError, match="oxygen"):
            work()


@pytest.mark.parametrize("o2_pct", [-0.1, 20.96])
def test_no_carbon_dioxide_from_impossible_oxygen(o2_pct: float) -> None:
    with pytest.raises(ValueError, match="oxygen"):
        gas.co2_from_o2_pct(NATURAL, o2_pct)


@pytest.mark.parametrize("co2_pct", [-0.1, 12.1, float("nan")])
def test_no_oxygen_from_impossible_carbon_dioxide(co2_pct: float) -> None:
    with pytest.raises(ValueError, match="carbon dioxide"):
        gas.o2_from_co2_pct(NATURAL, co2_pct)


def test_hydrogen_has_no_carbon_dioxide_to_reckon_from() -> None:
    assert gas.co2_from_o2_pct(HYDROGEN, 5.0) == 0.0
    with pytest.raises(ValueError, match="no carbon dioxide"):
        gas.o2_from_co2_pct(HYDROGEN, 0.0)


@pytest.mark.parametrize("co2_pct", [0.0, -1.0, 100.1])
def test_no_ratio_without_carbon_dioxide(co2_pct: float) -> None:
    with pytest.raises(ValueError, match="no ratio"):
        gas.co_co2_ratio(10.0, co2_pct)


@pytest.mark.parametrize("ppm", [-1.0, float("inf"), float("nan")])
def test_a_concentration_is_finite_and_not_negative(ppm: float) -> None:
    for work in (gas.co_mg_per_m3, gas.no2_mg_per_m3, lambda p: gas.co_undiluted_ppm(p, 3.0)):
        with pytest.raises(ValueError, match="below 0 or not finite"):
            work(ppm)


def test_a_reference_of_three_percent_oxygen_lies_between_measured_and_air_free() -> None:
    assert gas.at_oxygen_ppm(100.0, 8.0, 3.0) == pytest.approx(100.0 * 17.95 / 12.95)
    assert gas.at_oxygen_ppm(100.0, 3.0, 3.0) == 100.0


@settings(max_examples=40)
@given(fuels, st.floats(1.0, 4.0), st.floats(1.0, 4.0))
def test_more_air_never_raises_the_dew_point(fuel: Fuel, one: float, two: float) -> None:
    low, high = sorted((one, two))
    # Two factors a last digit apart may come out in the other order.
    assert gas.dew_point_c(fuel, low) >= gas.dew_point_c(fuel, high) - 1e-9


@settings(max_examples=40)
@given(fuels, st.floats(1.0, 4.0), st.floats(0.0, 35.0), st.floats(0.0, 100.0))
def test_moist_air_never_lowers_the_dew_point(
    fuel: Fuel, factor: float, air_c: float, humidity_pct: float
) -> None:
    moist = gas.dew_point_c(fuel, factor, air_c=air_c, humidity_pct=humidity_pct)
    assert moist >= gas.dew_point_c(fuel, factor)


def test_dry_air_is_air_of_no_humidity() -> None:
    assert gas.dew_point_c(NATURAL, 1.2, air_c=20.0, humidity_pct=0.0) == gas.dew_point_c(NATURAL, 1.2)


def test_far_diluted_flue_gas_and_saturated_air_meet_at_the_airs_temperature() -> None:
    assert gas.dew_point_c(NATURAL, 1e6, air_c=15.0, humidity_pct=100.0) == pytest.approx(15.0, abs=0.01)


def test_dew_below_freezing_is_refused() -> None:
    with pytest.raises(ValueError, match="no liquid dew"):
        gas.dew_point_c(NATURAL, 1e6)


@pytest.mark.parametrize(
    ("given_", "named"),
    [
        ({"air_c": 20.0}, "together"),
        ({"humidity_pct": 50.0}, "together"),
        ({"air_c": -5.0, "humidity_pct": 50.0}, "air at"),
        ({"air_c": 100.0, "humidity_pct": 50.0}, "air at"),
        ({"air_c": 20.0, "humidity_pct": 101.0}, "humidity"),
    ],
)
def test_a_humid_dew_point_wants_both_figures_in_range(given_: dict[str, float], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        gas.dew_point_c(NATURAL, 1.2, **given_)


@pytest.mark.parametrize("factor", [0.99, float("inf"), float("nan")])
def test_an_air_factor_below_one_is_refused(factor: float) -> None:
    with pytest.raises(ValueError, match="air factor"):
        gas.dew_point_c(NATURAL, factor)
