"""How papers are numbered: the letters of each series, and where it starts for one who moves from a pad."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import marked, said
from flueleaf.operations.changes import Changes, Topic
from flueleaf.storage import numbering
from flueleaf.storage.book import Book
from flueleaf.storage.papers import paper_number

if TYPE_CHECKING:
    from sqlite3 import Connection

SeriesKey = Literal["records", "quotes", "invoices"]

# Records of every kind share one series, so that a premises' folder reads in one order.
NAMES: dict[SeriesKey, str] = {
    "records": marked("records"),
    "quotes": marked("quotes"),
    "invoices": marked("invoices"),
}
# Numbers are written with four digits; a pad of which more were used in one year is nobody's own.
GREATEST_FIRST = 9999
_LETTERS = re.compile(r"[A-Z]{1,4}")


@dataclass(frozen=True, slots=True)
class Series:
    """A numbering series in the year asked about.

    Attributes:
        key: records, quotes or invoices.
        name: of the series, as in running text.
        letters: what its next number begins with.
        first: the number it starts with in this year.
        last_used: the number given last in this year under these letters, 0 if none was.
        year: that year.
    """

    key: SeriesKey
    name: str
    letters: str
    first: int
    last_used: int
    year: int

    @property
    def open(self) -> bool:
        """Whether the first number can still be set."""
        return self.last_used == 0

    @property
    def next_number(self) -> str:
        """The number the next paper takes, if it is issued in this year."""
        return paper_number(self.letters, self.year, self.last_used + 1 if self.last_used else self.first)


def series(book: Book, *, today: dt.date) -> tuple[Series, ...]:
    """Return the series of records, quotes and invoices as they stand in the year of a day."""
    return tuple(_one(book.con, key, today.year) for key in NAMES)


def save_series(book: Book, key: str, *, letters: str, first: int, today: dt.date) -> Changes:
    """Keep the letters of a series and the number it starts with this year; issued papers stay as they are.

    Other letters count from the next paper on. They begin a row of numbers of their own, at 1 where
    ``first`` is still that of the letters before, which have given numbers this year.

    Args:
        book: the book.
        key: records, quotes or invoices.
        letters: one to four letters A to Z that no other series uses or has used.
        first: the first number of this year; the one there is, once a number was given.
        today: tells the year.

    Raises:
        Refused: with the paths ``numbering.<key>.letters`` and ``numbering.<key>.first``.
    """
    with book.writing() as tx:
        now = _one(tx.conn, _key_of(key), today.year)
        if letters != now.letters and not now.open and first == now.first:
            first = numbering.first_of(tx.conn, letters, now.year)
        if faults := (*_letter_faults(tx.conn, now, letters), *_first_faults(tx.conn, now, letters, first)):
            raise Refused(faults)
        if letters != now.letters:
            numbering.set_letters(tx, key, letters)
        if first != numbering.first_of(tx.conn, letters, now.year):
            numbering.set_first(tx, letters, now.year, first)
    return Changes(frozenset({Topic.BUSINESS}), marked("The numbering is kept."))


def _key_of(key: str) -> SeriesKey:
    for known in NAMES:
        if known == key:
            return known
    raise LookupError(f"no numbering series {key}")


def _one(con: Connection, key: SeriesKey, year: int) -> Series:
    letters = numbering.letters_of(con, key)
    first, last = numbering.first_of(con, letters, year), numbering.last_of(con, letters, year)
    return Series(key, NAMES[key], letters, first, last, year)


def _letter_faults(con: Connection, now: Series, letters: str) -> tuple[Fault, ...]:
    where = f"numbering.{now.key}.letters"
    if not _LETTERS.fullmatch(letters):
        return (Fault(where, letters, marked("one to four capital letters A to Z, as in R")),)
    if numbering.owner_of(con, letters) not in (None, now.key):
        return (Fault(where, letters, marked("letters that no other series uses or has used")),)
    return ()


def _first_faults(con: Connection, now: Series, letters: str, first: int) -> tuple[Fault, ...]:
    where = f"numbering.{now.key}.first"
    if not 1 <= first <= GREATEST_FIRST:
        return (Fault(where, str(first), said("a whole number from 1 to {most}", most=GREATEST_FIRST)),)
    settled = numbering.first_of(con, letters, now.year)
    if first != settled and numbering.last_of(con, letters, now.year):
        text = "{first}: papers of {year} were issued with these letters already"
        return (Fault(where, str(first), said(text, first=settled, year=now.year)),)
    return ()
