"""Combustion worked out by others' programs: Cantera for gases, IAPWS-95 (``iapws``) for water and steam.

Nothing here uses a formula or a constant of ours. The fuels are typed anew from the fuel table; the air that
gives a dry oxygen reading is found by searching, not by a formula; the composition is Cantera's equilibrium
at 500 K; heats of formation and of the gases are those of its ``nasa_gas.yaml``. A liquid fuel goes in as
loose atoms: the elements alone decide the equilibrium, its net heating value is data.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import cantera as ct
import iapws
from scipy.optimize import brentq

PRESSURE_PA = 101_325.0
KELVIN = 273.15
WATER_G_PER_MOL = 18.015268  # IAPWS R6-95
OXYGEN_SHARE = 0.2095  # of dry air; the rest is nitrogen

_SUPPLY = {
    "methane": 90.5,
    "ethane": 5.2,
    "propane": 1.35,
    "n-butane": 0.25,
    "isobutane": 0.20,
    "n-pentane": 0.10,
    "carbon dioxide": 1.2,
    "nitrogen": 1.2,
}
# Mole %.
GASES: Mapping[str, Mapping[str, float]] = {
    "natural gas": _SUPPLY,
    "methane": {"methane": 100.0},
    "propane": {"propane": 100.0},
    "butane": {"n-butane": 50.0, "isobutane": 50.0},
    "natural gas with 20 % hydrogen": {
        **{name: 0.8 * pct for name, pct in _SUPPLY.items()},
        "hydrogen": 20.0,
    },
}
# Mass % of carbon and hydrogen, net MJ/kg.
LIQUIDS: Mapping[str, tuple[float, float, float]] = {
    "kerosene": (86.0, 14.0, 43.11),
    "gas oil": (86.5, 13.3, 42.50),
}
FUEL_NAMES = (*GASES, *LIQUIDS)

_CANTERA = {
    "methane": "CH4",
    "ethane": "C2H6",
    "propane": "C3H8",
    "n-butane": "C4H10,n-butane",
    "isobutane": "C4H10,isobutane",
    "n-pentane": "C5H12,n-pentane",
    "carbon dioxide": "CO2",
    "nitrogen": "N2",
    "hydrogen": "H2",
}
_PRODUCTS = ("CO2", "H2O", "N2", "O2")
_OTHERS = {"SO2", "CO", "OH", "NO", "NO2", "C", "H", "O", "AR"}


@functools.cache
def gas() -> Any:
    """Return Cantera's ideal gas of fuels, products and loose atoms."""
    wanted = {*_CANTERA.values(), *_PRODUCTS, *_OTHERS}
    species = [one for one in ct.Species.list_from_file("nasa_gas.yaml") if one.name in wanted]
    return ct.Solution(thermo="ideal-gas", species=species)


def feed(name: str) -> dict[str, float]:
    """Return moles by Cantera's species in one mole of a gas, or in one kilogram of a liquid."""
    if name in GASES:
        return {_CANTERA[part]: pct / 100.0 for part, pct in GASES[name].items()}
    carbon_pct, hydrogen_pct, _ = LIQUIDS[name]
    return {
        "C": 10.0 * carbon_pct / gas().atomic_weight("C"),
        "H": 10.0 * hydrogen_pct / gas().atomic_weight("H"),
    }


@dataclass(frozen=True)
class Burnt:
    """What comes of a unit of fuel: moles by species, dry air that went in, that needed at least."""

    moles: Mapping[str, float]
    air_mol: float
    least_air_mol: float

    @property
    def dry_mol(self) -> float:
        return self.moles["CO2"] + self.moles["O2"] + self.moles["N2"]

    def dry_pct(self, species: str) -> float:
        return 100.0 * self.moles[species] / self.dry_mol

    def wet_share(self, more_water_mol: float = 0.0) -> float:
        water = self.moles["H2O"] + more_water_mol
        return water / (self.dry_mol + water)


def equilibrium(fuel: Mapping[str, float], air_mol: float, water_mol: float = 0.0) -> dict[str, float]:
    """Return moles by species at 500 K of fuel and air, moist if water goes in with it."""
    parts = dict(fuel)
    for species, moles in (
        ("O2", OXYGEN_SHARE * air_mol),
        ("N2", (1.0 - OXYGEN_SHARE) * air_mol),
        ("H2O", water_mol),
    ):
        parts[species] = parts.get(species, 0.0) + moles
    flame = gas()
    flame.TPX = 500.0, PRESSURE_PA, parts
    grams = sum(parts.values()) * flame.mean_molecular_weight
    flame.equilibrate("TP")
    total = grams / flame.mean_molecular_weight
    return {species: total * float(flame[species].X[0]) for species in _PRODUCTS}


def _least_air_mol(fuel: Mapping[str, float]) -> float:
    flame = gas()
    oxygen = sum(
        moles * (flame.n_atoms(s, "C") + flame.n_atoms(s, "H") / 4.0 - flame.n_atoms(s, "O") / 2.0)
        for s, moles in fuel.items()
    )
    return float(oxygen / OXYGEN_SHARE)


