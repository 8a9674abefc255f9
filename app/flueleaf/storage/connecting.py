"""Connections to a book, and what must be known before one is used.

The book's file is only ever opened through SQLite: closing it after a look of our own would drop the
locks that another connection of the same process holds on it
(https://www.sqlite.org/howtocorrupt.html, section 2.2).
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.words import said
from flueleaf.storage import migrations
from flueleaf.storage.problems import in_words

Tracer = Callable[[str], None]
BUSY_MS = 5_000


def connect(
    path: Path, mode: str, *, busy_ms: int = BUSY_MS, on_statement: Tracer | None = None
) -> sqlite3.Connection:
    """Open a connection; nothing is read yet.

    Args:
        path: the book.
        mode: "ro", "rw" or "rwc", as in SQLite's file names.
        busy_ms: how long to wait for another writer, milliseconds.
        on_statement: told every statement before it runs.
    """
    address = f"file:{quote(path.resolve().as_posix())}?mode={mode}"
    con = sqlite3.connect(address, uri=True, isolation_level=None, timeout=busy_ms / 1000)
    try:
        _set_up(con, writable=mode != "ro")
    except BaseException:
        con.close()
        raise
    con.set_trace_callback(on_statement)
    return con


def own_copy() -> sqlite3.Connection:
    """Open a connection to an empty book without a name, which SQLite keeps to itself until it is closed.

    It stands in memory, what does not fit there in a temporary file (https://www.sqlite.org/inmemorydb.html).
    """
    con = sqlite3.connect("", isolation_level=None)
    _set_up(con, writable=False)
    return con


def _set_up(con: sqlite3.Connection, *, writable: bool) -> None:
    con.row_factory = sqlite3.Row
    con.execute("PRAGMA foreign_keys = ON")
    con.execute("PRAGMA recursive_triggers = ON")
    con.execute("PRAGMA temp_store = MEMORY")
    if writable:
        con.execute("PRAGMA journal_mode = DELETE")
        con.execute("PRAGMA synchronous = EXTRA")


def open_checked(
    path: Path, *, read_only: bool, busy_ms: int = BUSY_MS, on_statement: Tracer | None = None
) -> sqlite3.Connection:
    """Open a connection to a file that is a book.

    Raises:
        BookProblem: missing, not a book, locked, damaged, or not writable when writing is wanted.
    """
    try:
        there, is_file = path.exists(), path.is_file()
    except OSError as error:  # a folder that may not be looked into
        raise BookProblem(
            said("The book {path} cannot be read: {strerror}.", path=path, strerror=error.strerror)
        ) from error
    if not there:
        raise BookProblem(said("There is no book at {path}.", path=path))
    if not is_file:
        raise BookProblem(said("{path} is not a book: it is not a file.", path=path))
    with in_words(path):
        finish_interrupted_write(path, busy_ms)
        look = connect(path, "ro", busy_ms=busy_ms)
        try:
            found = look.execute("PRAGMA application_id").fetchone()[0]
        finally:
            look.close()
        if found != migrations.APPLICATION_ID:
            raise BookProblem(
                said("{path} is not a book of Flueleaf: another program made it, or it is empty.", path=path)
            )
        if not read_only:
            check_writable(path)
        return connect(path, "ro" if read_only else "rw", busy_ms=busy_ms, on_statement=on_statement)


def finish_interrupted_write(path: Path, busy_ms: int) -> None:
    """Take back the half-written change of a process that died, as SQLite does when opening for writing.

    A connection that only reads is not allowed to do it and could not read either.
    """
    reader = connect(path, "ro", busy_ms=busy_ms)
    try:
        reader.execute("SELECT 1 FROM sqlite_schema").fetchone()
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode != sqlite3.SQLITE_READONLY_ROLLBACK:
            raise
        writer = connect(path, "rw", busy_ms=busy_ms)
        try:
            writer.execute("SELECT 1 FROM sqlite_schema").fetchone()
        finally:
            writer.close()
    finally:
        reader.close()


def check_writable(path: Path) -> None:
    """Refuse a book whose file or folder is read-only; the folder takes SQLite's journal.

    Raises:
        BookProblem: says which of both.
    """
    effective = os.access in os.supports_effective_ids
    if not os.access(path, os.W_OK, effective_ids=effective):
        raise BookProblem(
            said("The book {path} is read-only: it can be read, nothing can be written to it.", path=path)
        )
    try:
        with tempfile.TemporaryFile(dir=path.resolve().parent, prefix="flueleaf-"):
            pass
    except OSError as error:
        raise BookProblem(
            said(
                "The folder {parent} is read-only: the book in it can be read, but not written.",
                parent=path.resolve().parent,
            )
        ) from error
