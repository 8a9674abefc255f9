"""What a book is made of: tables, indexes and triggers, compared with what the steps of its schema make."""

from __future__ import annotations

import contextlib
import sqlite3
from pathlib import Path

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.words import quoted, said
from flueleaf.storage import migrations


def lost_parts(
    con: sqlite3.Connection, steps: tuple[migrations.Step, ...] = migrations.STEPS
) -> tuple[tuple[str, str], ...]:
    """Return kind and name of each part that is gone, and of each trigger that was changed.

    Args:
        con: the book; it is compared with a book without a name that has seen the same steps.
        steps: the schema this program knows.
    """
    seen = set(migrations.applied(con))
    found = _parts(con)
    return tuple(
        (kind, name)
        for (kind, name), sql in _made_by(tuple(step for step in steps if step.__name__ in seen)).items()
        if (kind, name) not in found or (kind == "trigger" and found[kind, name] != sql)
    )


def problem_of_parts(
    path: Path, con: sqlite3.Connection, steps: tuple[migrations.Step, ...] = migrations.STEPS
) -> BookProblem | None:
    """Return the problem of a book that lacks a part; None where it has all of them."""
    lost = lost_parts(con, steps)
    if not lost:
        return None
    return BookProblem(
        said(
            "The book {path} is not as it was made: another program changed or removed {parts}. "
            "It was left as it is; restore a backup.",
            path=path,
            parts=quoted(name for _, name in lost),
        )
    )


def _made_by(steps: tuple[migrations.Step, ...]) -> dict[tuple[str, str], str]:
    import sqlite_utils  # noqa: PLC0415 - it loads numpy; start-up and reading must not

    with contextlib.closing(sqlite3.connect(":memory:", isolation_level=None)) as con:
        con.row_factory = sqlite3.Row
        made = sqlite_utils.Database(con, execute_plugins=False, strict=True)
        for step in steps:
            step(made)
        return _parts(con)


def _parts(con: sqlite3.Connection) -> dict[tuple[str, str], str]:
    # SQLite's own indexes have no SQL, and what ANALYZE keeps is no part of a book.
    rows = con.execute(
        "SELECT type, name, sql FROM sqlite_schema"
        " WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite!_%' ESCAPE '!'"
    )
    return {(row["type"], row["name"]): row["sql"] for row in rows}
