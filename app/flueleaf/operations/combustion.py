"""What is asked of combustion alone, without a book: a fuel's constants, a heat input."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any

from flueleaf.domain.combustion.gas_rate import gas_rate
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import quoted, said
from flueleaf.operations.intake.combustion import read_gas_rate
from flueleaf.storage.tables.fuels import load_fuels

# The constants shown of a fuel, in the order of the headless contract.
CONSTANTS = (
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
)


def fuel_document(name: str) -> Mapping[str, float | None]:
    """Return the constants of a fuel by name; None where they make no sense for it.

    Raises:
        Refused: no fuel of that name.
    """
    fuels = load_fuels()
    if name not in fuels:
        raise Refused([Fault("NAME", name, said("one of {names}", names=quoted(fuels)))])
    return {key: getattr(fuels[name], key) for key in CONSTANTS}


def gas_rate_document(document: object) -> Mapping[str, Any]:
    """Return the heat input that a gas-rate document shows; what was not asked for is left out.

    Raises:
        Refused: naming every fault.
    """
    given = read_gas_rate(document, fuels=load_fuels())
    rate = gas_rate(
        given.fuel,
        given.run,
        calorific_value_mj_m3=given.calorific_value_mj_m3,
        corrected=given.corrected,
        plate=given.plate,
    )
    return {key: value for key, value in dataclasses.asdict(rate).items() if value not in (None, "")}
