"""The owner's own limits and fuels: entries are added, never changed; the newest counts."""

from __future__ import annotations

import datetime as dt
import json
from decimal import Decimal
from typing import TYPE_CHECKING

from flueleaf.domain.records.owned import OwnFuel, OwnLimit
from flueleaf.storage.rows import Value, decimal_of, decimal_text, dump, insert, iso

if TYPE_CHECKING:
    import sqlite3

    from sqlite_utils import Database


def add_limit(tx: Database, entry: OwnLimit) -> None:
    """Add an entry for a slot."""
    row: dict[str, Value] = {
        "slot": entry.slot,
        "limit_text": decimal_text(entry.limit),
        "edition": entry.edition,
        "source": entry.source,
        "clause": entry.clause,
        "valid_from": iso(entry.valid_from),
        "entered_at": iso(entry.entered_at),
    }
    insert(tx, "own_limit", row)


def limits(con: sqlite3.Connection) -> tuple[OwnLimit, ...]:
    """Return every entry there ever was, in the order they were entered."""
    return tuple(
        OwnLimit(
            slot=row["slot"],
            limit=decimal_of(row["limit_text"]),
            valid_from=dt.date.fromisoformat(row["valid_from"]),
            entered_at=dt.datetime.fromisoformat(row["entered_at"]),
            edition=row["edition"],
            source=row["source"],
            clause=row["clause"],
        )
        for row in con.execute("SELECT * FROM own_limit ORDER BY id")
    )


def add_fuel(tx: Database, entry: OwnFuel) -> None:
    """Add a fuel, or take one back."""
    row: dict[str, Value] = {
        "name": entry.name,
        "document": dump(entry.document),
        "withdrawn": int(entry.withdrawn),
        "entered_at": iso(entry.entered_at),
    }
    insert(tx, "own_fuel", row)


def fuels(con: sqlite3.Connection) -> tuple[OwnFuel, ...]:
    """Return every fuel ever entered or taken back, in the order of entry; numbers as decimals."""
    return tuple(
        OwnFuel(
            name=row["name"],
            document=json.loads(row["document"], parse_float=Decimal, parse_int=Decimal),
            entered_at=dt.datetime.fromisoformat(row["entered_at"]),
            withdrawn=bool(row["withdrawn"]),
        )
        for row in con.execute("SELECT * FROM own_fuel ORDER BY id")
    )
