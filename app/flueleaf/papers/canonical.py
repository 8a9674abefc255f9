"""Facts to canonical JSON and back.

Keys are sorted, no spaces, characters as they are. A field that has its default is left out: facts sealed
before a defaulted field was added keep their bytes when they are read and written again.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import functools
import json
import types
import typing
from typing import Any, TypeVar

Facts = TypeVar("Facts")


def to_json(facts: object) -> str:
    """Return the canonical JSON of a facts record.

    Raises:
        TypeError: a value that facts may not hold, a float for one.
    """
    return json.dumps(_plain(facts), ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def from_json(facts_type: type[Facts], text: str) -> Facts:
    """Return the facts record written by ``to_json``.

    Raises:
        ValueError: a key that the record does not have, a missing one, or a value of another type.
    """
    return typing.cast(Facts, _read(facts_type, json.loads(text), facts_type.__name__))


def _plain(value: object) -> Any:
    if value is None or isinstance(value, (str, bool, int)):
        return value
    if isinstance(value, (dt.datetime, dt.date, dt.time)):
        return value.isoformat()
    if isinstance(value, (tuple, list)):
        return [_plain(item) for item in value]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            field.name: _plain(getattr(value, field.name))
            for field in dataclasses.fields(value)
            if not _is_default(field, getattr(value, field.name))
        }
    raise TypeError(f"facts cannot hold {type(value).__name__}: {value!r}")


def _is_default(field: dataclasses.Field[Any], value: object) -> bool:
    default = field.default
    return default is not dataclasses.MISSING and type(value) is type(default) and bool(value == default)


@functools.cache
def _hints(facts_type: type) -> dict[str, Any]:
    return typing.get_type_hints(facts_type)


def _read(wanted: Any, value: Any, where: str) -> Any:
    origin = typing.get_origin(wanted)
    if origin in (types.UnionType, typing.Union):
        return None if value is None else _read(_not_none(wanted), value, where)
    if origin is typing.Literal:
        if value not in typing.get_args(wanted):
            raise ValueError(f"{where}: {value!r} is not one of {typing.get_args(wanted)}")
        return value
    if origin is tuple:
        _expect(value, list, where)
        item = typing.get_args(wanted)[0]
        return tuple(_read(item, each, f"{where}[{at}]") for at, each in enumerate(value))
    if dataclasses.is_dataclass(wanted):
        return _read_record(typing.cast(type, wanted), value, where)
    if wanted in (dt.datetime, dt.date, dt.time):
        _expect(value, str, where)
        return wanted.fromisoformat(value)
    _expect(value, wanted, where)
    return value


def _not_none(union: Any) -> Any:
    return next(arg for arg in typing.get_args(union) if arg is not type(None))


def _expect(value: object, wanted: type, where: str) -> None:
    if type(value) is not wanted:
        raise ValueError(f"{where}: {wanted.__name__} wanted, not {value!r}")


def _read_record(facts_type: type, value: Any, where: str) -> Any:
    _expect(value, dict, where)
    hints = _hints(facts_type)
    if unknown := sorted(value.keys() - hints.keys()):
        raise ValueError(f"{where}: unknown {', '.join(unknown)}")
    read = {name: _read(hints[name], each, f"{where}.{name}") for name, each in value.items()}
    try:
        return facts_type(**read)
    except TypeError as missing:
        raise ValueError(f"{where}: {missing}") from missing
