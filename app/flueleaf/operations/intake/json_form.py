"""JSON text with every number as a Decimal of the digits written, and its faults of form by their path."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from typing import Any

from flueleaf.domain.problems import Fault
from flueleaf.domain.words import said

# No document has more than some eight levels; what tells of a refused value goes down them one by one.
DEEPEST = 32
_BIGGEST = 10**40


class _Unreadable(str):
    """A number whose exponent is beyond what is computed with, as it was written."""

    __slots__ = ()


class _Twice(dict[str, Any]):
    """A JSON object in which keys stood more than once; the last value of each is kept."""

    keys_twice: tuple[str, ...] = ()


def parse(text: str) -> tuple[Any, list[Fault]]:
    """Return a JSON document with what it holds that no document may: keys given twice, NaN and Infinity,
    numbers that cannot be computed with, and levels below the ``DEEPEST``.

    Raises:
        json.JSONDecodeError: the text is no JSON.
        RecursionError: it is nested too deeply.
    """
    document = json.loads(
        text, parse_float=_number, parse_int=Decimal, parse_constant=Decimal, object_pairs_hook=_pairs
    )
    return document, faults_of_form(document)


def faults_of_form(document: Any) -> list[Fault]:
    """Return what a document as JSON or TOML has it holds that none may."""
    return list(_faults(document, "", DEEPEST))


def _number(digits: str) -> Decimal | _Unreadable:
    try:
        return Decimal(digits)
    except InvalidOperation:
        return _Unreadable(digits)


def _pairs(found: list[tuple[str, Any]]) -> dict[str, Any]:
    document = dict(found)
    if len(document) == len(found):
        return document
    marked = _Twice(document)
    counts = Counter(key for key, _ in found)
    marked.keys_twice = tuple(key for key in document if counts[key] > 1)
    return marked


def _faults(value: Any, where: str, levels: int) -> Iterator[Fault]:
    if isinstance(value, list | dict):
        if levels:
            yield from _faults_inside(value, where, levels - 1)
        else:
            yield Fault(where, "nested too deeply", said("at most {levels} levels", levels=DEEPEST))
    elif isinstance(value, Decimal) and not value.is_finite():
        yield Fault(where or "document", str(value), said("finite numbers"))
    elif isinstance(value, _Unreadable):
        yield Fault(where or "document", value, said("a number that can be computed with"))
    elif isinstance(value, int) and abs(value) > _BIGGEST:  # TOML's; Python does not write more out
        yield Fault(where, f"{value:#x}", said("a number that can be computed with"))


def _faults_inside(value: list[Any] | dict[str, Any], where: str, levels: int) -> Iterator[Fault]:
    if isinstance(value, list):
        for n, item in enumerate(value):
            yield from _faults(item, f"{where}[{n}]", levels)
        return
    for key in value.keys_twice if isinstance(value, _Twice) else ():
        yield Fault(_path(where, key), "given twice", said("each key once"))
    for key, item in value.items():
        yield from _faults(item, _path(where, key), levels)


def _path(where: str, key: str) -> str:
    return f"{where}.{key}" if where else key
