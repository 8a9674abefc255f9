"""The constants of combustion that belong to no fuel: air, reference conditions, units.

Three oxygen figures are each right in their place and are not harmonised: 20.95 % in stoichiometry (here),
20.9 % as the fresh-air reading of an instrument, 21 % inside Siegert's formula.
"""

from __future__ import annotations

# Oxygen in dry air, mole %; the rest counts as nitrogen. Source: ISO 6976:2016, annex A, composition of dry
# air (20.946 %), rounded as trade and EN 15502 do; recalled.
O2_IN_DRY_AIR_PCT = 20.95

# Molar gas constant, J/(mol·K), exact. Source: SI Brochure, 9th edition (2019); recalled.
GAS_CONSTANT_J_PER_MOL_K = 8.314462618
KELVIN_OF_0_C = 273.15

# Reference conditions. Source: ISO 13443:1996, natural gas, standard reference conditions; recalled.
STANDARD_PRESSURE_KPA = 101.325
METERING_C = 15.0
HEATING_REFERENCE_C = 25.0

# Ideal molar volume at 15 °C and 101.325 kPa, m3/mol.
MOLAR_VOLUME_15C_M3 = (
    GAS_CONSTANT_J_PER_MOL_K * (METERING_C + KELVIN_OF_0_C) / (STANDARD_PRESSURE_KPA * 1000.0)
)

# Molar mass of dry air, g/mol, and its real-gas factor at 15 °C. Source: ISO 6976:2016, annex A (28.96546)
# and 0.999595; recalled, the factor also read in the open-source program NeqSim.
DRY_AIR_G_PER_MOL = 28.96546
DRY_AIR_REAL_GAS_FACTOR_15C = 0.999595

KJ_PER_KWH = 3600.0
