"""Heating values, density and Wobbe index against the printed tables and the example of ISO 6976:2016.

The tables and annex D were read as copied, digit by digit, in an open program that carries out the standard
and tests itself by its annex D; the standard itself was not seen. Properties by volume and by mass are worked
out here from the printed values by the printed equations, 15 °C for combustion and metering unless said.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest
from tests.outside.combustion import reference

from flueleaf.domain.combustion.constants import MOLAR_VOLUME_15C_M3
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.species import FUEL_GASES
from flueleaf.domain.combustion.water import latent_kj_per_mol


class Row(NamedTuple):
    """Table 1: molar mass, hydrogen atoms; table 2: summation factor at 15 °C; table 3: gross kJ/mol."""

    kg_per_kmol: float
    hydrogen: int
    summation_15: float
    gross_25: float
    gross_15: float


ISO = {
    "methane": Row(16.04246, 4, 0.04452, 890.58, 891.51),
    "ethane": Row(30.06904, 6, 0.0919, 1560.69, 1562.14),
    "propane": Row(44.09562, 8, 0.1344, 2219.17, 2221.10),
    "n-butane": Row(58.12220, 10, 0.1840, 2877.40, 2879.76),
    "isobutane": Row(58.12220, 10, 0.1722, 2868.20, 2870.58),
    "n-pentane": Row(72.14878, 12, 0.2361, 3535.77, 3538.60),
    "isopentane": Row(72.14878, 12, 0.2251, 3528.83, 3531.68),
    "neopentane": Row(72.14878, 12, 0.2040, 3514.61, 3517.44),
    "hydrogen": Row(2.01588, 2, -0.01, 285.83, 286.15),
    "carbon monoxide": Row(28.0101, 0, 0.0217, 282.98, 282.91),
    "carbon dioxide": Row(44.0095, 0, 0.0752, 0.0, 0.0),
    "nitrogen": Row(28.0134, 0, 0.0170, 0.0, 0.0),
}
BURNING = [name for name, row in ISO.items() if row.gross_25]
# Table A.5, enthalpy of vaporisation of water, kJ/mol.
VAPORISATION_25, VAPORISATION_15 = 44.013, 44.431
# Tables A.1, A.3, A.4: gas constant, molar mass of dry air, its compression factor at 15 °C.
R, AIR_KG_PER_KMOL, AIR_FACTOR = 8.3144621, 28.96546, 0.999595

MIXES = {name: {name: 1.0} for name in BURNING} | {
    name: {part: pct / 100.0 for part, pct in parts.items()}
    for name, parts in reference.GASES.items()
    if len(parts) > 1
}


def ours(parts: dict[str, float]) -> Fuel:
    return Fuel("mix", "gas", parts)


@pytest.mark.parametrize("name", BURNING)
def test_gross_heat_at_25_degrees(name: str) -> None:
    assert ours({name: 1.0}).gross_kj == pytest.approx(ISO[name].gross_25, rel=3e-4)


@pytest.mark.parametrize("name", BURNING)
def test_gross_heat_at_15_degrees(name: str) -> None:
    fuel = ours({name: 1.0})
    assert fuel.gross_mj_per_m3 is not None
    assert fuel.real_gas_factor is not None
    per_mole = fuel.gross_mj_per_m3 * 1000.0 * MOLAR_VOLUME_15C_M3 * fuel.real_gas_factor
    assert per_mole == pytest.approx(ISO[name].gross_15, rel=3e-4)


def worked(parts: dict[str, float]) -> dict[str, float]:
    """Return the properties of a mixture by the standard's equations, from its printed values."""
    summed = sum(share * ISO[part].summation_15 for part, share in parts.items())
    factor = 1.0 - summed**2
    m3_per_mol = R * 288.15 / 101_325.0 * factor
    grams = sum(share * ISO[part].kg_per_kmol for part, share in parts.items())
    water = sum(share * ISO[part].hydrogen / 2.0 for part, share in parts.items())
    gross_15 = sum(share * ISO[part].gross_15 for part, share in parts.items())
    gross_25 = sum(share * ISO[part].gross_25 for part, share in parts.items())
    by_volume = gross_15 / m3_per_mol / 1000.0
    density = grams / AIR_KG_PER_KMOL * AIR_FACTOR / factor
    return {
        "gross_mj_per_m3": by_volume,
        "net_mj_per_m3": by_volume - water * VAPORISATION_15 / m3_per_mol / 1000.0,
        "net_mj_per_kg": (gross_25 - water * VAPORISATION_25) / grams,
        "gross_mj_per_kg": gross_25 / grams,
        "relative_density": density,
        "wobbe_gross_mj_per_m3": by_volume / density**0.5,
    }


@pytest.mark.parametrize("key", worked(MIXES["methane"]))
@pytest.mark.parametrize("name", MIXES)
def test_properties_by_volume_and_mass(name: str, key: str) -> None:
    theirs = worked(MIXES[name])[key]
    assert getattr(ours(MIXES[name]), key) == pytest.approx(theirs, rel=3e-4)


# Annex D.2, example 1: mole fractions and every property it prints for 15/15 °C.
EXAMPLE = {
    "methane": 0.933212,
    "ethane": 0.025656,
    "propane": 0.015368,
    "nitrogen": 0.010350,
    "carbon dioxide": 0.015414,
}


@pytest.mark.parametrize(
    ("key", "printed", "off"),
    [
        ("molar_mass", 17.3884301, 1e-6),
        ("real_gas_factor", 0.99776224, 1e-8),
        ("gross_kj_per_mol_15", 906.1799588, 1e-4),
        ("gross_mj_per_kg_15", 52.113961, 1e-4),
        ("gross_mj_per_m3", 38.410611, 1e-4),
    ],
)
def test_worked_example_of_annex_d(key: str, printed: float, off: float) -> None:
    fuel = ours(EXAMPLE)
    assert fuel.gross_mj_per_m3 is not None
    assert fuel.real_gas_factor is not None
    per_mole = fuel.gross_mj_per_m3 * 1000.0 * MOLAR_VOLUME_15C_M3 * fuel.real_gas_factor
    found = {
        "molar_mass": 1000.0 * fuel.kg_per_unit,
        "real_gas_factor": fuel.real_gas_factor,
        "gross_kj_per_mol_15": per_mole,
        "gross_mj_per_kg_15": per_mole / (1000.0 * fuel.kg_per_unit),
        "gross_mj_per_m3": fuel.gross_mj_per_m3,
    }
    assert found[key] == pytest.approx(printed, rel=off)


# Table A.5: 0, 15, 20 and 25 °C.
@pytest.mark.parametrize(
    ("water_c", "printed"), [(0.0, 45.064), (15.0, 44.431), (20.0, 44.222), (25.0, 44.013)]
)
def test_enthalpy_of_vaporisation(water_c: float, printed: float) -> None:
    assert latent_kj_per_mol(water_c) == pytest.approx(printed, rel=5e-4)


# Tables 1 and 2: our figures are the same ones, so this proves the copying.
@pytest.mark.parametrize("name", ISO)
def test_molar_mass_and_summation_factor(name: str) -> None:
    assert FUEL_GASES[name].g_per_mol == pytest.approx(ISO[name].kg_per_kmol, abs=6e-5)
    assert FUEL_GASES[name].summation_factor == ISO[name].summation_15
