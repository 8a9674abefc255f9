"""The book: one SQLite file that holds everything of one business."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.words import said
from flueleaf.storage import migrations
from flueleaf.storage.connecting import BUSY_MS, Tracer, connect, open_checked, own_copy
from flueleaf.storage.new_file import new_file
from flueleaf.storage.parts import problem_of_parts
from flueleaf.storage.problems import in_words, locked, problem_of
from flueleaf.storage.window_lock import WindowLock

if TYPE_CHECKING:
    from sqlite_utils import Database


class Book:
    """An open book: read through ``con``, write through ``writing()``.

    Attributes:
        path: the file.
        con: the connection, for reading.
        read_only: whether writing is refused.
    """

    def __init__(self, path: Path, con: sqlite3.Connection, *, read_only: bool) -> None:
        self.path = path
        self.con = con
        self.read_only = read_only
        self._db: Database | None = None
        self._window: WindowLock | None = None

    @classmethod
    def create(cls, path: Path, *, busy_ms: int = BUSY_MS, on_statement: Tracer | None = None) -> Self:
        """Make a new book and open it; the file appears under its name only when it is whole.

        Raises:
            BookProblem: something of that name is there already, or the folder takes no file.
        """
        with new_file(path) as made:
            con = connect(made, "rw", busy_ms=busy_ms)
            try:
                con.execute(f"PRAGMA application_id = {migrations.APPLICATION_ID}")
                _migrate(made, con, migrations.STEPS, keep_copy=False)
            finally:
                con.close()
        return cls.open(path, busy_ms=busy_ms, on_statement=on_statement)

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        read_only: bool = False,
        busy_ms: int = BUSY_MS,
        on_statement: Tracer | None = None,
        steps: tuple[migrations.Step, ...] = migrations.STEPS,
    ) -> Self:
        """Open a book; an older one is copied beside itself and then brought to the newest schema.

        An older one that is only read stays as it is: a copy is read, brought to the newest schema, which
        SQLite keeps to itself and drops when it is closed.

        Args:
            path: the file.
            read_only: nothing will be written, and no file is made beside the book.
            busy_ms: how long to wait for another writer, milliseconds.
            on_statement: told every statement before it runs.
            steps: the schema this program knows.

        Raises:
            BookProblem: missing, not a book, newer, locked, not writable.
        """
        con = open_checked(path, read_only=read_only, busy_ms=busy_ms, on_statement=on_statement)
        try:
            with in_words(path):
                if _is_older(path, con, steps) and read_only:
                    with contextlib.closing(con):
                        con = _newer_copy(path, con, steps, on_statement=on_statement)
                elif not read_only:
                    _migrate(path, con, steps, keep_copy=True)
        except BaseException:
            con.close()
            raise
        return cls(path, con, read_only=read_only)

    @contextlib.contextmanager
    def writing(self) -> Iterator[Database]:
        """Run a block as one transaction: all of it is kept, or none of it.

        Raises:
            BookProblem: locked, full disk, read-only, a fault of the disk; nothing was written.
        """
        if self.read_only:
            raise BookProblem(
                said(
                    "The book {path} was opened for reading only: nothing can be written to it.",
                    path=self.path,
                )
            )
        if self.con.in_transaction:
            raise RuntimeError("a change of the book was begun inside another one")
        db = self._database()
        with in_words(self.path), _transaction(self.con), db.atomic():
            yield db

    def _database(self) -> Database:
        if self._db is None:
            self._db = _wrapped(self.con)
        return self._db

    def claim_window(self) -> None:
        """Claim the book for a window until it is closed or the process ends; headless reading goes on.

        Raises:
            BookProblem: another window has the book.
        """
        if self._window is None:
            self._window = WindowLock(self.path)

    def close(self) -> None:
        """Close the book; a second call does nothing."""
        self.con.close()
        if self._window is not None:
            self._window.release()
            self._window = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Close the book; damage met while reading is told as what it is.

        Raises:
            BookProblem: SQLite found the book damaged, locked or unreadable inside the block, or a part of
                it gone.
        """
        problem = None
        try:
            if isinstance(error, sqlite3.Error | UnicodeDecodeError):
                problem = problem_of(error, self.path)
            if problem is None and isinstance(error, sqlite3.OperationalError):
                problem = problem_of_parts(self.path, self.con)
        finally:
            self.close()
        if problem is not None:
            raise problem from error


