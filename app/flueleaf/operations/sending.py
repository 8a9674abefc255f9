"""Papers on their way out: noted as sent, taken back, and all of them saved into a folder at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from flueleaf.domain.problems import Fault, Refused, UserProblem
from flueleaf.domain.words import said
from flueleaf.operations import issued
from flueleaf.operations.changes import Changes, Topic
from flueleaf.storage import sending as stored
from flueleaf.storage.book import Book
from flueleaf.storage.sending import TAKEN_BACK, Sending

if TYPE_CHECKING:
    from sqlite3 import Connection

    from sqlite_utils import Database

__all__ = [
    "BY_HAND",
    "SAVED",
    "TAKEN_BACK",
    "Saved",
    "Sending",
    "is_sent",
    "mark_sent",
    "save",
    "save_and_mark",
    "save_unsent",
    "sendings",
    "take_back",
    "unsent",
]
SAVED, BY_HAND = "saved", "noted"
_SENT = frozenset({Topic.SENDING})

Progress = Callable[[int, int], None]  # done, of how many
Cancelled = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Saved:
    """How far a run came: the papers saved and noted as sent, of how many, and what was changed."""

    numbers: tuple[str, ...]
    of: int
    changes: Changes


def mark_sent(book: Book, numbers: Sequence[str], *, at: dt.datetime, way: str = BY_HAND) -> Changes:
    """Note papers as sent, all of them or none; the change can be taken back.

    Raises:
        Refused: there is no paper of one of the numbers.
    """
    _note(book, numbers, Sending(at, way))
    back = partial(take_back, numbers=tuple(numbers))
    if len(numbers) == 1:
        return Changes(_SENT, said("{number} is marked as sent.", number=numbers[0]), back)
    return Changes(_SENT, said("{count} papers are marked as sent.", count=len(numbers)), back)


def take_back(book: Book, at: dt.datetime, *, numbers: Sequence[str]) -> Changes:
    """Take the last sending of papers back by a further entry; one that is not sent stays as it is.

    Raises:
        Refused: there is no paper of one of the numbers.
    """
    with book.writing() as tx:
        taken = [number for number in numbers if _take_back_in(tx, number, at)]
        waiting = [number for number in taken if not _is_sent(tx.conn, number)]
    if len(waiting) == 1:
        return Changes(_SENT, said("{number} waits to be sent again.", number=waiting[0]))
    if taken and not waiting:
        return Changes(_SENT, said("The last sending is taken back; an earlier one stands."))
    return Changes(_SENT, said("{count} papers wait to be sent again.", count=len(waiting)))


def _take_back_in(tx: Database, number: str, at: dt.datetime) -> bool:
    """Take the last sending of a paper back; returns whether one stood."""
    sent = _is_sent(tx.conn, number)
    if sent:
        stored.note_sent(tx, number, Sending(at, TAKEN_BACK))
    return sent


def sendings(book: Book, number: str) -> tuple[Sending, ...]:
    """Return the entries about a paper, oldest first."""
    return tuple(stored.sendings(book.con, number))


def is_sent(book: Book, number: str) -> bool:
    """Return whether a paper counts as sent.

    Raises:
        Refused: there is no paper of that number.
    """
    return _is_sent(book.con, number)


def unsent(book: Book) -> list[str]:
    """Return the numbers of the papers still to be sent, the oldest first."""
    return stored.unsent(book.con)


def save_unsent(
    book: Book, folder: Path, *, at: dt.datetime, progress: Progress, cancelled: Cancelled
) -> Saved:
    """Save the papers still to be sent into a folder and note each as sent as soon as it lies there.

    Args:
        book: the open book.
        folder: where they are put; a file already there under a paper's name is left as it is.
        at: the moment noted.
        progress: told after each paper.
        cancelled: asked before each paper; what was saved before stays saved and noted.

    Raises:
        UserProblem: the folder takes no file; the papers saved before are noted as sent.
        BookProblem: a paper in the book is not the one that was issued.
    """
    waiting = unsent(book)
    done: list[str] = []
    progress(0, len(waiting))
    for number in waiting:
        if cancelled():
            break
        save_and_mark(book, number, folder, at=at)
        done.append(number)
        progress(len(done), len(waiting))
    return Saved(tuple(done), len(waiting), _saved(done, len(waiting)))


def save_and_mark(book: Book, number: str, folder: Path, *, at: dt.datetime) -> Path:
    """Save a paper into a folder, under a name nothing else has, and note it as sent; returns the file.

    Raises:
        UserProblem: the folder takes no file.
        Refused: there is no such paper.
        BookProblem: the paper in the book is not the one that was issued.
    """
    data = issued.paper_bytes(book, number)
    try:
        file = _free_name(folder, number, data)
    except OSError:  # a folder that may not be looked into, or a name it cannot take
        raise _not_written(folder / f"{number}.pdf") from None
    save(book, number, file)
    _note(book, [number], Sending(at, SAVED))
    return file


def save(book: Book, number: str, file: Path) -> None:
    """Write a paper, byte for byte as issued.

    Raises:
        UserProblem: the file cannot be written.
        Refused: there is no such paper.
        BookProblem: the paper in the book is not the one that was issued.
    """
    issued.paper_bytes(book, number)
    try:
        issued.save_paper(book, number, file)
    except Refused:
        raise _not_written(file) from None


def _saved(done: Sequence[str], of: int) -> Changes:
    back = partial(take_back, numbers=tuple(done)) if done else None
    if not done:
        return Changes(_SENT, said("No paper was saved."))
    if len(done) < of:
        text = said("{count} of {of} papers are saved and marked as sent.", count=len(done), of=of)
    elif of == 1:
        text = said("{number} is saved and marked as sent.", number=done[0])
    else:
        text = said("{count} papers are saved and marked as sent.", count=of)
    return Changes(_SENT, text, back)


def _free_name(folder: Path, number: str, data: bytes) -> Path:
    """Return a name nothing else lies under; the same paper saved before is simply saved again."""
    file, count = folder / f"{number}.pdf", 2
    while file.exists() and not (file.is_file() and file.read_bytes() == data):
        file, count = folder / f"{number} ({count}).pdf", count + 1
    return file


def _note(book: Book, numbers: Sequence[str], sending: Sending) -> None:
    with book.writing() as tx:
        for number in numbers:
            try:
                stored.note_sent(tx, number, sending)
            except LookupError:
                raise _unknown(number) from None


def _is_sent(con: Connection, number: str) -> bool:
    try:
        return stored.is_sent(con, number)
    except LookupError:
        raise _unknown(number) from None


def _not_written(file: Path) -> UserProblem:
    return UserProblem(said("{file} could not be written. Choose another folder.", file=str(file)))


def _unknown(number: str) -> Refused:
    return Refused([Fault("number", number, "the number of a sealed paper of this book")])
