"""Flue gas, dew point and heat over a grid against Cantera and IAPWS.

Each case is one fuel at one oxygen reading; the flue and air temperatures are walked through inside it.
Cantera burns the fuel to equilibrium with GRI-Mech 3.0 thermodynamics (dissociation is nil at 500 K), so the
carbon dioxide comes from its own solver and the heats from its own polynomials.
"""

from __future__ import annotations

import functools
from typing import Any

import cantera as ct
import iapws
import pytest

from flueleaf.domain.combustion import gas, losses
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
CANTERA_FUELS = {
    "methane": {"CH4": 1.0},
    "propane": {"C3H8": 1.0},
    # No butanes or pentanes in GRI-Mech: a mix of the lighter gases stands in for the supply.
    "mix": {"CH4": 0.90, "C2H6": 0.06, "C3H8": 0.01, "CO2": 0.01, "N2": 0.02},
    "blend": {"CH4": 0.80, "H2": 0.20},
}
OURS = {
    "CH4": "methane",
    "C2H6": "ethane",
    "C3H8": "propane",
    "CO2": "carbon dioxide",
    "N2": "nitrogen",
    "H2": "hydrogen",
}
OXYGEN_PCT = (0.0, 3.0, 6.0, 9.0, 12.0, 15.0, 18.0)
GRID = [pytest.param(name, o2, id=f"{name}-{o2:g}") for name in CANTERA_FUELS for o2 in OXYGEN_PCT]


@functools.cache
def mechanism() -> Any:
    return ct.Solution("gri30.yaml", transport_model=None)


def our_fuel(name: str) -> Any:
    if name in FUELS:
        return FUELS[name]
    template = FUELS["natural gas"]
    parts = {OURS[species]: share for species, share in CANTERA_FUELS[name].items()}
    return type(template)(name, "gas", parts)


def burnt(name: str, factor: float) -> tuple[Any, dict[str, float]]:
    """Return Cantera's gas after burning one mole of fuel, and its moles by species."""
    flame = mechanism()
    parts = CANTERA_FUELS[name]
    oxygen = sum(
        share * (flame.n_atoms(s, "C") + flame.n_atoms(s, "H") / 4.0 - flame.n_atoms(s, "O") / 2.0)
        for s, share in parts.items()
    )
    feed = dict(parts)
    feed["O2"] = feed.get("O2", 0.0) + factor * oxygen
    feed["N2"] = feed.get("N2", 0.0) + factor * oxygen * 79.05 / 20.95
    flame.TPX = 500.0, 101325.0, feed
    moles_in = sum(feed.values()) * flame.mean_molecular_weight
    flame.equilibrate("TP")
    total = moles_in / flame.mean_molecular_weight
    moles = {s: total * flame[s].X[0] for s in ("CO2", "H2O", "O2", "N2")}
    return flame, moles


@pytest.mark.parametrize(("name", "o2_pct"), GRID)
def test_carbon_dioxide_and_oxygen(name: str, o2_pct: float) -> None:
    fuel = our_fuel(name)
    _, moles = burnt(name, gas.air_factor(fuel, o2_pct))
    dry = moles["CO2"] + moles["O2"] + moles["N2"]
    assert gas.co2_from_o2_pct(fuel, o2_pct) == pytest.approx(100.0 * moles["CO2"] / dry, abs=0.005)
    assert o2_pct == pytest.approx(100.0 * moles["O2"] / dry, abs=0.005)


@pytest.mark.parametrize(("name", "o2_pct"), GRID)
def test_dew_point(name: str, o2_pct: float) -> None:
    fuel = our_fuel(name)
    _, moles = burnt(name, gas.air_factor(fuel, o2_pct))
    share = moles["H2O"] / sum(moles.values())
    dew_c = iapws.IAPWS95(P=0.101325 * share, x=0).T - 273.15
    assert gas.dew_point_c(fuel, gas.air_factor(fuel, o2_pct)) == pytest.approx(dew_c, abs=0.05)


def enthalpy_kj(flame: Any, moles: dict[str, float], celsius: float) -> float:
    flame.TPX = celsius + 273.15, 101325.0, moles
    return float(flame.enthalpy_mole / 1e6 * sum(moles.values()))


@pytest.mark.parametrize(("name", "o2_pct"), GRID)
def test_flue_loss_and_efficiency(name: str, o2_pct: float) -> None:
    fuel = our_fuel(name)
    factor = gas.air_factor(fuel, o2_pct)
    flame, moles = burnt(name, factor)
    air = {"O2": 20.95 / 79.05 * (moles["N2"] - CANTERA_FUELS[name].get("N2", 0.0))}
    air["N2"] = air["O2"] * 79.05 / 20.95
    net_kj = (
        enthalpy_kj(flame, dict(CANTERA_FUELS[name]), 25.0)
        + enthalpy_kj(flame, air, 25.0)
        - enthalpy_kj(flame, moles, 25.0)
    )
    assert fuel.net_kj == pytest.approx(net_kj, rel=0.001)
    for flue_c in (30.0, 60.0, 100.0, 180.0, 250.0):
        for air_c in (0.0, 10.0, 20.0, 30.0):
            lost = enthalpy_kj(flame, moles, flue_c) - enthalpy_kj(flame, moles, air_c)
            assert losses.loss_net_pct(fuel, factor, flue_c, air_c) == pytest.approx(
                100.0 * lost / net_kj, abs=0.1
            )
