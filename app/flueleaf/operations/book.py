"""Opening, making and checking a book."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from flueleaf.domain.records.business import Business
from flueleaf.domain.words import said
from flueleaf.operations.changes import Changes, Topic
from flueleaf.papers.registry import all_kinds
from flueleaf.storage import business as businesses
from flueleaf.storage import listing
from flueleaf.storage import verify as verifying
from flueleaf.storage.book import Book, load_writer


def create(path: Path) -> Book:
    """Make a new, empty book and open it.

    Raises:
        BookProblem: something of that name is there, or the folder takes no file.
    """
    return Book.create(path)


def reading(path: Path) -> Book:
    """Open a book for reading, an older one too; no file is made or changed, and a window may have it open.

    Raises:
        BookProblem: missing, not a book, newer, locked.
    """
    return Book.open(path, read_only=True)


def writing_book(path: Path) -> Book:
    """Open a book for reading and writing; an older one is copied, then brought up to date.

    Raises:
        BookProblem: missing, not a book, newer, locked, not writable.
    """
    return Book.open(path)


def window_book(path: Path) -> Book:
    """Open a book for a window; a second window on it is refused.

    Raises:
        BookProblem: as for writing, or another window has it.
    """
    book = Book.open(path)
    try:
        book.claim_window()
    except BaseException:
        book.close()
        raise
    return book


def warm_up() -> None:
    """Load what the first change and the first paper need: for a thread, once the window is painted."""
    load_writer()
    for kind in all_kinds().values():
        kind.load()


def business(book: Book) -> Business:
    """Return the owner's profile."""
    return businesses.business(book.con)


def save_business(book: Book, profile: Business) -> Changes:
    """Keep the owner's profile; papers already issued stay as they are."""
    with book.writing() as tx:
        businesses.save_business(tx, profile)
    return Changes(frozenset({Topic.BUSINESS}), said("Your business is kept."))


def verify(book: Book) -> dict[str, Any]:
    """Check the file, the foreign keys, the chain of papers, the counters and the numbers.

    Returns:
        ``ok``, the count of ``papers``, and ``faults`` with code, paper and text.
    """
    result = verifying.verify(book.con)
    faults = [{"code": fault.code, "paper": fault.paper, "text": fault.text} for fault in result]
    return {"ok": not faults, "papers": listing.paper_count(book.con), "faults": faults}
