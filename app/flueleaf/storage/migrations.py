"""The steps that bring a book to the newest schema, as SQL; a released step is never edited.

The table the migrations keep in the book is the authority on what it holds; ``user_version`` repeats the
number of steps for a look before opening.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import TYPE_CHECKING

from flueleaf.storage.schema import (
    attachments,
    business,
    finder,
    judgement,
    money,
    numbering,
    papers,
    register,
    schedule,
    statements,
    texts,
    visits,
)

if TYPE_CHECKING:
    from sqlite_utils import Database

    Step = Callable[["Database"], None]

APPLICATION_ID = 0x464C4C46  # "FLLF": what tells a book from any other SQLite file
SET_NAME = "book"
TABLE = "_sqlite_migrations"


def version_1(db: Database) -> None:
    """Make every table of the first version."""
    for group in (business, register, visits, papers, money, schedule, finder):
        for statement in statements(group.SQL):
            db.execute(statement)


def version_2(db: Database) -> None:
    """Give each numbering series letters and a start of its own; make room for photographs."""
    for group in (numbering, attachments):
        for statement in statements(group.SQL):
            db.execute(statement)


def version_3(db: Database) -> None:
    """Make room for the owner's lines under quotes and records."""
    for statement in statements(texts.SQL):
        db.execute(statement)


def version_4(db: Database) -> None:
    """Make room for the owner's limits and fuels, and for what judging asks of a visit."""
    for statement in statements(judgement.SQL):
        db.execute(statement)


STEPS: tuple[Step, ...] = (version_1, version_2, version_3, version_4)


def applied(con: sqlite3.Connection) -> tuple[str, ...]:
    """Return the names of the steps a book has seen, oldest first; none for an empty file."""
    if not con.execute("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?", (TABLE,)).fetchone():
        return ()
    rows = con.execute(f"SELECT name FROM {TABLE} WHERE migration_set = ? ORDER BY id", (SET_NAME,))
    return tuple(row[0] for row in rows)


def migrate(db: Database, steps: tuple[Step, ...] = STEPS) -> None:
    """Apply what is pending; to be called inside one transaction with foreign keys off.

    Raises:
        sqlite3.IntegrityError: a step left a row that points nowhere; one that did before is for ``verify``.
    """
    from sqlite_utils import Migrations  # noqa: PLC0415 - start-up must not load it

    known = Migrations(SET_NAME)
    for step in steps:
        known(name=step.__name__)(step)
    before = _count_of_lost(db)
    known.apply(db)
    db.execute(f"PRAGMA user_version = {len(steps)}")
    lost = _count_of_lost(db) - before
    if lost > 0:
        raise sqlite3.IntegrityError(f"{lost} more rows point nowhere after the change of tables")


def _count_of_lost(db: Database) -> int:
    return len(db.execute("PRAGMA foreign_key_check").fetchall())
