"""Papers noted as sent, taken back, and saved all together."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.operations import drafting, issued, sending
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
AT = dt.datetime(2026, 11, 25, 20, 30, tzinfo=dt.UTC)
BOTH = ["R-2026-0001", "I-2026-0001"]


@pytest.fixture(autouse=True)
def sealed(book: Book, document: dict[str, Any]) -> None:
    """The record and the invoice of the worked evening."""
    drafting.sign_off(book, document, issued_at=AT, today=TODAY)


def test_a_mark_is_taken_back_by_the_change_that_made_it(book: Book) -> None:
    assert sending.unsent(book) == BOTH
    changes = sending.mark_sent(book, BOTH[:1], at=AT)
    assert changes.summary == "R-2026-0001 is marked as sent."
    assert sending.unsent(book) == BOTH[1:]
    assert changes.take_back is not None
    assert changes.take_back(book, AT).summary == "R-2026-0001 waits to be sent again."
    assert sending.unsent(book) == BOTH
    assert changes.take_back(book, AT).summary == "0 papers wait to be sent again."
    assert [one.way for one in sending.sendings(book, BOTH[0])] == ["noted", "taken back"]


def test_a_paper_sent_twice_stays_sent_when_one_sending_is_taken_back(book: Book) -> None:
    first, second = (sending.mark_sent(book, [BOTH[0]], at=AT) for _ in range(2))
    assert second.take_back is not None
    assert second.take_back(book, AT).summary == "The last sending is taken back; an earlier one stands."
    assert sending.unsent(book) == BOTH[1:]
    assert first.take_back is not None
    assert first.take_back(book, AT).summary == "R-2026-0001 waits to be sent again."
    assert sending.unsent(book) == BOTH


def test_a_number_named_twice_is_taken_back_once(book: Book) -> None:
    sending.mark_sent(book, BOTH[:1], at=AT)
    sending.take_back(book, AT, numbers=[BOTH[0], BOTH[0]])
    sending.mark_sent(book, BOTH[:1], at=AT)
    assert sending.is_sent(book, BOTH[0])


def test_marking_is_all_or_nothing(book: Book) -> None:
    with pytest.raises(Refused):
        sending.mark_sent(book, [BOTH[0], "R-1999-0001"], at=AT)
    with pytest.raises(Refused):
        sending.is_sent(book, "R-1999-0001")
    assert sending.unsent(book) == BOTH


def test_all_unsent_papers_are_saved_as_issued_and_marked(book: Book, tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    saved = sending.save_unsent(
        book, tmp_path, at=AT, progress=lambda *step: told.append(step), cancelled=lambda: False
    )
    assert saved.changes.summary == "2 papers are saved and marked as sent."
    assert told == [(0, 2), (1, 2), (2, 2)]
    for number in BOTH:
        assert (tmp_path / f"{number}.pdf").read_bytes() == issued.paper_bytes(book, number)
    assert sending.unsent(book) == []
    assert saved.changes.take_back is not None
    saved.changes.take_back(book, AT)
    assert sending.unsent(book) == BOTH


def test_a_run_that_is_cancelled_keeps_what_it_saved(book: Book, tmp_path: Path) -> None:
    done: list[int] = []
    saved = sending.save_unsent(
        book, tmp_path, at=AT, progress=lambda now, _of: done.append(now), cancelled=lambda: done[-1] == 1
    )
    assert saved.changes.summary == "1 of 2 papers are saved and marked as sent."
    assert sending.unsent(book) == BOTH[1:]
    assert [file.name for file in tmp_path.glob("*.pdf")] == ["R-2026-0001.pdf"]


def test_nothing_saved_marks_nothing(book: Book, tmp_path: Path) -> None:
    saved = sending.save_unsent(
        book, tmp_path, at=AT, progress=lambda _now, _of: None, cancelled=lambda: True
    )
    assert (saved.numbers, saved.changes.take_back) == ((), None)
    with pytest.raises(UserProblem, match="Choose another folder"):
        sending.save_and_mark(book, BOTH[0], tmp_path / "no folder", at=AT)
    with pytest.raises(UserProblem, match="Choose another folder"):
        sending.save_and_mark(book, BOTH[0], tmp_path / ("longer than a name may be " * 20), at=AT)
    assert sending.unsent(book) == BOTH


def test_a_file_of_another_content_is_left_as_it_is(book: Book, tmp_path: Path) -> None:
    (tmp_path / "R-2026-0001.pdf").write_bytes(b"another book's")
    first = sending.save_and_mark(book, BOTH[0], tmp_path, at=AT)
    again = sending.save_and_mark(book, BOTH[0], tmp_path, at=AT)
    assert first == again == tmp_path / "R-2026-0001 (2).pdf"
    assert (tmp_path / "R-2026-0001.pdf").read_bytes() == b"another book's"
