"""The fuels of the shipped table, and the mixes besides it, as the program takes them."""

from __future__ import annotations

from tests.outside.combustion import reference

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.storage.tables.fuels import load_fuels

SHIPPED = load_fuels()


def our_fuel(name: str) -> Fuel:
    """Return a fuel by the name it has in ``reference``."""
    if name in SHIPPED:
        return SHIPPED[name]
    return Fuel(name, "gas", {part: pct / 100.0 for part, pct in reference.GASES[name].items()})
