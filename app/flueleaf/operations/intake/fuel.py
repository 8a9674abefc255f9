"""A fuel in a document: the name of a shipped one, or an object in the shape of a fuel's table."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from flueleaf.domain.combustion.fuel import Fuel, Siegert, State
from flueleaf.domain.combustion.fuel_table import UNKNOWN_KEY, FuelFault, fuel_from_table
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import said
from flueleaf.operations.intake.json_form import faults_of_form
from flueleaf.operations.intake.reader import Reader, as_decimal, as_typed, load_json

# What an object in a document may leave out, and what stands there then.
_USUAL = {"checked": "as entered", "edition": "as entered"}
_NUMBERS = ("net_mj_per_kg",)
_PARTS = ("mole_pct", "mass_pct")


def fuel_of(
    reader: Reader,
    fuels: Mapping[str, Fuel],
    *,
    state: State | None = None,
    usual: Fuel | None = None,
) -> Fuel:
    """Read the key ``fuel`` of an object that is being read.

    Args:
        reader: of the object.
        fuels: the shipped fuels by name.
        state: what alone is accepted; None takes gases and liquids.
        usual: what counts where no fuel is given; None wants one. One of another state is not taken.

    Returns:
        The fuel, or one of the shipped as a stand-in until the reader refuses the document.
    """
    names = tuple(name for name, fuel in fuels.items() if state in (None, fuel.state))
    given = reader.raw("fuel")
    if isinstance(given, Mapping):
        return _entered(reader, given, fuels, state) or fuels[names[0]]
    if given is None and "fuel" not in reader.names() and usual and state in (None, usual.state):
        return usual
    return fuels[reader.choice("fuel", names)]


def read_fuel(text: str, *, name: str, fuels: Mapping[str, Fuel]) -> Fuel:
    """Return the fuel that a text describes, JSON or TOML, in the shape of a fuel's table.

    Raises:
        Refused: neither, or a key that is not accepted, by its name.
    """
    try:
        return _from_table(_document(text, name), fuels)
    except FuelFault as fault:
        raise Refused([_fault(fault, "")]) from None


def _document(text: str, name: str) -> Mapping[str, Any]:
    if text.lstrip().startswith(("{", "[")) and not _is_toml(text):
        document = load_json(text, name=name)
    else:
        try:
            document = tomllib.loads(text, parse_float=_toml_number)
        except RecursionError:
            accepted = said("a fuel’s table in JSON or TOML")
            raise Refused([Fault(name, "nested too deeply", accepted)]) from None
        except ValueError as fault:
            accepted = said("a fuel’s table in JSON or TOML")
            raise Refused([Fault(name, str(fault), accepted)]) from None
        if faults := faults_of_form(document):
            raise Refused(faults)
    if not isinstance(document, Mapping):
        raise Refused([Fault(name, as_typed(document), said("a JSON object"))])
    return document


def _is_toml(text: str) -> bool:
    """Tell whether a text that could be JSON by its first character is TOML: a table's head in brackets."""
    try:
        return bool(tomllib.loads(text))
    except (ValueError, RecursionError):
        return False


def _toml_number(digits: str) -> Decimal:
    try:
        return Decimal(digits)
    except InvalidOperation:
        raise ValueError(f"{digits}: a number that cannot be computed with") from None


def _entered(
    reader: Reader, given: Mapping[str, Any], fuels: Mapping[str, Fuel], state: State | None
) -> Fuel | None:
    try:
        fuel = _from_table(given, fuels)
    except FuelFault as fault:
        reader.note(_fault(fault, f"{reader.path('fuel')}."))
        return None
    if state is not None and fuel.state != state:
        reader.note(Fault(f"{reader.path('fuel')}.state", fuel.state, state))
        return None
    return fuel


def _from_table(table: Mapping[str, Any], fuels: Mapping[str, Fuel]) -> Fuel:
    """Return a fuel from a table as JSON and TOML have it: numbers as Decimals or decimal strings."""
    plain: dict[str, Any] = {**_USUAL, **table}
    for key in _NUMBERS:
        if key in plain:
            plain[key] = _number(plain[key])
    for key in _PARTS:
        if isinstance(plain.get(key), Mapping):
            plain[key] = {part: _number(value) for part, value in plain[key].items()}
    return fuel_from_table(plain, _siegert(fuels))


def _number(value: object) -> object:
    """Return a number as the physics takes it; what is none stays as it is and is refused there."""
    number = as_decimal(value)
    return value if number is None else float(number)


def _siegert(fuels: Mapping[str, Fuel]) -> Mapping[str, Siegert]:
    """Return the classes of Siegert's table that the shipped fuels name."""
    return {fuel.siegert_class: fuel.siegert for fuel in fuels.values() if fuel.siegert is not None}


def _fault(fault: FuelFault, above: str) -> Fault:
    unknown = fault.value == UNKNOWN_KEY
    value = "" if fault.value is None else UNKNOWN_KEY if unknown else as_typed(_shown(fault.value))
    return Fault(f"{above}{fault.key}", value, fault.accepted)


def _shown(value: object) -> object:
    return Decimal(str(value)) if isinstance(value, float) else value
