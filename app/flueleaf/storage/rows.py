"""Between records and rows: one insert, one update, and how lists, decimals and dates are written as text."""

from __future__ import annotations

import datetime as dt
import json
import unicodedata
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sqlite_utils import Database

Value = str | int | bytes | None


def insert(tx: Database, table: str, row: Mapping[str, Value]) -> int:
    """Insert one row and return its id. Table and column names come from this package, never from input."""
    columns = ", ".join(row)
    marks = ", ".join(f":{column}" for column in row)
    number = tx.execute(f"INSERT INTO {table} ({columns}) VALUES ({marks})", dict(row)).lastrowid
    assert number is not None
    return number


def update(tx: Database, table: str, row_id: int, row: Mapping[str, Value]) -> None:
    """Change one row.

    Raises:
        LookupError: there is no such row.
    """
    pairs = ", ".join(f"{column} = :{column}" for column in row)
    changed = tx.execute(f"UPDATE {table} SET {pairs} WHERE id = :row_id", {**row, "row_id": row_id})
    if changed.rowcount != 1:
        raise LookupError(f"no {table} {row_id}")


def lines_text(lines: Iterable[str]) -> str:
    """Return the lines of an address as one text, a line each; blank lines are dropped."""
    return "\n".join(line.strip() for text in lines for line in text.splitlines() if line.strip())


def lines_of(text: str) -> tuple[str, ...]:
    """Return the lines of an address."""
    return tuple(text.split("\n")) if text else ()


def decimal_text(value: Decimal | None) -> str | None:
    """Return the digits of a decimal, all of them and without an exponent.

    Raises:
        ValueError: not a number, or infinite.
    """
    if value is None:
        return None
    if not value.is_finite():
        raise ValueError(f"{value} is not a number the book can keep")
    return f"{value:f}"


def decimal_of(text: str | None) -> Decimal | None:
    """Return the decimal kept as text."""
    return None if text is None else Decimal(text)


def date_of(text: str | None) -> dt.date | None:
    """Return the date kept as ISO text."""
    return None if text is None else dt.date.fromisoformat(text)


def iso(value: dt.date | dt.time | None) -> str | None:
    """Return a date, a time or a moment as ISO text."""
    return None if value is None else value.isoformat()


def dump(value: Any) -> str:
    """Return JSON text; a decimal inside becomes the text of its digits, a set a sorted list."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False, default=_plain)


def _plain(value: Any) -> Any:
    if isinstance(value, Decimal):
        return decimal_text(value)
    if isinstance(value, dt.date | dt.time):
        return iso(value)
    if isinstance(value, frozenset | set):
        return sorted(value)
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(f"{type(value).__name__} cannot be kept as JSON")


def key_of(text: str) -> str:
    """Return the text that finds doubles: case, kind of apostrophe, commas and blanks do not count."""
    folded = unicodedata.normalize("NFKC", text).casefold().replace("’", "'").replace(",", " ")
    return " ".join(folded.split())


def tight_key_of(text: str) -> str:
    """Return the key of a postcode or a serial number: blanks inside do not count either."""
    return key_of(text).replace(" ", "")
