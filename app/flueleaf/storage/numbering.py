"""The letters of the numbering series and the numbers they start with.

A series is known by its key ("records"); its letters are what its numbers begin with and what its counter is
kept under. Letters once used stay with their series, so that no number is ever given twice.
"""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING

from flueleaf.storage.rows import insert

if TYPE_CHECKING:
    from sqlite_utils import Database


def letters_of(con: sqlite3.Connection, key: str) -> str:
    """Return the letters the next number of a series begins with.

    Raises:
        LookupError: there is no such series.
    """
    row = con.execute(
        "SELECT letters FROM series_letters WHERE series_key = ? ORDER BY id DESC LIMIT 1", (key,)
    ).fetchone()
    if row is None:
        raise LookupError(f"no numbering series {key}")
    return str(row["letters"])


def owner_of(con: sqlite3.Connection, letters: str) -> str | None:
    """Return the key of the series that uses or once used some letters, None where none did."""
    row = con.execute("SELECT series_key FROM series_letters WHERE letters = ?", (letters,)).fetchone()
    return None if row is None else str(row["series_key"])


def set_letters(tx: Database, key: str, letters: str) -> None:
    """Let the numbers of a series begin with other letters from the next one on.

    Raises:
        sqlite3.IntegrityError: they belong to another series, or are not one to four letters A to Z.
    """
    insert(tx, "series_letters", {"series_key": key, "letters": letters})


def first_of(con: sqlite3.Connection, letters: str, year: int) -> int:
    """Return the number a series starts with in a year: 1, if nothing else was set."""
    row = con.execute(
        "SELECT first FROM series_start WHERE series = ? AND year = ?", (letters, year)
    ).fetchone()
    return 1 if row is None else int(row["first"])


def set_first(tx: Database, letters: str, year: int, first: int) -> None:
    """Let a series start with another number in a year.

    Raises:
        sqlite3.IntegrityError: it has given a number in that year, or the number is below 1.
    """
    changed = tx.execute(
        "UPDATE series_start SET first = ? WHERE series = ? AND year = ?", (first, letters, year)
    )
    if not changed.rowcount:
        insert(tx, "series_start", {"series": letters, "year": year, "first": first})


def last_of(con: sqlite3.Connection, letters: str, year: int) -> int:
    """Return the number a series has given last in a year, 0 where it has given none."""
    row = con.execute("SELECT last FROM counter WHERE series = ? AND year = ?", (letters, year)).fetchone()
    return 0 if row is None else int(row["last"])
