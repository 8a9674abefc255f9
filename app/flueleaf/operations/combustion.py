"""What is asked of combustion alone, without a book: a fuel's constants, a heat input."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any

from flueleaf.domain.combustion.fuel_constants import fuel_constants
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import quoted, said
from flueleaf.operations.intake.combustion import read_gas_rate, worked_out
from flueleaf.operations.intake.fuel import read_fuel
from flueleaf.storage.tables.fuels import load_fuels


def fuel_document(name: str) -> Mapping[str, float | None]:
    """Return the constants of a shipped fuel by name; None where they make no sense for it.

    Raises:
        Refused: no fuel of that name.
    """
    fuels = load_fuels()
    if name not in fuels:
        accepted = said("one of {names}, or a file that describes a fuel", names=quoted(fuels))
        raise Refused([Fault("NAME", name, accepted)])
    return fuel_constants(fuels[name])


def entered_fuel_document(text: str, *, name: str) -> Mapping[str, Any]:
    """Return the constants of a fuel that a text describes, with its name and source in front.

    Args:
        text: JSON or TOML in the shape of a fuel's table.
        name: what the text is called in a refusal.

    Raises:
        Refused: naming the key that is not accepted.
    """
    fuel = read_fuel(text, name=name, fuels=load_fuels())
    return {"name": fuel.name, "source": fuel.source, **fuel_constants(fuel)}


def is_fuel(name: str) -> bool:
    """Tell whether a shipped fuel has that name."""
    return name in load_fuels()


def gas_rate_document(document: object) -> Mapping[str, Any]:
    """Return the heat input that a gas-rate document shows; what was not asked for is left out.

    Raises:
        Refused: naming every fault.
    """
    given = read_gas_rate(document, fuels=load_fuels())
    rate = worked_out(given)
    of_day = given.calorific_value_date
    found = {"calorific_value_date": of_day.isoformat()} if of_day else {}
    return found | {key: value for key, value in dataclasses.asdict(rate).items() if value not in (None, "")}
