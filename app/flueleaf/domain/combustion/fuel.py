"""A fuel and everything its composition decides.

Source of the method: stoichiometry by atom count; heating values by Hess's law from formation enthalpies;
real-gas factor, relative density and Wobbe index per ISO 6976:2016 (method recalled, sections 6 to 10).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Literal

from flueleaf.domain.combustion.constants import (
    DRY_AIR_G_PER_MOL,
    DRY_AIR_REAL_GAS_FACTOR_15C,
    HEATING_REFERENCE_C,
    KJ_PER_KWH,
    METERING_C,
    MOLAR_VOLUME_15C_M3,
    O2_IN_DRY_AIR_PCT,
    STANDARD_PRESSURE_KPA,
)
from flueleaf.domain.combustion.species import (
    ATOMIC_G_PER_MOL,
    FLUE_SPECIES,
    FUEL_GASES,
    Polynomial,
    enthalpy_kj_per_mol,
    mixture_polynomial,
)
from flueleaf.domain.combustion.water import latent_kj_per_mol, saturation_c

State = Literal["gas", "liquid"]

CO_G_PER_MOL = ATOMIC_G_PER_MOL["C"] + ATOMIC_G_PER_MOL["O"]
NO2_G_PER_MOL = ATOMIC_G_PER_MOL["N"] + 2.0 * ATOMIC_G_PER_MOL["O"]
H2O_G_PER_MOL = 2.0 * ATOMIC_G_PER_MOL["H"] + ATOMIC_G_PER_MOL["O"]

_AIR_PER_O2 = 100.0 / O2_IN_DRY_AIR_PCT


@dataclass(frozen=True, slots=True)
class Siegert:
    """Coefficients of Siegert's formula for a class of fuels; ``b`` is per kelvin."""

    a: float
    b: float
    source: str = ""


@dataclass(frozen=True, slots=True)
class Atoms:
    """Moles of atoms in one unit of fuel (a mole of gas, a kilogram of liquid)."""

    carbon: float
    hydrogen: float
    oxygen: float
    nitrogen: float
    sulphur: float


