"""The letters of a series stay its own, and its start is settled by its first number."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from tests.storage.samples import seal_papers

from flueleaf.storage import numbering, papers, verify
from flueleaf.storage.book import Book


def test_a_new_book_has_the_usual_letters_and_starts_at_one(book: Book) -> None:
    found = [numbering.letters_of(book.con, key) for key in ("records", "quotes", "invoices")]
    assert found == ["R", "Q", "I"]
    assert seal_papers(book, 2) == ["R-2026-0001", "R-2026-0002"]


def test_a_start_holds_for_its_year_only(book: Book) -> None:
    with book.writing() as tx:
        numbering.set_first(tx, "I", 2026, 12)
        numbering.set_first(tx, "I", 2026, 48)
    assert seal_papers(book, 2, series="I") == ["I-2026-0048", "I-2026-0049"]
    assert seal_papers(book, 1, series="I", year=2027) == ["I-2027-0001"]
    assert verify.verify(book.con) == []


def test_a_start_is_settled_by_the_first_number(book: Book) -> None:
    seal_papers(book, 1)
    with pytest.raises(sqlite3.IntegrityError, match="keeps its start"), book.writing() as tx:
        numbering.set_first(tx, "R", 2026, 9)
    assert numbering.first_of(book.con, "R", 2026) == 1
    with book.writing() as tx:
        numbering.set_first(tx, "Q", 2026, 5)
        papers.next_number(tx, "Q", 2026)
        with pytest.raises(sqlite3.IntegrityError, match="keeps its start"):
            numbering.set_first(tx, "Q", 2026, 6)


def test_the_last_number_is_that_of_its_letters_and_its_year(book: Book) -> None:
    seal_papers(book, 2)
    seal_papers(book, 1, series="I", year=2027)
    last = {
        (letters, year): numbering.last_of(book.con, letters, year)
        for letters in "RI"
        for year in (2026, 2027)
    }
    assert last == {("R", 2026): 2, ("R", 2027): 0, ("I", 2026): 0, ("I", 2027): 1}


def test_a_number_taken_in_a_change_that_failed_is_given_again(book: Book) -> None:
    seal_papers(book, 1)
    with pytest.raises(RuntimeError), book.writing() as tx:  # noqa: PT012
        assert papers.next_number(tx, "R", 2026) == "R-2026-0002"
        raise RuntimeError
    assert numbering.last_of(book.con, "R", 2026) == 1
    assert seal_papers(book, 1) == ["R-2026-0002"]
    assert verify.verify(book.con) == []


@pytest.mark.parametrize("last", [1, 6, 8])
def test_a_counter_begins_at_no_other_number_than_its_start(book: Book, last: int) -> None:
    with book.writing() as tx:
        numbering.set_first(tx, "R", 2026, 7)
        with pytest.raises(sqlite3.IntegrityError, match="at its first number"):
            tx.execute("INSERT INTO counter (series, year, last) VALUES ('R', 2026, ?)", (last,))


@pytest.mark.parametrize("letters", ["", "r", "R2", "ABCDE", "Ä", "R-"])
def test_letters_are_one_to_four_capitals(book: Book, letters: str) -> None:
    with pytest.raises(sqlite3.IntegrityError), book.writing() as tx:
        numbering.set_letters(tx, "records", letters)


def test_letters_once_used_stay_with_their_series(book: Book) -> None:
    with book.writing() as tx:
        numbering.set_letters(tx, "records", "REC")
    assert numbering.letters_of(book.con, "records") == "REC"
    assert numbering.owner_of(book.con, "R") == "records"
    assert numbering.owner_of(book.con, "ZZ") is None
    with pytest.raises(sqlite3.IntegrityError, match="its own"), book.writing() as tx:
        numbering.set_letters(tx, "invoices", "R")
    with book.writing() as tx:
        numbering.set_letters(tx, "records", "R")
    assert numbering.letters_of(book.con, "records") == "R"
    with pytest.raises(LookupError):
        numbering.letters_of(book.con, "receipts")


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE series_letters SET letters = 'X'",
        "DELETE FROM series_letters",
        "INSERT OR REPLACE INTO series_letters (id, series_key, letters) VALUES (1, 'records', 'X')",
        "DELETE FROM series_start",
        "INSERT OR REPLACE INTO series_start (series, year, first) VALUES ('R', 2026, 3)",
        "UPDATE series_start SET year = 2027",
    ],
)
def test_nothing_of_it_is_altered_behind_the_program(book: Book, path: Path, statement: str) -> None:
    with book.writing() as tx:
        numbering.set_first(tx, "R", 2026, 2)
    seal_papers(book, 1)
    book.close()
    with closing(sqlite3.connect(path)) as con, pytest.raises(sqlite3.IntegrityError):
        con.execute(statement)