@functools.cache
def burnt(name: str, o2_pct: float) -> Burnt:
    """Burn a fuel with as much dry air as leaves so much oxygen in the dry flue gas."""
    fuel = feed(name)
    least = _least_air_mol(fuel)

    def surplus(factor: float) -> float:
        moles = equilibrium(fuel, factor * least)
        return 100.0 * moles["O2"] / (moles["CO2"] + moles["O2"] + moles["N2"]) - o2_pct

    factor = 1.0 if o2_pct == 0.0 else float(brentq(surplus, 1.0, 12.0, xtol=1e-9))
    return Burnt(equilibrium(fuel, factor * least), factor * least, least)


@functools.cache
def species_kj(species: str, celsius: float) -> float:
    """Return enthalpy of a gas on the scale of formation, kJ/mol."""
    flame = gas()
    flame.TPX = celsius + KELVIN, PRESSURE_PA, {species: 1.0}
    return float(flame.enthalpy_mole / 1e6)


def enthalpy_kj(moles: Mapping[str, float], celsius: float) -> float:
    """Return enthalpy of gases, each ideal."""
    return sum(amount * species_kj(species, celsius) for species, amount in moles.items())


@functools.cache
def net_kj(name: str) -> float:
    """Return the net heating value at 25 °C: of a gas by Hess's law, of a liquid as given."""
    if name in LIQUIDS:
        return LIQUIDS[name][2] * 1000.0
    fuel = feed(name)
    air = _least_air_mol(fuel)
    fresh = {"O2": OXYGEN_SHARE * air, "N2": (1.0 - OXYGEN_SHARE) * air}
    return enthalpy_kj(fuel, 25.0) + enthalpy_kj(fresh, 25.0) - enthalpy_kj(burnt(name, 0.0).moles, 25.0)


@functools.cache
def gross_kj(name: str) -> float:
    """Return the gross heating value at 25 °C: what is made of water gives its latent heat besides."""
    return net_kj(name) + burnt(name, 0.0).moles["H2O"] * vaporisation_kj(25.0)


@functools.cache
def vaporisation_kj(celsius: float) -> float:
    """Return what a mole of ideal vapour gives up on becoming water of the same temperature, by IAPWS-95."""
    thin = iapws.IAPWS95(T=celsius + KELVIN, P=1e-6).h
    return float((thin - water_kj_per_kg(celsius)) * WATER_G_PER_MOL / 1000.0)


@functools.cache
def water_kj_per_kg(celsius: float) -> float:
    """Return enthalpy of liquid water at 101.325 kPa, by IAPWS-95."""
    return float(iapws.IAPWS95(T=celsius + KELVIN, P=0.101325).h)


@functools.cache
def saturation_kpa(celsius: float) -> float:
    """Return vapour pressure, by IAPWS-95."""
    return float(iapws.IAPWS95(T=celsius + KELVIN, x=0).P * 1000.0)


def dew_point_c(vapour_share: float) -> float:
    """Return the dew point at 101.325 kPa, by IAPWS-95."""
    return float(iapws.IAPWS95(P=vapour_share * PRESSURE_PA / 1e6, x=0).T - KELVIN)


def loss_pct(name: str, o2_pct: float, flue_c: float, air_c: float) -> float:
    """Return the flue loss, % of net, all water as vapour."""
    moles = burnt(name, o2_pct).moles
    return 100.0 * (enthalpy_kj(moles, flue_c) - enthalpy_kj(moles, air_c)) / net_kj(name)


@dataclass(frozen=True)
class Efficiency:
    """Heat kept, % of net and of gross; the part of the water that is liquid."""

    net_pct: float
    gross_pct: float
    condensed: float


def efficiency(name: str, o2_pct: float, flue_c: float, air_c: float) -> Efficiency:
    """Return the efficiency without condensate."""
    kept = net_kj(name) * (1.0 - loss_pct(name, o2_pct, flue_c, air_c) / 100.0)
    return Efficiency(100.0 * kept / net_kj(name), 100.0 * kept / gross_kj(name), 0.0)


def condensing(name: str, o2_pct: float, flue_c: float, air_c: float) -> Efficiency:
    """Return the efficiency with vapour and water in equilibrium at flue temperature.

    The enthalpy of the water hangs on that of the vapour at 25 °C, less IAPWS's heat of vaporisation there.
    """
    products = burnt(name, o2_pct)
    water = products.moles["H2O"]
    vapour = water
    if flue_c < 99.0:
        share = saturation_kpa(flue_c) / (PRESSURE_PA / 1000.0)
        vapour = min(water, products.dry_mol * share / (1.0 - share))
    liquid = water - vapour
    out_kj = enthalpy_kj({**products.moles, "H2O": vapour}, flue_c)
    if liquid > 0.0:
        warmed = (water_kj_per_kg(flue_c) - water_kj_per_kg(25.0)) * WATER_G_PER_MOL / 1000.0
        out_kj += liquid * (species_kj("H2O", 25.0) - vaporisation_kj(25.0) + warmed)
    kept = net_kj(name) - (out_kj - enthalpy_kj(products.moles, air_c))
    return Efficiency(100.0 * kept / net_kj(name), 100.0 * kept / gross_kj(name), liquid / water)
