"""Water at saturation: the dew point of a flue gas and the heat its condensate gives back.

Source: IAPWS Industrial Formulation 1997 (revised release, August 2007), region 4, equations 30 and 31; the
coefficients were read in the source of the ``iapws`` library (1.5), the results checked against the
verification values of the release (tables 35 and 36).
"""

from __future__ import annotations

from math import sqrt

from flueleaf.domain.combustion.constants import HEATING_REFERENCE_C, KELVIN_OF_0_C, STANDARD_PRESSURE_KPA
from flueleaf.domain.combustion.species import FLUE_SPECIES, WATER_LIQUID_KJ_PER_MOL, enthalpy_kj_per_mol

_N1, _N2, _N3, _N4, _N5, _N6, _N7, _N8, _N9, _N10 = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)

# Range used here, °C: liquid water up to the temperature at which it boils under 101.325 kPa and beyond.
COLDEST_C, HOTTEST_C = 0.0, 370.0

# Heat capacity of liquid water, J/(mol·K), mean of 0-100 °C. Source: CRC Handbook (75.3 at 25 °C); read in
# the data of the ``chemicals`` library (1.5), Poling table: 75.29.
LIQUID_J_PER_MOL_K = 75.3


def saturation_kpa(water_c: float) -> float:
    """Return the vapour pressure over liquid water, kPa (equation 30).

    Args:
        water_c: temperature, 0 to 370 °C.
    """
    if not COLDEST_C <= water_c <= HOTTEST_C:
        raise ValueError(f"water at {water_c} °C is outside {COLDEST_C}..{HOTTEST_C} °C")
    kelvin = water_c + KELVIN_OF_0_C
    theta = kelvin + _N9 / (kelvin - _N10)
    a = theta * theta + _N1 * theta + _N2
    b = _N3 * theta * theta + _N4 * theta + _N5
    c = _N6 * theta * theta + _N7 * theta + _N8
    root = 2.0 * c / (-b + sqrt(b * b - 4.0 * a * c))
    return root * root * root * root * 1000.0


def saturation_c(vapour_kpa: float) -> float:
    """Return the temperature at which vapour of a pressure begins to condense, °C (equation 31).

    Args:
        vapour_kpa: partial pressure of water vapour, 0.6113 kPa (0 °C) to 20,000 kPa.
    """
    if not _LEAST_KPA <= vapour_kpa <= 20_000.0:
        raise ValueError(f"vapour at {vapour_kpa} kPa is outside {_LEAST_KPA:.4f}..20000 kPa: no liquid dew")
    beta = sqrt(sqrt(vapour_kpa / 1000.0))
    e = beta * beta + _N3 * beta + _N6
    f = _N1 * beta * beta + _N4 * beta + _N7
    g = _N2 * beta * beta + _N5 * beta + _N8
    d = 2.0 * g / (-f - sqrt(f * f - 4.0 * e * g))
    sum_ = _N10 + d
    return (sum_ - sqrt(sum_ * sum_ - 4.0 * (_N9 + _N10 * d))) / 2.0 - KELVIN_OF_0_C


_LEAST_KPA = saturation_kpa(COLDEST_C)


def latent_kj_per_mol(water_c: float) -> float:
    """Return the heat that vapour gives back when it condenses at a temperature, kJ/mol.

    Vapour's enthalpy less the liquid's, both from the formation enthalpies at 25 °C and the heat capacities.

    Args:
        water_c: temperature of condensing, 0 to 100 °C (the range of the liquid's mean heat capacity).
    """
    if not COLDEST_C <= water_c <= 100.0:
        raise ValueError(f"condensing at {water_c} °C is outside 0..100 °C")
    vapour = enthalpy_kj_per_mol(FLUE_SPECIES["H2O"], water_c)
    liquid = WATER_LIQUID_KJ_PER_MOL + LIQUID_J_PER_MOL_K * (water_c - HEATING_REFERENCE_C) / 1000.0
    return vapour - liquid


def liquid_kg_per_l(water_c: float) -> float:
    """Return the density of liquid water at 101.325 kPa, kg/l.

    Source: Kell, J. Chem. Eng. Data 20 (1975) 97, equation 16; recalled, compared with the ``iapws`` library
    (1.5, IAPWS-97): within 0.002 % from 0 to 100 °C.

    Args:
        water_c: temperature, 0 to 100 °C.
    """
    if not COLDEST_C <= water_c <= 100.0:
        raise ValueError(f"liquid water at {water_c} °C is outside 0..100 °C")
    above = 0.0
    for coefficient in _KELL:
        above = above * water_c + coefficient
    return above / (1.0 + _KELL_BELOW * water_c) / 1000.0


_KELL = (-280.54253e-12, 105.56302e-9, -46.170461e-6, -7.9870401e-3, 16.945176, 999.83952)
_KELL_BELOW = 16.879850e-3


def vapour_per_dry_mole(water_c: float) -> float:
    """Return the moles of vapour that one mole of dry gas can hold at 101.325 kPa and a temperature, °C."""
    pressure_kpa = saturation_kpa(water_c)
    if pressure_kpa >= STANDARD_PRESSURE_KPA:
        raise ValueError(f"water boils at {water_c} °C: any amount of vapour stays vapour")
    return pressure_kpa / (STANDARD_PRESSURE_KPA - pressure_kpa)