def copy_to(con: sqlite3.Connection, path: Path) -> None:
    """Copy an open book, as it is now, into a new file.

    Raises:
        BookProblem: something of that name is there, the book is locked, or the copy cannot be written.
    """

    refused = BookProblem(
        said("The book could not be copied to {path}: another program is writing to it.", path=path)
    )
    with new_file(path) as made, in_words(path), contextlib.closing(sqlite3.connect(made)) as copy:
        _copy_pages(con, copy, when_locked=refused)


def _copy_pages(con: sqlite3.Connection, copy: sqlite3.Connection, *, when_locked: BookProblem) -> None:
    def give_up_when_locked(status: int, _left: int, _pages: int) -> None:
        if status in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}:  # it would be tried again without end
            raise when_locked

    con.backup(copy, progress=give_up_when_locked)


def load_writer() -> None:
    """Load what the first change of a book needs, so that it need not wait for it."""
    import sqlite_utils  # noqa: F401, PLC0415 - it loads numpy; start-up and reading must not


def _wrapped(con: sqlite3.Connection) -> Database:
    import sqlite_utils  # noqa: PLC0415 - it loads numpy; start-up and reading must not

    return sqlite_utils.Database(con, execute_plugins=False, strict=True)


@contextlib.contextmanager
def _transaction(con: sqlite3.Connection) -> Iterator[None]:
    # IMMEDIATE: a change that begins by reading would fail at once, without waiting, when another one writes.
    con.execute("BEGIN IMMEDIATE")
    try:
        yield
        con.execute("COMMIT")
    except BaseException:
        if con.in_transaction:  # a full disk ends the transaction by itself
            con.execute("ROLLBACK")
        raise


def _is_older(path: Path, con: sqlite3.Connection, steps: tuple[migrations.Step, ...]) -> bool:
    """Return whether a step is pending; a book with steps unknown here, or without its first, is refused."""
    names = tuple(step.__name__ for step in steps)
    seen = migrations.applied(con)
    version = con.execute("PRAGMA user_version").fetchone()[0]
    if version > len(names) or not set(seen) <= set(names):
        raise BookProblem(
            said(
                "The book {path} was written by a newer Flueleaf (schema {version}; this one knows "
                "schema {names}). Install the newer version; the book was left as it is.",
                path=path,
                version=max(version, len(seen)),
                names=len(names),
            )
        )
    if seen != names[: len(seen)] or (not seen and con.execute("SELECT 1 FROM sqlite_schema").fetchone()):
        raise BookProblem(
            said(
                "The book {path} no longer tells which schema it has: another program changed it. "
                "It was left as it is; restore a backup.",
                path=path,
            )
        )
    return seen != names


def _newer_copy(
    path: Path, con: sqlite3.Connection, steps: tuple[migrations.Step, ...], *, on_statement: Tracer | None
) -> sqlite3.Connection:
    """Return a copy of an older book at the newest schema, for reading; it lives as long as it is open."""
    copy = own_copy()
    try:
        _copy_pages(con, copy, when_locked=locked(path))
        _migrate(path, copy, steps, keep_copy=False)
        copy.execute("PRAGMA query_only = ON")
        copy.set_trace_callback(on_statement)
    except BaseException:
        copy.close()
        raise
    return copy


def _free_name(path: Path, version: int) -> Path:
    stem, count = f"{path.stem} (schema {version} copy", 1
    while True:
        name = path.with_name(f"{stem}){path.suffix}" if count == 1 else f"{stem} {count}){path.suffix}")
        if not os.path.lexists(name):
            return name
        count += 1


def _migrate(
    path: Path, con: sqlite3.Connection, steps: tuple[migrations.Step, ...], *, keep_copy: bool
) -> None:
    """Apply the pending steps in one transaction, having kept a copy beside the book if that is wanted."""
    if not _is_older(path, con, steps):
        return
    copy: Path | None = None
    con.execute("PRAGMA foreign_keys = OFF")  # a table may be made anew; checked before the commit
    try:
        with _transaction(con):
            if not _is_older(path, con, steps):  # another one did it while this one waited for the lock
                return
            if keep_copy:  # within the lock, so that nothing written in between is missing from the copy
                copy = _copy_beside(path, len(migrations.applied(con)))
            migrations.migrate(_wrapped(con), steps)
    except BaseException as error:
        if copy is not None:  # the book is as it was; its copy is of no use
            copy.unlink(missing_ok=True)
        if isinstance(error, sqlite3.OperationalError) and (problem := problem_of_parts(path, con, steps)):
            raise problem from error
        raise
    finally:
        con.execute("PRAGMA foreign_keys = ON")


def _copy_beside(path: Path, version: int) -> Path:
    copy = _free_name(path, version)
    with contextlib.closing(connect(path, "ro")) as reader:
        copy_to(reader, copy)
    return copy
