from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flueleaf.domain.combustion import losses
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
NATURAL = FUELS["natural gas"]

fuels = st.sampled_from(list(FUELS.values()))
factors = st.floats(1.0, 2.5)
# Two air factors a last digit apart may come out in the other order, by as much as a sum rounds. %
ROUNDING = 1e-9


@settings(max_examples=60)
@given(fuels, factors, st.floats(0.0, 35.0), st.floats(0.0, 250.0), st.floats(0.0, 250.0))
def test_hotter_flue_gas_never_loses_less(
    fuel: Fuel, factor: float, air_c: float, one: float, two: float
) -> None:
    low, high = sorted((one, two))
    assume(low >= air_c)
    less, more = (losses.loss_net_pct(fuel, factor, flue_c, air_c) for flue_c in (low, high))
    assert less <= more + ROUNDING


@settings(max_examples=60)
@given(fuels, factors, factors, st.floats(0.0, 35.0), st.floats(36.0, 250.0))
def test_more_air_never_loses_less(fuel: Fuel, one: float, two: float, air_c: float, flue_c: float) -> None:
    low, high = sorted((one, two))
    less, more = (losses.loss_net_pct(fuel, factor, flue_c, air_c) for factor in (low, high))
    assert less <= more + ROUNDING


@settings(max_examples=60)
@given(fuels, factors, st.floats(0.0, 35.0), st.floats(36.0, 70.0), st.floats(71.0, 250.0))
def test_losses_add_up_over_a_step_between(
    fuel: Fuel, factor: float, air_c: float, between_c: float, flue_c: float
) -> None:
    whole = losses.loss_net_pct(fuel, factor, flue_c, air_c)
    parts = losses.loss_net_pct(fuel, factor, between_c, air_c) + losses.loss_net_pct(
        fuel, factor, flue_c, between_c
    )
    assert parts == pytest.approx(whole)


@settings(max_examples=80)
@given(fuels, factors, st.floats(-30.0, 35.0), st.floats(0.0, 250.0))
def test_condensing_is_bounded_by_dry_and_by_gross_heat(
    fuel: Fuel, factor: float, air_c: float, flue_c: float
) -> None:
    assume(flue_c >= air_c)
    heat = losses.condensing(fuel, factor, flue_c, air_c)
    assert 0.0 <= heat.condensed_fraction < 1.0
    assert heat.efficiency_net_pct >= 100.0 - losses.loss_net_pct(fuel, factor, flue_c, air_c) - 1e-9
    assert heat.efficiency_gross_pct <= 100.0
    assert heat.efficiency_net_pct == pytest.approx(heat.efficiency_gross_pct * fuel.gross_net_ratio)


def test_nothing_condenses_above_the_dew_point_or_above_boiling() -> None:
    for flue_c in (60.0, 99.99, 100.0, 250.0):
        heat = losses.condensing(NATURAL, 1.2, flue_c, 20.0)
        assert heat.condensed_fraction == 0.0
        assert heat.efficiency_net_pct == 100.0 - losses.loss_net_pct(NATURAL, 1.2, flue_c, 20.0)


def test_freezing_flue_gas_gives_no_condensing_figure() -> None:
    with pytest.raises(ValueError, match="freeze"):
        losses.condensing(NATURAL, 1.2, -1.0, -5.0)


def test_without_water_nothing_condenses() -> None:
    fuel = Fuel("carbon monoxide", "gas", {"carbon monoxide": 1.0})
    assert losses.condensing(fuel, 1.2, 40.0, 20.0).condensed_fraction == 0.0


def test_no_loss_between_equal_temperatures() -> None:
    assert losses.loss_net_pct(NATURAL, 1.3, 20.0, 20.0) == 0.0
    assert losses.loss_siegert_pct(NATURAL, 5.0, 20.0, 20.0) == 0.0


@pytest.mark.parametrize(
    ("flue_c", "air_c", "named"),
    [
        (19.9, 20.0, "colder"),
        (601.0, 20.0, "flue gas"),
        (50.0, -31.0, "air"),
        (float("nan"), 20.0, "flue gas"),
    ],
)
def test_temperatures_outside_their_range_are_refused(flue_c: float, air_c: float, named: str) -> None:
    for work in (
        lambda: losses.loss_net_pct(NATURAL, 1.2, flue_c, air_c),
        lambda: losses.loss_siegert_pct(NATURAL, 4.0, flue_c, air_c),
        lambda: losses.bs845(NATURAL, 9.0, flue_c, air_c),
    ):
        with pytest.raises(ValueError, match=named):
            work()


def test_a_loss_beyond_the_heat_supplied_is_refused() -> None:
    for work in (
        lambda: losses.loss_net_pct(NATURAL, 100.0, 200.0, 20.0),
        lambda: losses.loss_siegert_pct(NATURAL, 20.9, 200.0, 20.0),
        lambda: losses.bs845(NATURAL, 0.1, 200.0, 20.0),
    ):
        with pytest.raises(ValueError, match="more than the heat supplied"):
            work()


def test_an_air_factor_below_one_is_refused() -> None:
    with pytest.raises(ValueError, match="air factor"):
        losses.loss_net_pct(NATURAL, 0.9, 60.0, 20.0)


def test_siegert_wants_coefficients_and_possible_oxygen() -> None:
    with pytest.raises(ValueError, match="no Siegert"):
        losses.loss_siegert_pct(replace(NATURAL, siegert=None), 4.0, 60.0, 20.0)
    with pytest.raises(ValueError, match="oxygen"):
        losses.loss_siegert_pct(NATURAL, 20.95, 60.0, 20.0)


@pytest.mark.parametrize("co2_pct", [0.0, -1.0, 12.1, float("nan")])
def test_the_british_style_wants_possible_carbon_dioxide(co2_pct: float) -> None:
    with pytest.raises(ValueError, match="carbon dioxide"):
        losses.bs845(NATURAL, co2_pct, 60.0, 20.0)


def test_the_british_style_is_the_contracts_formula() -> None:
    # Worked by hand from the printed formula: C 86, H 14 mass %, net 43,110 kJ/kg, gross = net x ratio.
    fuel = FUELS["kerosene"]
    gross = 43_110.0 * fuel.gross_net_ratio
    dry_net = 255.0 * 86.0 / 43_110.0 * (180.0 - 20.0) / 11.0
    wet = 9.0 * 14.0 * (2488.0 + 2.1 * 180.0 - 4.2 * 20.0) / gross
    found = losses.bs845(fuel, 11.0, 180.0, 20.0)
    assert found.efficiency_net_pct == pytest.approx(100.0 - dry_net)
    assert found.efficiency_gross_pct == pytest.approx(100.0 - dry_net / fuel.gross_net_ratio - wet)


def test_leaving_out_the_vapours_sensible_heat_looks_better_the_hotter_the_flue() -> None:
    gaps = []
    for flue_c in (60.0, 200.0):
        style = losses.bs845(FUELS["methane"], 9.5, flue_c, 20.0).efficiency_net_pct
        gaps.append(style - (100.0 - losses.loss_net_pct(FUELS["methane"], 1.21, flue_c, 20.0)))
    assert 0.0 < gaps[0] < gaps[1]
