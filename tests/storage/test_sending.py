"""Which papers went out, and which did not."""

from __future__ import annotations

import datetime as dt

import pytest
from tests.storage.samples import UTC, seal_papers

from flueleaf.storage import listing, papers, sending
from flueleaf.storage.book import Book
from flueleaf.storage.sending import Sending

AT = dt.datetime(2026, 11, 20, 20, 15, tzinfo=UTC)


def test_what_was_sent_is_no_longer_to_be_sent(book: Book) -> None:
    first, second, third = seal_papers(book, 3)
    printed, mailed = Sending(AT, "printed"), Sending(AT, "mailed", "maud@example.org", "second copy")
    with book.writing() as tx:
        sending.note_sent(tx, second, printed)
        sending.note_sent(tx, second, mailed)
    assert sending.sendings(book.con, second) == [printed, mailed]
    assert sending.sendings(book.con, first) == []
    assert sending.unsent(book.con) == [first, third]
    assert [sending.is_sent(book.con, number) for number in (first, second)] == [False, True]
    assert [paper.number for paper in listing.unsent_papers(book.con, most=9)] == [third, first]
    assert [paper.number for paper in listing.unsent_papers(book.con, most=1)] == [third]


def test_what_was_taken_back_is_to_be_sent_again(book: Book) -> None:
    (number,) = seal_papers(book, 1)
    printed, back = Sending(AT, "printed"), Sending(AT, sending.TAKEN_BACK)
    with book.writing() as tx:
        sending.note_sent(tx, number, printed)
        sending.note_sent(tx, number, printed)
        sending.note_sent(tx, number, back)
    assert sending.unsent(book.con) == []
    with book.writing() as tx:
        sending.note_sent(tx, number, back)
    assert sending.unsent(book.con) == [number]
    assert [one.way for one in sending.sendings(book.con, number)] == ["printed"] * 2 + ["taken back"] * 2


def test_a_paper_that_is_not_there(book: Book) -> None:
    with pytest.raises(LookupError), book.writing() as tx:
        sending.note_sent(tx, "R-1", Sending(AT, "printed"))
    with pytest.raises(LookupError):
        sending.is_sent(book.con, "R-1")


def test_what_was_sealed_on_a_day(book: Book) -> None:
    assert listing.day_totals(book.con, dt.date(1999, 1, 1)) == listing.DayTotals(0, 0, 0)
    numbers = seal_papers(book, 2)
    day = papers.sealed(book.con, numbers[0]).issued_at.date()
    assert listing.day_totals(book.con, day).papers == 2
