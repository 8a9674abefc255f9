"""The business whose book it is, and its dated settings."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import fields
from typing import TYPE_CHECKING

from flueleaf.domain.records.business import Business
from flueleaf.storage.rows import insert, lines_of, lines_text

if TYPE_CHECKING:
    from sqlite_utils import Database


def business(con: sqlite3.Connection) -> Business:
    """Return the business; one without a name in a book where nobody has entered it yet."""
    row = con.execute("SELECT * FROM business").fetchone()
    if row is None:
        return Business()
    values = {field.name: row[field.name] for field in fields(Business)}
    return Business(**{**values, "address": lines_of(row["address"])})


def save_business(tx: Database, record: Business) -> None:
    """Keep the business in place of what was there."""
    tx.execute("DELETE FROM business")
    values = {field.name: getattr(record, field.name) for field in fields(Business)}
    insert(tx, "business", {**values, "id": 1, "address": lines_text(record.address)})


def setting(con: sqlite3.Connection, key: str, on: dt.date) -> str | None:
    """Return the value of a setting in force on a day, None where none was set by then."""
    row = con.execute(
        "SELECT value FROM setting WHERE key = ? AND valid_from <= ? ORDER BY valid_from DESC LIMIT 1",
        (key, on.isoformat()),
    ).fetchone()
    return None if row is None else str(row["value"])


def set_setting(tx: Database, key: str, value: str, valid_from: dt.date) -> None:
    """Set a value from a day on; earlier days keep what held then."""
    tx.execute("DELETE FROM setting WHERE key = ? AND valid_from = ?", (key, valid_from.isoformat()))
    tx.execute(
        "INSERT INTO setting (key, valid_from, value) VALUES (?, ?, ?)", (key, valid_from.isoformat(), value)
    )
