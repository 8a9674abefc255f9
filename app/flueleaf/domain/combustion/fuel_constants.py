"""The constants of a fuel by name, as they are shown: volumes and heat per mole, per kilogram, per kWh.

Volumes are those of an ideal gas at 15 °C and 101.325 kPa; heating values per mole and per kilogram at 25 °C.
"""

from __future__ import annotations

from collections.abc import Mapping

from flueleaf.domain.combustion.constants import KJ_PER_KWH, MOLAR_VOLUME_15C_M3
from flueleaf.domain.combustion.fuel import Fuel

# Attributes of a fuel that are shown under their own names.
_OWN = (
    "co2_max_pct",
    "k",
    "gross_net_ratio",
    "gross_mj_per_m3",
    "net_mj_per_m3",
    "net_mj_per_kg",
    "dry_flue_m3_per_kwh_net",
    "h2o_kg_per_kwh_net",
    "co_mg_per_kwh_net_per_ppm",
    "nox_mg_per_kwh_net_per_ppm",
    "relative_density",
    "wobbe_gross_mj_per_m3",
    "dew_point_c",
    "gross_mj_per_kg",
)
# What just enough dry air and what comes of it measures, by the name of its volume.
_VOLUMES = {"dry_flue_m3": "dry_flue_mol", "wet_flue_m3": "wet_flue_mol", "air_m3": "air_mol"}


def fuel_constants(fuel: Fuel) -> Mapping[str, float | None]:
    """Return the constants of a fuel by name; None where they make no sense for it.

    ``…_m3_per_kwh_net`` and ``_gross``: dry and wet flue gas and dry air, just enough of it. ``…_per_mol``:
    of a gas; ``…_m3_per_m3``: per cubic metre of a gas at the same conditions, both ideal.
    """
    gas = fuel.state == "gas"
    found: dict[str, float | None] = {name: getattr(fuel, name) for name in _OWN}
    for name, attribute in _VOLUMES.items():
        moles: float = getattr(fuel, attribute)
        found[f"{name}_per_kwh_net"] = moles * MOLAR_VOLUME_15C_M3 * KJ_PER_KWH / fuel.net_kj
        found[f"{name}_per_kwh_gross"] = moles * MOLAR_VOLUME_15C_M3 * KJ_PER_KWH / fuel.gross_kj
        found[f"{name}_per_m3"] = moles if gas else None
    found["h2o_kg_per_kwh_gross"] = fuel.h2o_kg_per_kwh_net / fuel.gross_net_ratio
    found["net_kj_per_mol"] = fuel.net_kj if gas else None
    found["gross_kj_per_mol"] = fuel.gross_kj if gas else None
    return found
