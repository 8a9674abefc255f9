"""What has to hold of any fuel and any reading, whatever the numbers: round trips, sums, directions.

The fuels are drawn: gases of up to five parts, liquids of carbon, hydrogen and sulphur, and the shipped ones.
"""

from __future__ import annotations

import dataclasses
from decimal import Decimal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flueleaf.domain.combustion import gas, losses
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.fuel_constants import fuel_constants
from flueleaf.domain.combustion.gas_rate import MeterRun, gas_rate
from flueleaf.domain.combustion.slip_figures import SlipFigures, slip_figures
from flueleaf.domain.combustion.species import FUEL_GASES
from flueleaf.domain.combustion.water import vapour_per_dry_mole
from flueleaf.storage.tables.fuels import load_fuels

BURNING = sorted(name for name, one in FUEL_GASES.items() if one.hydrogen or name == "carbon monoxide")
MOST = settings(max_examples=60, deadline=None)
# By how much a sum of a few terms rounds; points.
ROUNDING = 1e-9


@st.composite
def mixes(draw: st.DrawFn) -> Fuel:
    """Draw a gas with at least a tenth of something that burns."""
    names = [draw(st.sampled_from(BURNING)), *draw(st.lists(st.sampled_from(sorted(FUEL_GASES)), max_size=4))]
    parts = {name: draw(st.floats(0.1, 1.0)) for name in names}
    total = sum(parts.values())
    return Fuel("mix", "gas", {name: part / total for name, part in parts.items()})


@st.composite
def oils(draw: st.DrawFn) -> Fuel:
    hydrogen, sulphur = draw(st.floats(0.10, 0.15)), draw(st.floats(0.0, 0.01))
    parts = {"carbon": 0.995 - hydrogen - sulphur, "hydrogen": hydrogen, "sulphur": sulphur}
    return Fuel("oil", "liquid", parts, given_net_mj_per_kg=draw(st.floats(39.0, 45.0)))


fuels = st.one_of(st.sampled_from(list(load_fuels().values())), mixes(), oils())
oxygens = st.floats(0.0, 18.0)
airs_c = st.floats(0.0, 35.0)
flues_c = st.floats(36.0, 250.0)


def figures(fuel: Fuel, o2_pct: float, flue_c: float, air_c: float, **more: float) -> SlipFigures:
    given_ = {"co2_pct": None, "co_ppm": None, "no_ppm": None, **more}
    return slip_figures(fuel, o2_pct=o2_pct, flue_c=flue_c, air_c=air_c, **given_)  # type: ignore[arg-type]


@MOST
@given(fuels, oxygens)
def test_any_two_of_oxygen_carbon_dioxide_and_fuel_give_the_third(fuel: Fuel, o2_pct: float) -> None:
    assume(fuel.co2_max_pct > 0.1)
    co2_pct = gas.co2_from_o2_pct(fuel, o2_pct)
    assert gas.o2_from_co2_pct(fuel, co2_pct) == pytest.approx(o2_pct, abs=1e-9)
    assert gas.apparent_co2_max_pct(o2_pct, co2_pct) == pytest.approx(fuel.co2_max_pct, rel=1e-9)


@MOST
@given(fuels, oxygens, oxygens)
def test_more_oxygen_never_means_more_carbon_dioxide(fuel: Fuel, one: float, two: float) -> None:
    low, high = sorted((one, two))
    assert gas.co2_from_o2_pct(fuel, low) >= gas.co2_from_o2_pct(fuel, high)


@MOST
@given(fuels, st.floats(0.0, 12.0), st.floats(1.0, 5000.0), st.floats(0.0, 0.9))
def test_dilution_leaves_everything_that_is_free_of_it_alone(
    fuel: Fuel, o2_pct: float, ppm: float, share_of_air: float
) -> None:
    left = 1.0 - share_of_air
    before = figures(fuel, o2_pct, 60.0, 20.0, co_ppm=ppm, no_ppm=ppm)
    thinned_o2 = o2_pct * left + 20.95 * share_of_air
    after = figures(fuel, thinned_o2, 60.0, 20.0, co_ppm=ppm * left, no_ppm=ppm * left)
    for name in (entry.name for entry in dataclasses.fields(SlipFigures)):
        if name.startswith(("co_", "nox_")):
            assert getattr(after, name) == pytest.approx(getattr(before, name), rel=1e-9)
    if fuel.co2_max_pct > 0.1:
        ratios = (
            gas.co_co2_ratio(each, gas.co2_from_o2_pct(fuel, o2))
            for each, o2 in ((ppm, o2_pct), (ppm * left, thinned_o2))
        )
        assert next(ratios) == pytest.approx(next(ratios), rel=1e-9)


@MOST
@given(fuels, oxygens, flues_c, airs_c)
def test_loss_and_efficiency_make_the_whole(fuel: Fuel, o2_pct: float, flue_c: float, air_c: float) -> None:
    found = figures(fuel, o2_pct, flue_c, air_c)
    assume(found.loss_net_pct is not None)
    assert found.loss_net_pct is not None
    assert found.efficiency_net_pct is not None
    assert found.efficiency_gross_pct is not None
    assert found.loss_net_pct + found.efficiency_net_pct == pytest.approx(100.0)
    assert found.efficiency_gross_pct * fuel.gross_net_ratio == pytest.approx(found.efficiency_net_pct)


