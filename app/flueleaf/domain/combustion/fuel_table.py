"""A fuel read from its table: every key known, every fraction sound, or a refusal that names the key."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Any

from flueleaf.domain.combustion.fuel import LIQUID_ELEMENTS, Fuel, Siegert
from flueleaf.domain.combustion.species import FUEL_GASES

_COMMON = frozenset({"name", "state", "source", "checked", "edition", "siegert_class"})
_KEYS: Mapping[str, frozenset[str]] = {
    "gas": _COMMON | {"mole_pct"},
    "liquid": _COMMON | {"mass_pct", "net_mj_per_kg"},
}
# How far the parts may miss 100 %: an analysis is printed rounded. A liquid's missing part counts as inert.
_GAS_SLACK_PCT = 0.05
_LIQUID_LEAST_PCT, _LIQUID_MOST_PCT = 98.0, 100.05
_NET_MJ_PER_KG = (20.0, 60.0)
UNKNOWN_KEY = "unknown key"


class FuelFault(ValueError):
    """What a table of a fuel has wrong: the key, what stood there (None: nothing), what is accepted."""

    def __init__(self, key: str, value: object, accepted: str) -> None:
        self.key, self.value, self.accepted = key, value, accepted
        wrong = UNKNOWN_KEY if value is UNKNOWN_KEY else f"{value!r} is not accepted"
        super().__init__(f"{key}: {wrong}; accepted: {accepted}")


def fuel_from_table(table: Mapping[str, Any], siegert: Mapping[str, Siegert] | None = None) -> Fuel:
    """Return the fuel that a table describes.

    Args:
        table: ``name``, ``state`` (gas or liquid), ``source``, ``checked``, ``edition``, optionally
            ``siegert_class``; a gas has ``mole_pct`` (by gas), a liquid ``mass_pct`` (by element) and
            ``net_mj_per_kg`` (at 25 °C).
        siegert: coefficients by class; a class that is not there is refused. Without it the fuel has none.

    Raises:
        FuelFault: names the key and what is accepted.
    """
    state = table.get("state")
    if not isinstance(state, str) or state not in _KEYS:
        raise FuelFault("state", state, "gas, liquid")
    _refuse_unknown(table, _KEYS[state], "")
    group = _text(table, "siegert_class") if "siegert_class" in table else ""
    if group and siegert is not None and group not in siegert:
        raise FuelFault("siegert_class", group, ", ".join(siegert))
    coefficients = siegert.get(group) if siegert is not None and group else None
    gas = state == "gas"
    fuel = Fuel(
        name=_text(table, "name"),
        state="gas" if gas else "liquid",
        parts=_gas_parts(table) if gas else _liquid_parts(table),
        given_net_mj_per_kg=None if gas else _number(table, "net_mj_per_kg", *_NET_MJ_PER_KG),
        siegert_class=group,
        siegert=coefficients,
        source=_text(table, "source"),
        checked=_text(table, "checked"),
        edition=_text(table, "edition"),
    )
    if fuel.air_mol <= 0.0:
        raise FuelFault("mass_pct", "oxygen enough of its own", "a fuel that wants air to burn")
    return fuel


def siegert_from_table(table: Mapping[str, Any]) -> Mapping[str, Siegert]:
    """Return Siegert's coefficients by class from a rule table; ValueError names the key that is wrong."""
    _refuse_unknown(table, frozenset({"table", "edition", "source", "valid_from", "checked", "class"}), "")
    source = f"{_text(table, 'source')} ({_text(table, 'edition')})"
    found: dict[str, Siegert] = {}
    for place, row in enumerate(table.get("class", ())):
        where = f"class[{place}]."
        _refuse_unknown(row, frozenset({"key", "a", "b"}), where)
        found[_text(row, "key", where)] = Siegert(
            _number(row, "a", 0.1, 2.0, where), _number(row, "b", 0.0, 0.1, where), source
        )
    if not found:
        raise FuelFault("class", None, "at least one class with key, a, b")
    return found


def _refuse_unknown(table: Mapping[str, Any], known: Iterable[str], where: str) -> None:
    unknown = sorted(set(table) - set(known))
    if unknown:
        raise FuelFault(f"{where}{unknown[0]}", UNKNOWN_KEY, ", ".join(sorted(known)))


def _text(table: Mapping[str, Any], key: str, where: str = "") -> str:
    value = table.get(key)
    if not isinstance(value, str) or not value.strip():
        raise FuelFault(f"{where}{key}", value, "a text")
    return value


def _number(table: Mapping[str, Any], key: str, low: float, high: float, where: str = "") -> float:
    value = table.get(key)
    sound = isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
    if not sound or not low <= float(value or 0.0) <= high:
        raise FuelFault(f"{where}{key}", value, f"a number from {low:g} to {high:g}")
    return float(value or 0.0)


def _parts(table: Mapping[str, Any], key: str, known: Iterable[str]) -> dict[str, float]:
    given = table.get(key)
    if not isinstance(given, Mapping) or not given:
        raise FuelFault(key, given, "a table of percentages")
    _refuse_unknown(given, known, f"{key}.")
    return {name: _number(given, name, 0.0, 100.0, f"{key}.") for name in given}


def _gas_parts(table: Mapping[str, Any]) -> dict[str, float]:
    parts = _parts(table, "mole_pct", FUEL_GASES)
    total = sum(parts.values())
    if abs(total - 100.0) > _GAS_SLACK_PCT:
        raise FuelFault("mole_pct", f"parts that add up to {total:g}", "parts that add up to 100")
    burns = any(FUEL_GASES[name].hydrogen or name == "carbon monoxide" for name, pct in parts.items() if pct)
    if not burns:
        raise FuelFault("mole_pct", "nothing in it burns", "at least one gas that burns")
    return {name: pct / total for name, pct in parts.items()}


def _liquid_parts(table: Mapping[str, Any]) -> dict[str, float]:
    parts = _parts(table, "mass_pct", LIQUID_ELEMENTS)
    total = sum(parts.values())
    if not _LIQUID_LEAST_PCT <= total <= _LIQUID_MOST_PCT:
        accepted = f"parts that add up to {_LIQUID_LEAST_PCT:g} to {_LIQUID_MOST_PCT:g}"
        raise FuelFault("mass_pct", f"parts that add up to {total:g}", accepted)
    if not parts.get("carbon") or not parts.get("hydrogen"):
        raise FuelFault("mass_pct", "no carbon or no hydrogen", "carbon and hydrogen, both above 0")
    return {name: pct / 100.0 for name, pct in parts.items()}
