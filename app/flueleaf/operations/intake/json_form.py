"""JSON text with every number as a Decimal of the digits written, and its faults of form by their path."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from flueleaf.domain.problems import Fault
from flueleaf.domain.words import said


class _Twice(dict[str, Any]):
    """A JSON object in which keys stood more than once; the last value of each is kept."""

    keys_twice: tuple[str, ...] = ()


def parse(text: str) -> tuple[Any, list[Fault]]:
    """Return a JSON document with what it holds that no document may: keys given twice, NaN and Infinity.

    Raises:
        json.JSONDecodeError: the text is no JSON.
        RecursionError: it is nested too deeply.
    """
    document = json.loads(
        text, parse_float=Decimal, parse_int=Decimal, parse_constant=Decimal, object_pairs_hook=_pairs
    )
    return document, list(_faults(document, ""))


def _pairs(found: list[tuple[str, Any]]) -> dict[str, Any]:
    document = dict(found)
    if len(document) == len(found):
        return document
    marked = _Twice(document)
    counts = Counter(key for key, _ in found)
    marked.keys_twice = tuple(key for key in document if counts[key] > 1)
    return marked


def _faults(value: Any, where: str) -> Iterator[Fault]:
    if isinstance(value, Decimal) and not value.is_finite():
        yield Fault(where or "document", str(value), said("finite numbers"))
    elif isinstance(value, list):
        for n, item in enumerate(value):
            yield from _faults(item, f"{where}[{n}]")
    elif isinstance(value, dict):
        if isinstance(value, _Twice):
            for key in value.keys_twice:
                yield Fault(_path(where, key), "given twice", said("each key once"))
        for key, item in value.items():
            yield from _faults(item, _path(where, key))


def _path(where: str, key: str) -> str:
    return f"{where}.{key}" if where else key
