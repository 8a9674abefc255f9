"""The book: one SQLite file that holds everything of one business."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.words import said
from flueleaf.storage import migrations
from flueleaf.storage.connecting import BUSY_MS, Tracer, connect, open_checked
from flueleaf.storage.problems import in_words, problem_of
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
        with _new_file(path) as made:
            con = connect(made, "rw", busy_ms=busy_ms)
            try:
                con.execute(f"PRAGMA application_id = {migrations.APPLICATION_ID}")
                _migrate(made, con, migrations.STEPS)
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

        Args:
            path: the file.
            read_only: nothing will be written, and no file is made.
            busy_ms: how long to wait for another writer, milliseconds.
            on_statement: told every statement before it runs.
            steps: the schema this program knows.

        Raises:
            BookProblem: missing, not a book, newer, locked, not writable; older when opened only for reading.
        """
        con = open_checked(path, read_only=read_only, busy_ms=busy_ms, on_statement=on_statement)
        try:
            with in_words(path):
                _bring_up_to_date(path, con, steps, read_only=read_only)
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
            BookProblem: SQLite found the book damaged, locked or unreadable inside the block.
        """
        self.close()
        if isinstance(error, sqlite3.Error | UnicodeDecodeError) and (
            problem := problem_of(error, self.path)
        ):
            raise problem from error


def copy_to(con: sqlite3.Connection, path: Path) -> None:
    """Copy an open book, as it is now, into a new file.

    Raises:
        BookProblem: something of that name is there, the book is locked, or the copy cannot be written.
    """

    def give_up_when_locked(status: int, _left: int, _pages: int) -> None:
        if status in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}:  # it would be tried again without end
            raise BookProblem(
                said("The book could not be copied to {path}: another program is writing to it.", path=path)
            )

    with _new_file(path) as made, in_words(path), contextlib.closing(sqlite3.connect(made)) as copy:
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


@contextlib.contextmanager
def _new_file(path: Path) -> Iterator[Path]:
    """Give a temporary file in the same folder; it takes the name ``path`` when the block went well."""
    refused = BookProblem(said("There is already a file at {path}; it was left as it is.", path=path))
    if os.path.lexists(path):
        raise refused
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.stem}-", suffix=".new")
    except OSError as error:
        raise BookProblem(said("No file can be made in the folder {parent}.", parent=path.parent)) from error
    os.close(handle)
    made = Path(name)
    try:
        with in_words(path):
            yield made
        _take_name(made, path)
    except FileExistsError as error:
        raise refused from error
    finally:
        made.unlink(missing_ok=True)


def _take_name(made: Path, path: Path, link: Callable[[Path, Path], None] = os.link) -> None:
    try:
        link(made, path)
    except FileExistsError:
        raise
    except OSError:  # a stick without hard links: reserve the name, then put the file in its place
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
        made.replace(path)


def _bring_up_to_date(
    path: Path, con: sqlite3.Connection, steps: tuple[migrations.Step, ...], *, read_only: bool
) -> None:
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
    if seen == names:
        return
    if read_only:
        raise BookProblem(
            said(
                "The book {path} was written by an older Flueleaf (schema {seen}). Open it once for "
                "writing: it is copied beside itself and brought up to date.",
                path=path,
                seen=len(seen),
            )
        )
    _migrate(path, con, steps, copy=_free_name(path, len(seen)))


def _free_name(path: Path, version: int) -> Path:
    stem, count = f"{path.stem} (schema {version} copy", 1
    while True:
        name = path.with_name(f"{stem}){path.suffix}" if count == 1 else f"{stem} {count}){path.suffix}")
        if not os.path.lexists(name):
            return name
        count += 1


def _migrate(
    path: Path, con: sqlite3.Connection, steps: tuple[migrations.Step, ...], copy: Path | None = None
) -> None:
    con.execute("PRAGMA foreign_keys = OFF")  # a table may be made anew; checked before the commit
    try:
        with _transaction(con):
            if (
                copy is not None
            ):  # after the lock, so that nothing written in between is missing from the copy
                with contextlib.closing(connect(path, "ro")) as reader:
                    copy_to(reader, copy)
            migrations.migrate(_wrapped(con), steps)
    except BaseException:
        if copy is not None:  # the book is as it was; its copy is of no use
            copy.unlink(missing_ok=True)
        raise
    finally:
        con.execute("PRAGMA foreign_keys = ON")
