"""Numbering of papers, as a trader sets it."""

from __future__ import annotations

import datetime as dt
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.storage.samples import seal_papers

from flueleaf.domain.problems import Refused
from flueleaf.operations import numbering
from flueleaf.storage import numbering as stored
from flueleaf.storage import papers, verify
from flueleaf.storage.book import Book

DAY = dt.date(2026, 11, 20)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "Ellery.book") as made:
        yield made


def save(book: Book, key: str, letters: str, first: int) -> None:
    changes = numbering.save_series(book, key, letters=letters, first=first, today=DAY)
    assert changes.summary


def one(book: Book, key: str) -> numbering.Series:
    return {series.key: series for series in numbering.series(book, today=DAY)}[key]  # type: ignore[index]


def test_a_new_book_numbers_as_ever(book: Book) -> None:
    found = numbering.series(book, today=DAY)
    assert [(s.key, s.letters, s.first, s.last_used, s.next_number) for s in found] == [
        ("records", "R", 1, 0, "R-2026-0001"),
        ("quotes", "Q", 1, 0, "Q-2026-0001"),
        ("invoices", "I", 1, 0, "I-2026-0001"),
    ]


def test_one_who_moves_from_a_pad_goes_on_with_its_numbers(book: Book) -> None:
    save(book, "invoices", "I", 193)
    assert one(book, "invoices").next_number == "I-2026-0193"
    assert seal_papers(book, 2, series="I") == ["I-2026-0193", "I-2026-0194"]
    assert one(book, "invoices").last_used == 194
    assert not one(book, "invoices").open
    assert verify.verify(book.con) == []


def test_the_start_is_refused_once_a_number_was_given(book: Book) -> None:
    seal_papers(book, 1, series="I")
    with pytest.raises(Refused) as refused:
        save(book, "invoices", "I", 5)
    assert [(fault.where, fault.value) for fault in refused.value.faults] == [
        ("numbering.invoices.first", "5")
    ]
    assert refused.value.faults[0].accepted.startswith("1: papers of 2026")
    save(book, "invoices", "I", 1)


def test_both_faults_are_told_at_once(book: Book) -> None:
    with pytest.raises(Refused) as refused:
        save(book, "quotes", "q1", 0)
    assert [fault.where for fault in refused.value.faults] == [
        "numbering.quotes.letters",
        "numbering.quotes.first",
    ]


@pytest.mark.parametrize("letters", ["R", "Q"])
def test_letters_of_another_series_are_refused_even_when_given_up(book: Book, letters: str) -> None:
    save(book, "records", "CR", 1)
    with pytest.raises(Refused) as refused:
        save(book, "invoices", letters, 1)
    assert refused.value.faults[0].where == "numbering.invoices.letters"


def test_other_letters_begin_a_row_of_their_own(book: Book) -> None:
    save(book, "records", "R", 30)
    seal_papers(book, 2)
    save(book, "records", "SR", 30)
    assert one(book, "records").next_number == "SR-2026-0001"
    seal_papers(book, 1, series="SR")
    save(book, "records", "R", 1)
    assert one(book, "records").next_number == "R-2026-0032"
    assert verify.verify(book.con) == []


def test_an_unknown_series_is_a_mistake_of_the_program(book: Book) -> None:
    with pytest.raises(LookupError):
        save(book, "receipts", "X", 1)


@contextmanager
def fresh() -> Iterator[Book]:
    with tempfile.TemporaryDirectory() as folder, Book.create(Path(folder) / "b.book") as made:
        yield made


STEP = st.one_of(
    st.tuples(st.just("set"), st.sampled_from(["A", "B", "R", "Q", "no", ""]), st.integers(-1, 4)),
    st.tuples(st.just("issue"), st.just(""), st.integers(1, 2)),
)


@settings(max_examples=25, deadline=None)
@given(steps=st.lists(st.tuples(st.sampled_from(["records", "quotes", "invoices"]), STEP), max_size=10))
def test_whatever_is_set_numbers_are_unique_and_without_gaps(
    steps: list[tuple[str, tuple[str, str, int]]],
) -> None:
    with fresh() as book:
        issued: list[str] = []
        for key, (what, letters, number) in steps:
            if what == "issue":
                expected = one(book, key).next_number
                taken = seal_papers(book, number, series=stored.letters_of(book.con, key))
                assert taken[0] == expected
                issued += taken
            else:
                before = one(book, key)
                try:
                    save(book, key, letters, number)
                except Refused:
                    assert one(book, key) == before
        assert len(set(issued)) == len(issued)
        ordinals: dict[str, list[int]] = {}
        for number_text in issued:
            series, _, ordinal = papers.parts_of(number_text)
            ordinals.setdefault(series, []).append(ordinal)
        for series, taken_ordinals in ordinals.items():
            first = stored.first_of(book.con, series, 2026)
            assert taken_ordinals == list(range(first, first + len(taken_ordinals)))
        assert verify.verify(book.con) == []
