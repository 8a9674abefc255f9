"""How a result of ``assess`` is taken apart into rows and put together again, equal to what was put in."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Mapping
from decimal import Decimal
from typing import Any

from flueleaf.storage.rows import Value, dump

_NUMBERS = {
    "value": "value",
    "limit": "limit_value",
    "standard_uncertainty": "standard_uncertainty",
    "margin": "margin",
    "chance_beyond": "chance_beyond",
}
_TEXTS = {
    "quantity": "quantity",
    "sense": "sense",
    "source": "source",
    "table": "table_name",
    "edition": "edition",
    "clause": "clause",
    "tolerance": "tolerance",
    "verdict": "verdict",
}


def digits(number: Any) -> str | None:
    """Return a number of a result as text that gives it back; None for anything that is no number."""
    if isinstance(number, bool) or not isinstance(number, int | float | Decimal):
        return None
    return str(number) if isinstance(number, int | Decimal) else repr(number)


def number_of(text: str) -> int | float:
    """Return a number of a result from its text."""
    return int(text) if text.lstrip("-").isdigit() else float(text)


def exact(number: object) -> Decimal | None:
    """Return a number of a kept result with the digits it was kept with; None stays None."""
    return None if number is None else Decimal(str(number))


def without(result: Mapping[str, Any], *keys: str) -> dict[str, Any]:
    """Return a result without the parts that have tables of their own."""
    return {key: value for key, value in result.items() if key not in keys}


def judged_row(judged: Mapping[str, Any]) -> dict[str, Value]:
    """Return the row of one frozen verdict; whatever has no column of its own stays in ``rest``."""
    row: dict[str, Value] = {}
    for key, column in _NUMBERS.items():
        if (text := digits(judged.get(key))) is not None:
            row[column] = text
    for key, column in _TEXTS.items():
        if isinstance(judged.get(key), str):
            row[column] = judged[key]
    columns = {**_NUMBERS, **_TEXTS}
    row["rest"] = dump({key: value for key, value in judged.items() if columns.get(key) not in row})
    return row


def judged_of(row: sqlite3.Row) -> dict[str, Any]:
    """Return one frozen verdict."""
    numbers = {key: number_of(row[column]) for key, column in _NUMBERS.items() if row[column] is not None}
    texts = {key: row[column] for key, column in _TEXTS.items() if row[column] is not None}
    return {**texts, **numbers, **json.loads(row["rest"])}


def doubt_row(doubt: Mapping[str, Any], confirmed: Collection[str]) -> dict[str, Value]:
    """Return the row of a doubt; the engineer's confirmations are those of its slip."""
    stands = bool(doubt.get("confirmed", doubt["code"] in confirmed))
    return {"code": doubt["code"], "confirmed": int(stands), "detail": dump(doubt)}


def doubt_of(row: sqlite3.Row) -> dict[str, Any]:
    """Return a doubt."""
    kept: dict[str, Any] = json.loads(row["detail"])
    return kept
