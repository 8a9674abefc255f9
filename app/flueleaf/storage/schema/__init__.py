"""The tables of the book, a module per group; once released never edited: a change is a migration."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator


def statements(script: str) -> Iterator[str]:
    """Split a script into its statements; triggers keep their inner semicolons.

    Raises:
        ValueError: the script ends inside a statement.
    """
    held = ""
    for line in script.splitlines(keepends=True):
        held += line
        if line.rstrip().endswith(";") and sqlite3.complete_statement(held):
            yield held.strip()
            held = ""
    if held.strip():
        raise ValueError(f"unfinished statement: {held.strip()[:60]}")
