"""What SQLite says, in words a person can act on."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.words import marked, said

_LOCKED = marked("The book {book} is locked: another program is writing to it. Close it there and try again.")
_TEXTS = {
    sqlite3.SQLITE_BUSY: _LOCKED,
    sqlite3.SQLITE_LOCKED: _LOCKED,
    sqlite3.SQLITE_FULL: marked(
        "The disk is full: nothing was written to the book {book}. Make room and try again."
    ),
    sqlite3.SQLITE_READONLY: marked(
        "The book {book} cannot be written: the file or its folder is read-only."
    ),
    sqlite3.SQLITE_CANTOPEN: marked(
        "The book {book} cannot be opened, or nothing may be written in its folder."
    ),
    sqlite3.SQLITE_PERM: marked("The book {book} may not be used by this user of the computer."),
    sqlite3.SQLITE_AUTH: marked("The book {book} may not be used by this user of the computer."),
    sqlite3.SQLITE_IOERR: marked(
        "The disk reported a fault while the book {book} was used: nothing was changed."
    ),
    sqlite3.SQLITE_CORRUPT: marked("The book {book} is damaged. Run “flueleaf verify” and restore a backup."),
    sqlite3.SQLITE_NOTADB: marked("{book} is not a book: it is not an SQLite file."),
    sqlite3.SQLITE_NOMEM: marked("There was not enough memory to use the book {book}: nothing was changed."),
}


def problem_of(error: sqlite3.Error | UnicodeDecodeError, path: Path) -> BookProblem | None:
    """Return the problem behind an SQLite error, None where the error is a fault of the program."""
    code = getattr(error, "sqlite_errorcode", None)
    if isinstance(error, UnicodeDecodeError) or (code is None and "decode to UTF-8" in str(error)):
        code = sqlite3.SQLITE_CORRUPT  # every text and name of a whole book is UTF-8
    text = _TEXTS.get(code & 0xFF) if code is not None else None
    return BookProblem(said(text, book=path)) if text else None


def locked(path: Path) -> BookProblem:
    """Return the problem of a book that another program is writing to."""
    return BookProblem(said(_LOCKED, book=path))


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """Turn SQLite's errors inside the block into a BookProblem; a fault of the program passes as it is."""
    try:
        yield
    except (sqlite3.Error, UnicodeDecodeError) as error:
        problem = problem_of(error, path)
        if problem is None:
            raise
        raise problem from error
