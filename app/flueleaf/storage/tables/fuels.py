"""The shipped fuels, read from ``resources/fuels``.

A file ``<fuel>.toml`` is a fuel; a file ``<table>__<year>.toml`` is a rule table that fuels refer to.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from flueleaf.domain.combustion.fuel import Fuel, Siegert
from flueleaf.domain.combustion.fuel_table import fuel_from_table, siegert_from_table
from flueleaf.paths import RESOURCES

FUELS = RESOURCES / "fuels"
SIEGERT_FILE = "siegert__2010.toml"


@cache
def load_fuels() -> Mapping[str, Fuel]:
    """Return the shipped fuels by name ("natural gas", …), in alphabetical order."""
    return read_fuels(FUELS)


def read_fuels(folder: Path) -> Mapping[str, Fuel]:
    """Return the fuels of a folder by name.

    Raises:
        ValueError: names the file and the key that is wrong, or the name given twice.
    """
    siegert = _read_siegert(folder / SIEGERT_FILE)
    found: dict[str, Fuel] = {}
    for path in sorted(folder.glob("*.toml")):
        if "__" in path.stem:
            continue
        try:
            fuel = fuel_from_table(tomllib.loads(path.read_text(encoding="utf-8")), siegert)
        except ValueError as fault:  # also what is no TOML
            raise ValueError(f"{path.name}: {fault}") from fault
        if fuel.name in found:
            raise ValueError(f"{path.name}: name: {fuel.name!r} is given twice")
        found[fuel.name] = fuel
    return MappingProxyType(dict(sorted(found.items())))


def _read_siegert(path: Path) -> Mapping[str, Siegert]:
    try:
        return siegert_from_table(tomllib.loads(path.read_text(encoding="utf-8")))
    except ValueError as fault:
        raise ValueError(f"{path.name}: {fault}") from fault
