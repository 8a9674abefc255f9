"""What each gas weighs, is made of, holds as heat and how far it departs from an ideal gas.

Sources, each with how it was checked:

* Atomic weights: those of ISO 6976:2016, annex A; recalled, their sums read in ``chemicals`` (1.5).
* Formation enthalpies at 25 °C: Active Thermochemical Tables (Argonne, 1.112) for all but the pentanes, CRC
  Handbook for these; read in the data of the ``chemicals`` library (1.5).
* Heat capacities of flue gases: seven-coefficient polynomials, 200 to 1000 K (Burcat and Ruscic, ANL-05/20,
  2005, after Gurvich, TPIS 1978/1989); read in the data of Cantera (3.2, nasa_gas.yaml).
* Heat capacities of fuel gases at 25 °C: Poling, Prausnitz, O'Connell, 5th ed.; read in ``chemicals`` 1.5.
* Summation factors at 15 °C: ISO 6976:2016, table 2; recalled; near those of GPA 2145-16 at 60 °F, read.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from flueleaf.domain.combustion.constants import (
    GAS_CONSTANT_J_PER_MOL_K,
    HEATING_REFERENCE_C,
    KELVIN_OF_0_C,
)

ATOMIC_G_PER_MOL: Final[Mapping[str, float]] = {
    "C": 12.0107,
    "H": 1.00794,
    "O": 15.9994,
    "N": 14.0067,
    "S": 32.065,
}

# Liquid water, formation enthalpy at 25 °C. Source: Active Thermochemical Tables; read as above.
WATER_LIQUID_KJ_PER_MOL = -285.825

Polynomial = tuple[float, float, float, float, float]
# Range of the polynomials, °C (200 to 1000 K, kept a little inside).
COLDEST_C, HOTTEST_C = -73.0, 726.0


@dataclass(frozen=True, slots=True)
class FuelGas:
    """A gas that a fuel gas may hold.

    Attributes:
        carbon, hydrogen, oxygen, nitrogen: atoms in the molecule.
        formation_kj_per_mol: formation enthalpy at 25 °C, ideal gas.
        heat_capacity_j_per_mol_k: at 25 °C, constant pressure, ideal gas.
        summation_factor: real-gas summation factor at 15 °C, 101.325 kPa.
    """

    carbon: int
    hydrogen: int
    oxygen: int
    nitrogen: int
    formation_kj_per_mol: float
    heat_capacity_j_per_mol_k: float
    summation_factor: float

    @property
    def g_per_mol(self) -> float:
        """Molar mass."""
        atoms = ATOMIC_G_PER_MOL
        return (
            self.carbon * atoms["C"]
            + self.hydrogen * atoms["H"]
            + self.oxygen * atoms["O"]
            + self.nitrogen * atoms["N"]
        )


FUEL_GASES: Final[Mapping[str, FuelGas]] = {
    "methane": FuelGas(1, 4, 0, 0, -74.534, 35.69, 0.04452),
    "ethane": FuelGas(2, 6, 0, 0, -83.78, 52.47, 0.0919),
    "propane": FuelGas(3, 8, 0, 0, -104.39, 73.60, 0.1344),
    "n-butane": FuelGas(4, 10, 0, 0, -125.85, 98.49, 0.1840),
    "isobutane": FuelGas(4, 10, 0, 0, -135.36, 96.65, 0.1722),
    "n-pentane": FuelGas(5, 12, 0, 0, -146.9, 120.04, 0.2361),
    "isopentane": FuelGas(5, 12, 0, 0, -153.6, 118.97, 0.2251),
    "neopentane": FuelGas(5, 12, 0, 0, -168.0, 120.80, 0.2040),
    "hydrogen": FuelGas(0, 2, 0, 0, 0.0, 28.84, -0.0100),
    "carbon monoxide": FuelGas(1, 0, 1, 0, -110.525, 29.14, 0.0217),
    "carbon dioxide": FuelGas(1, 0, 2, 0, -393.474, 37.13, 0.0752),
    "nitrogen": FuelGas(0, 0, 0, 2, 0.0, 29.12, 0.0170),
}


@dataclass(frozen=True, slots=True)
class FlueSpecies:
    """A gas in the flue: formation enthalpy at 25 °C and the polynomial of its heat capacity over R."""

    formation_kj_per_mol: float
    polynomial: Polynomial


FLUE_SPECIES: Final[Mapping[str, FlueSpecies]] = {
    "CO2": FlueSpecies(-393.474, (2.35677352, 8.98459677e-3, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13)),
    "H2O": FlueSpecies(-241.822, (4.19864056, -2.0364341e-3, 6.52040211e-6, -5.48797062e-9, 1.77197817e-12)),
    "N2": FlueSpecies(0.0, (3.53100528, -1.23660987e-4, -5.02999437e-7, 2.43530612e-9, -1.40881235e-12)),
    "O2": FlueSpecies(0.0, (3.78245636, -2.99673415e-3, 9.847302e-6, -9.68129508e-9, 3.24372836e-12)),
    # JANAF 6/61, given from 300 K; below it is used for traces of sulphur only.
    "SO2": FlueSpecies(-296.84, (3.2665338, 5.3237902e-3, 6.8437552e-7, -5.2810047e-9, 2.5590454e-12)),
}


def heat_content_kj_per_mol(polynomial: Polynomial, gas_c: float) -> float:
    """Return the integral of the heat capacity from 0 K, kJ/mol; only differences of it mean anything.

    Args:
        polynomial: coefficients of the heat capacity over R, kelvin (of one gas, or summed for a mixture).
        gas_c: temperature, −73 to 726 °C.
    """
    if not COLDEST_C <= gas_c <= HOTTEST_C:
        raise ValueError(f"gas at {gas_c} °C is outside {COLDEST_C}..{HOTTEST_C} °C")
    a, b, c, d, e = polynomial
    t = gas_c + KELVIN_OF_0_C
    inner = a + t * (b / 2.0 + t * (c / 3.0 + t * (d / 4.0 + t * e / 5.0)))
    return GAS_CONSTANT_J_PER_MOL_K * t * inner / 1000.0


def enthalpy_kj_per_mol(species: FlueSpecies, gas_c: float) -> float:
    """Return enthalpy on the scale of formation at 25 °C, kJ/mol."""
    warmed = heat_content_kj_per_mol(species.polynomial, gas_c)
    return (
        species.formation_kj_per_mol
        + warmed
        - heat_content_kj_per_mol(species.polynomial, HEATING_REFERENCE_C)
    )


def mixture_polynomial(moles: Mapping[str, float]) -> Polynomial:
    """Return the polynomial of a mixture of flue gases, from the moles of each."""
    sums = [0.0] * 5
    for name, amount in moles.items():
        for place, coefficient in enumerate(FLUE_SPECIES[name].polynomial):
            sums[place] += amount * coefficient
    return (sums[0], sums[1], sums[2], sums[3], sums[4])