@dataclass(frozen=True)
class Fuel:
    """A fuel; the unit of all ``per unit`` figures is a mole for a gas, a kilogram for a liquid.

    Attributes:
        name: as the contract and the register write it ("natural gas").
        state: gas or liquid, as burnt by measure.
        parts: gas: mole fraction by gas (adds to 1); liquid: mass fraction by element (the rest is inert).
        given_net_mj_per_kg: net heating value of a liquid at 25 °C; a composition alone does not give it.
        siegert_class: name of its class in Siegert's table ("" for none).
        siegert: the coefficients of that class.
        source, checked, edition: where the composition comes from and how it was checked.
    """

    name: str
    state: State
    parts: Mapping[str, float]
    given_net_mj_per_kg: float | None = None
    siegert_class: str = ""
    siegert: Siegert | None = None
    source: str = ""
    checked: str = ""
    edition: str = ""

    # --- what is in a unit of fuel --------------------------------------------------------------------

    @cached_property
    def atoms(self) -> Atoms:
        """Moles of atoms per unit."""
        if self.state == "liquid":
            moles = {
                name: 1000.0 * self.parts.get(name, 0.0) / ATOMIC_G_PER_MOL[symbol]
                for name, symbol in LIQUID_ELEMENTS.items()
            }
            return Atoms(**moles)
        gases = [(FUEL_GASES[name], share) for name, share in self.parts.items()]
        return Atoms(
            carbon=sum(gas.carbon * share for gas, share in gases),
            hydrogen=sum(gas.hydrogen * share for gas, share in gases),
            oxygen=sum(gas.oxygen * share for gas, share in gases),
            nitrogen=sum(gas.nitrogen * share for gas, share in gases),
            sulphur=0.0,
        )

    @cached_property
    def kg_per_unit(self) -> float:
        """Mass of a unit."""
        if self.state == "liquid":
            return 1.0
        return sum(FUEL_GASES[name].g_per_mol * share for name, share in self.parts.items()) / 1000.0

    @cached_property
    def carbon_mass_pct(self) -> float:
        """All carbon, also that of carbon dioxide in the fuel, mass %."""
        return self.atoms.carbon * ATOMIC_G_PER_MOL["C"] / (10.0 * self.kg_per_unit)

    @cached_property
    def hydrogen_mass_pct(self) -> float:
        """Hydrogen, mass %."""
        return self.atoms.hydrogen * ATOMIC_G_PER_MOL["H"] / (10.0 * self.kg_per_unit)

    # --- stoichiometry, moles per unit ----------------------------------------------------------------

    @cached_property
    def air_mol(self) -> float:
        """Dry air for complete combustion."""
        atoms = self.atoms
        oxygen = atoms.carbon + atoms.hydrogen / 4.0 + atoms.sulphur - atoms.oxygen / 2.0
        return oxygen * _AIR_PER_O2

    @cached_property
    def h2o_mol(self) -> float:
        """Water made."""
        return self.atoms.hydrogen / 2.0

    @cached_property
    def flue_mol(self) -> Mapping[str, float]:
        """Products of complete combustion with just enough dry air, by gas."""
        nitrogen = self.air_mol * (1.0 - O2_IN_DRY_AIR_PCT / 100.0) + self.atoms.nitrogen / 2.0
        return {
            "CO2": self.atoms.carbon,
            "H2O": self.h2o_mol,
            "N2": nitrogen,
            "SO2": self.atoms.sulphur,
        }

    @cached_property
    def dry_flue_mol(self) -> float:
        """Dry products with just enough air."""
        return sum(moles for gas, moles in self.flue_mol.items() if gas != "H2O")

    @cached_property
    def wet_flue_mol(self) -> float:
        """Products with just enough dry air, their water as vapour."""
        return self.dry_flue_mol + self.h2o_mol

    @cached_property
    def flue_polynomial(self) -> Polynomial:
        """Heat capacity of the wet products with just enough air."""
        return mixture_polynomial(self.flue_mol)

    @cached_property
    def air_polynomial(self) -> Polynomial:
        """Heat capacity of the air just enough."""
        oxygen = self.air_mol * O2_IN_DRY_AIR_PCT / 100.0
        return mixture_polynomial({"O2": oxygen, "N2": self.air_mol - oxygen})

    # --- heat -----------------------------------------------------------------------------------------

    def _net_kj_at(self, reference_c: float) -> float:
        """Net heat of combustion of a gas per mole at a reference temperature near 25 °C (Kirchhoff)."""
        oxygen = self.air_mol * O2_IN_DRY_AIR_PCT / 100.0
        made = sum(
            moles * enthalpy_kj_per_mol(FLUE_SPECIES[gas], reference_c)
            for gas, moles in {"CO2": self.atoms.carbon, "H2O": self.h2o_mol, "O2": -oxygen}.items()
        )
        made += self.atoms.nitrogen / 2.0 * enthalpy_kj_per_mol(FLUE_SPECIES["N2"], reference_c)
        burnt = sum(
            share
            * (
                FUEL_GASES[name].formation_kj_per_mol
                + FUEL_GASES[name].heat_capacity_j_per_mol_k * (reference_c - HEATING_REFERENCE_C) / 1000.0
            )
            for name, share in self.parts.items()
        )
        return burnt - made

    @cached_property
    def net_kj(self) -> float:
        """Net heating value per unit at 25 °C, kJ."""
        if self.given_net_mj_per_kg is not None:
            return self.given_net_mj_per_kg * 1000.0
        return self._net_kj_at(HEATING_REFERENCE_C)

    @cached_property
    def gross_kj(self) -> float:
        """Gross heating value per unit at 25 °C, kJ."""
        return self.net_kj + self.h2o_mol * latent_kj_per_mol(HEATING_REFERENCE_C)

    @cached_property
    def gross_net_ratio(self) -> float:
        """Gross over net heating value, both at 25 °C."""
        return self.gross_kj / self.net_kj

    @cached_property
    def net_mj_per_kg(self) -> float:
        """Net heating value at 25 °C."""
        return self.net_kj / (1000.0 * self.kg_per_unit)

    @cached_property
    def gross_mj_per_kg(self) -> float:
        """Gross heating value at 25 °C."""
        return self.gross_kj / (1000.0 * self.kg_per_unit)

    # --- by volume, gases only ------------------------------------------------------------------------

    @cached_property
    def real_gas_factor(self) -> float | None:
        """Compression factor at 15 °C and 101.325 kPa (ISO 6976:2016, equation 1); None for a liquid."""
        if self.state == "liquid":
            return None
        total = sum(FUEL_GASES[name].summation_factor * share for name, share in self.parts.items())
        return 1.0 - total * total

    def _per_m3(self, kj_per_mol: float) -> float | None:
        factor = self.real_gas_factor
        return None if factor is None else kj_per_mol / (1000.0 * MOLAR_VOLUME_15C_M3 * factor)

    @cached_property
    def net_mj_per_m3(self) -> float | None:
        """Net heating value, combustion and metering at 15 °C, real gas; None for a liquid."""
        return None if self.state == "liquid" else self._per_m3(self._net_kj_at(METERING_C))

    @cached_property
    def gross_mj_per_m3(self) -> float | None:
        """Gross heating value, combustion and metering at 15 °C, real gas; None for a liquid."""
        if self.state == "liquid":
            return None
        return self._per_m3(self._net_kj_at(METERING_C) + self.h2o_mol * latent_kj_per_mol(METERING_C))

    @cached_property
    def relative_density(self) -> float | None:
        """Density over that of dry air at 15 °C, both real gases; None for a liquid."""
        factor = self.real_gas_factor
        if factor is None:
            return None
        return 1000.0 * self.kg_per_unit / DRY_AIR_G_PER_MOL * DRY_AIR_REAL_GAS_FACTOR_15C / factor

    @cached_property
    def wobbe_gross_mj_per_m3(self) -> float | None:
        """Gross Wobbe index, 15/15 °C; None for a liquid."""
        gross, density = self.gross_mj_per_m3, self.relative_density
        return None if gross is None or density is None else gross / density**0.5

    # --- what a reading is worked out with ------------------------------------------------------------

    @cached_property
    def co2_max_pct(self) -> float:
        """Carbon dioxide with just enough air, % of dry flue gas."""
        return 100.0 * self.atoms.carbon / self.dry_flue_mol

    @cached_property
    def co2_per_o2(self) -> Fraction:
        """Points of carbon dioxide that one point of oxygen stands for, exact for comparing with limits."""
        return Fraction(self.co2_max_pct) / Fraction(str(O2_IN_DRY_AIR_PCT))

    @cached_property
    def k(self) -> float:
        """Stoichiometric dry flue gas over stoichiometric dry air."""
        return self.dry_flue_mol / self.air_mol

    @cached_property
    def dry_flue_m3_per_kwh_net(self) -> float:
        """Stoichiometric dry flue gas (15 °C, 101.325 kPa, ideal) per kWh of net heat."""
        return self.dry_flue_mol * MOLAR_VOLUME_15C_M3 * KJ_PER_KWH / self.net_kj

    @cached_property
    def h2o_kg_per_kwh_net(self) -> float:
        """Water made per kWh of net heat."""
        return self.h2o_mol * H2O_G_PER_MOL / 1000.0 * KJ_PER_KWH / self.net_kj

    @cached_property
    def co_mg_per_kwh_net_per_ppm(self) -> float:
        """mg of CO per kWh of net heat for each air-free ppm."""
        return self.dry_flue_mol * CO_G_PER_MOL / 1000.0 * KJ_PER_KWH / self.net_kj

    @cached_property
    def nox_mg_per_kwh_net_per_ppm(self) -> float:
        """mg of NOx, counted as NO2, per kWh of net heat for each air-free ppm."""
        return self.dry_flue_mol * NO2_G_PER_MOL / 1000.0 * KJ_PER_KWH / self.net_kj

    @cached_property
    def dew_point_c(self) -> float | None:
        """Dew point with just enough dry air, 101.325 kPa; None if it would be frost, for want of water."""
        share = self.h2o_mol / self.wet_flue_mol
        try:
            return saturation_c(share * STANDARD_PRESSURE_KPA)
        except ValueError:
            return None


LIQUID_ELEMENTS: Mapping[str, str] = {
    "carbon": "C",
    "hydrogen": "H",
    "oxygen": "O",
    "nitrogen": "N",
    "sulphur": "S",
}
