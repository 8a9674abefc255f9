"""What is being typed, kept until it is signed off or dropped."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlite_utils import Database


@dataclass(frozen=True, slots=True)
class Draft:
    """A draft; ``payload`` is the JSON text of its leaf, ``updated`` when it was last kept."""

    kind: str
    key: str
    payload: str
    updated: dt.datetime


def keep(tx: Database, kind: str, key: str, payload_json: str, *, at: dt.datetime | None = None) -> None:
    """Keep a draft in place of its earlier state.

    Args:
        tx: the open transaction.
        kind: the leaf it belongs to.
        key: which one, unique within the kind.
        payload_json: JSON text.
        at: the moment; now, where not given.

    Raises:
        sqlite3.IntegrityError: the payload is no JSON.
    """
    moment = (at or dt.datetime.now(dt.UTC)).isoformat()
    tx.execute(
        "INSERT INTO draft (kind, key, payload, updated) VALUES (?, ?, ?, ?)"
        " ON CONFLICT (kind, key) DO UPDATE SET payload = excluded.payload, updated = excluded.updated",
        (kind, key, payload_json, moment),
    )


def draft(con: sqlite3.Connection, kind: str, key: str) -> Draft | None:
    """Return a draft, None where there is none."""
    row = con.execute("SELECT * FROM draft WHERE kind = ? AND key = ?", (kind, key)).fetchone()
    return None if row is None else _draft_of(row)


def drafts(con: sqlite3.Connection) -> list[Draft]:
    """Return every draft, the one kept last first."""
    return [_draft_of(row) for row in con.execute("SELECT * FROM draft ORDER BY updated DESC, kind, key")]


def drop(tx: Database, kind: str, key: str) -> None:
    """Drop a draft; one that is not there is dropped already."""
    tx.execute("DELETE FROM draft WHERE kind = ? AND key = ?", (kind, key))


def set_kind(tx: Database, kind: str, key: str, to: str) -> bool:
    """Give a draft another kind, everything else of it stays; returns whether it was there."""
    changed = tx.execute("UPDATE draft SET kind = ? WHERE kind = ? AND key = ?", (to, kind, key))
    return bool(changed.rowcount)


def _draft_of(row: sqlite3.Row) -> Draft:
    return Draft(row["kind"], row["key"], row["payload"], dt.datetime.fromisoformat(row["updated"]))