@MOST
@given(fuels, oxygens, st.floats(36.0, 99.0), airs_c)
def test_condensed_and_vapour_make_the_water_of_the_fuel(
    fuel: Fuel, o2_pct: float, flue_c: float, air_c: float
) -> None:
    found = figures(fuel, o2_pct, flue_c, air_c)
    assume(found.condensed_fraction is not None and fuel.h2o_mol > 0.0)
    assert found.condensed_fraction is not None
    dry = gas.dry_flue_mol(fuel, gas.air_factor(fuel, o2_pct))
    # What is left as vapour: all of it, or as much as the dry gas can hold.
    vapour = min(fuel.h2o_mol, dry * vapour_per_dry_mole(flue_c))
    assert found.condensed_fraction * fuel.h2o_mol + vapour == pytest.approx(fuel.h2o_mol)
    assert found.condensate_kg_per_kwh_net == pytest.approx(
        fuel.h2o_kg_per_kwh_net * (1.0 - vapour / fuel.h2o_mol), abs=1e-12
    )


@MOST
@given(fuels, oxygens, st.floats(0.0, 250.0), st.floats(-30.0, 35.0))
def test_no_efficiency_passes_its_ceiling(fuel: Fuel, o2_pct: float, flue_c: float, air_c: float) -> None:
    found = figures(fuel, o2_pct, flue_c, air_c)
    for name, value in dataclasses.asdict(found).items():
        if name.startswith("efficiency_gross") and value is not None:
            assert value <= 100.0
        if name.startswith("efficiency_net") and value is not None:
            assert value <= 100.0 * fuel.gross_net_ratio


@MOST
@given(fuels, oxygens, st.tuples(flues_c, flues_c), airs_c)
def test_efficiency_falls_with_the_temperature_of_the_flue(
    fuel: Fuel, o2_pct: float, both_c: tuple[float, float], air_c: float
) -> None:
    cool, hot = (figures(fuel, o2_pct, flue_c, air_c) for flue_c in sorted(both_c))
    assume(hot.efficiency_net_pct is not None)
    for name in ("efficiency_net_pct", "efficiency_gross_pct", "efficiency_net_condensing_pct"):
        assert getattr(hot, name) <= getattr(cool, name) + ROUNDING


@MOST
@given(fuels, st.tuples(oxygens, oxygens), flues_c, airs_c)
def test_efficiency_and_dew_point_fall_with_excess_air(
    fuel: Fuel, both: tuple[float, float], flue_c: float, air_c: float
) -> None:
    rich, lean = (figures(fuel, o2_pct, flue_c, air_c) for o2_pct in sorted(both))
    assume(lean.efficiency_net_pct is not None)
    for name in ("efficiency_net_pct", "efficiency_gross_pct", "efficiency_net_condensing_pct"):
        assert getattr(lean, name) <= getattr(rich, name) + ROUNDING
    if lean.dew_point_c is not None:
        assert lean.dew_point_c <= rich.dew_point_c + ROUNDING  # type: ignore[operator]


@MOST
@given(fuels, oxygens, airs_c, st.tuples(st.floats(0.0, 100.0), st.floats(0.0, 100.0)))
def test_the_dew_point_rises_with_the_humidity_of_the_air(
    fuel: Fuel, o2_pct: float, air_c: float, both: tuple[float, float]
) -> None:
    dry, moist = (
        figures(fuel, o2_pct, 60.0, air_c, air_humidity_pct=humidity).dew_point_humid_c
        for humidity in sorted(both)
    )
    assume(dry is not None)
    assert moist is not None
    assert dry is not None
    assert moist >= dry - ROUNDING


@MOST
@given(st.floats(0.0, 100_000.0))
def test_ppm_and_milligrams_come_back(ppm: float) -> None:
    assert gas.co_mg_per_m3(ppm) / gas.co_mg_per_m3(1.0) == pytest.approx(ppm)
    assert gas.no2_mg_per_m3(ppm) / gas.no2_mg_per_m3(1.0) == pytest.approx(ppm)


@MOST
@given(
    mixes(), st.decimals("0.01", "10", places=3), st.integers(10, 1000), st.decimals("10", "150", places=1)
)
def test_cubic_feet_and_net_heat_come_back(fuel: Fuel, feet: Decimal, seconds: int, cv: Decimal) -> None:
    metres = feet * Decimal("0.028316846592")
    in_feet, in_metres = (
        gas_rate(fuel, MeterRun(unit, volume, Decimal(seconds)), calorific_value_mj_m3=cv)
        for unit, volume in (("ft3", feet), ("m3", metres))
    )
    assert in_feet.input_gross_kw == pytest.approx(in_metres.input_gross_kw, rel=1e-12)
    assert in_feet.input_net_kw * fuel.gross_net_ratio == pytest.approx(in_feet.input_gross_kw)


@MOST
@given(fuels)
def test_flue_gas_per_kwh_is_that_of_its_moles(fuel: Fuel) -> None:
    found = fuel_constants(fuel)
    dry, wet = found["dry_flue_m3_per_kwh_net"], found["wet_flue_m3_per_kwh_net"]
    assert dry is not None
    assert wet is not None
    assert wet / dry == pytest.approx(1.0 + fuel.h2o_mol / fuel.dry_flue_mol)


@MOST
@given(fuels, st.floats(250.0, 600.0), st.floats(20.0, 20.94))
def test_far_out_a_function_refuses_and_the_figure_is_absent(
    fuel: Fuel, flue_c: float, o2_pct: float
) -> None:
    factor = gas.air_factor(fuel, o2_pct)
    found = figures(fuel, o2_pct, flue_c, 20.0)
    if found.loss_net_pct is None:
        with pytest.raises(ValueError, match="more than the heat supplied"):
            losses.loss_net_pct(fuel, factor, flue_c, 20.0)
    else:
        assert 0.0 < found.loss_net_pct <= 100.0
