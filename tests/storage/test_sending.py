"""Which papers went out, and which did not."""

from __future__ import annotations

import datetime as dt

import pytest
from tests.storage.samples import UTC, seal_papers

from flueleaf.storage import sending
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
    assert [paper.number for paper in sending.unsent(book.con)] == [third, first]
    assert [paper.number for paper in sending.unsent(book.con, most=1)] == [third]


def test_a_paper_that_is_not_there(book: Book) -> None:
    with pytest.raises(LookupError), book.writing() as tx:
        sending.note_sent(tx, "R-1", Sending(AT, "printed"))
