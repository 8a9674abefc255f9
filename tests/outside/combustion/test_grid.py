"""Flue gas, dew point and efficiency over a grid against Cantera and IAPWS-95.

Each case is one fuel at one oxygen reading; flue and air temperatures are walked through inside it. Asked for
are CO2 within 0.005 points, dew point 0.1 °C, efficiencies 0.1 points, condensed part 0.002; held to here is
less, so that a slip of a coefficient shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from tests.outside.combustion import reference
from tests.outside.combustion.ours import our_fuel

from flueleaf.domain.combustion import gas, losses

OXYGEN_PCT = (0.0, 3.0, 6.0, 9.0, 12.0, 15.0, 18.0)
FLUE_C = (30.0, 38.0, 46.0, 54.0, 62.0, 80.0, 100.0, 140.0, 200.0, 250.0)
AIR_C = (0.0, 10.0, 20.0, 35.0)
GRID = [pytest.param(name, o2, id=f"{name}-{o2:g}") for name in reference.FUEL_NAMES for o2 in OXYGEN_PCT]


def temperatures() -> Iterator[tuple[float, float]]:
    return ((flue_c, air_c) for flue_c in FLUE_C for air_c in AIR_C if air_c <= flue_c)


@pytest.mark.parametrize(("name", "o2_pct"), GRID)
def test_carbon_dioxide_and_air(name: str, o2_pct: float) -> None:
    fuel, theirs = our_fuel(name), reference.burnt(name, o2_pct)
    assert theirs.dry_pct("O2") == pytest.approx(o2_pct, abs=1e-6)
    assert gas.co2_from_o2_pct(fuel, o2_pct) == pytest.approx(theirs.dry_pct("CO2"), abs=0.0005)
    assert gas.o2_from_co2_pct(fuel, gas.co2_from_o2_pct(fuel, o2_pct)) == pytest.approx(o2_pct, abs=1e-9)
    assert gas.air_factor(fuel, o2_pct) == pytest.approx(theirs.air_mol / theirs.least_air_mol, abs=5e-5)


@pytest.mark.parametrize(("name", "o2_pct"), GRID)
def test_dew_point(name: str, o2_pct: float) -> None:
    fuel = our_fuel(name)
    theirs_c = reference.dew_point_c(reference.burnt(name, o2_pct).wet_share())
    assert gas.dew_point_c(fuel, gas.air_factor(fuel, o2_pct)) == pytest.approx(theirs_c, abs=0.005)


@pytest.mark.parametrize(("name", "o2_pct"), GRID)
def test_efficiency_without_condensate(name: str, o2_pct: float) -> None:
    fuel = our_fuel(name)
    factor = gas.air_factor(fuel, o2_pct)
    for flue_c, air_c in temperatures():
        theirs = reference.efficiency(name, o2_pct, flue_c, air_c)
        net_pct = 100.0 - losses.loss_net_pct(fuel, factor, flue_c, air_c)
        assert net_pct == pytest.approx(theirs.net_pct, abs=0.01)
        assert net_pct / fuel.gross_net_ratio == pytest.approx(theirs.gross_pct, abs=0.01)


@pytest.mark.parametrize(("name", "o2_pct"), GRID)
def test_efficiency_with_condensate(name: str, o2_pct: float) -> None:
    fuel = our_fuel(name)
    factor = gas.air_factor(fuel, o2_pct)
    for flue_c, air_c in temperatures():
        theirs = reference.condensing(name, o2_pct, flue_c, air_c)
        ours = losses.condensing(fuel, factor, flue_c, air_c)
        assert ours.efficiency_net_pct == pytest.approx(theirs.net_pct, abs=0.01)
        assert ours.efficiency_gross_pct == pytest.approx(theirs.gross_pct, abs=0.01)
        assert ours.condensed_fraction == pytest.approx(theirs.condensed, abs=0.0003)
        assert theirs.gross_pct <= 100.0


# The humidity of the air comes from IAPWS-95, its way into the flue from Cantera's equilibrium.
@pytest.mark.parametrize("humidity_pct", [30.0, 60.0, 100.0])
@pytest.mark.parametrize("name", reference.FUEL_NAMES)
def test_dew_point_with_humid_air(name: str, humidity_pct: float) -> None:
    fuel = our_fuel(name)
    for o2_pct, air_c in ((3.0, 5.0), (5.0, 20.0), (9.0, 35.0)):
        dry = reference.burnt(name, o2_pct)
        vapour_kpa = humidity_pct / 100.0 * reference.saturation_kpa(air_c)
        moist = dry.air_mol * vapour_kpa / (101.325 - vapour_kpa)
        moles: dict[str, Any] = reference.equilibrium(reference.feed(name), dry.air_mol, moist)
        theirs_c = reference.dew_point_c(moles["H2O"] / sum(moles.values()))
        ours_c = gas.dew_point_c(fuel, gas.air_factor(fuel, o2_pct), air_c=air_c, humidity_pct=humidity_pct)
        assert ours_c == pytest.approx(theirs_c, abs=0.005)


# Net and gross heat: Cantera's formation enthalpies, IAPWS-95 for the water. A liquid's net value is given.
@pytest.mark.parametrize("name", reference.GASES)
def test_net_heat(name: str) -> None:
    assert our_fuel(name).net_kj == pytest.approx(reference.net_kj(name), rel=3e-4)


@pytest.mark.parametrize("name", reference.FUEL_NAMES)
def test_gross_heat(name: str) -> None:
    fuel = our_fuel(name)
    assert fuel.gross_kj == pytest.approx(reference.gross_kj(name), rel=3e-4)
    ratio = reference.gross_kj(name) / reference.net_kj(name)
    assert fuel.gross_net_ratio == pytest.approx(ratio, rel=1e-4)
