"""What a visit makes due."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from flueleaf.domain.words import Sentence
from flueleaf.operations import drafting, schedule, visits
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices
from flueleaf.storage.book import Book

TODAY = dt.date(2027, 12, 31)


def _sign(book: Book, document: dict[str, Any], **changed: Any) -> visits.Signed:
    document.update(changed)
    document.pop("issued_at", None)
    document["papers"] = []
    visit = read_visit(document, choices=choices(), today=TODAY)
    return visits.sign_off(book, visit, issued_at=dt.datetime.combine(visit.date, dt.time(20), dt.UTC))


def _due(book: Book) -> list[tuple[str, str]]:
    rows = schedule.due(book, until=dt.date(2099, 1, 1), today=TODAY)
    return [(row.date.isoformat(), row.rule) for row in rows]


def _id(n: int) -> str:
    return f"00000000-0000-4000-8000-{n:012d}"


def test_a_commissioning_sets_the_yearly_service(book: Book, document: dict[str, Any]) -> None:
    signed = _sign(book, document)
    assert [(due.date.isoformat(), due.rule) for due in signed.due] == [("2027-11-20", "yearly service")]
    assert _due(book) == [("2027-11-20", "yearly service")]
    (row,) = schedule.due(book, until=None, today=dt.date(2027, 11, 1))
    assert (row.premises, row.customer) == ("95 Ropewalk Parade, Quarrowby QX2 2EF", "Perran Quillstone")


def test_a_service_moves_it_on(book: Book, document: dict[str, Any]) -> None:
    _sign(book, document)
    _sign(book, document, visit_id=_id(1), purpose="service", date="2027-11-02")
    assert _due(book) == [("2028-11-02", "yearly service")]


def test_a_landlords_check_within_two_months_keeps_the_anniversary(
    book: Book, document: dict[str, Any]
) -> None:
    document["customer"]["kind"] = "landlord"
    _sign(book, document)
    assert ("2027-11-20", "first landlord check") in _due(book)
    _sign(book, document, visit_id=_id(1), purpose="landlord check", date="2027-09-21")
    assert ("2028-11-20", "landlord check") in _due(book)
    assert "first landlord check" not in dict(map(reversed, _due(book)))  # type: ignore[arg-type]


def test_a_landlords_check_too_early_starts_anew(book: Book, document: dict[str, Any]) -> None:
    document["customer"]["kind"] = "landlord"
    _sign(book, document)
    _sign(book, document, visit_id=_id(1), purpose="landlord check", date="2027-09-20")
    assert ("2028-09-20", "landlord check") in _due(book)


@pytest.mark.parametrize("outcome", ["isolated", "made safe"])
def test_an_appliance_taken_out_of_use_has_nothing_due_until_it_is_repaired(
    book: Book, document: dict[str, Any], outcome: str
) -> None:
    _sign(book, document)
    works = document["works"]
    works[0]["outcome"] = outcome
    _sign(book, document, visit_id=_id(1), purpose="service", date="2027-11-02", works=works)
    assert _due(book) == []
    works[0]["outcome"] = "left in use"
    _sign(book, document, visit_id=_id(2), purpose="breakdown", date="2027-11-09", works=works)
    assert _due(book) == [("2028-11-09", "yearly service")]


def test_no_access_leaves_the_date_as_it_was(book: Book, document: dict[str, Any]) -> None:
    _sign(book, document)
    works = document["works"]
    works[0].update(outcome="not accessed", slips=[], close_up={}, checks=[])
    signed = _sign(book, document, visit_id=_id(1), purpose="service", date="2027-11-02", works=works)
    assert signed.due == ()
    assert _due(book) == [("2027-11-20", "yearly service")]


@pytest.mark.parametrize("papers", [["commissioning record"], []])
def test_why_it_is_due_is_read_as_the_sentence_it_was_written_as(
    book: Book, document: dict[str, Any], papers: list[str]
) -> None:
    document["customer"]["kind"] = "landlord"
    document["papers"] = papers
    issued_at = document.pop("issued_at")
    visit = read_visit(document, choices=choices(), today=TODAY)
    signed = visits.sign_off(book, visit, issued_at=dt.datetime.fromisoformat(issued_at))
    kept = drafting.stored_visit(book, visit.visit_id)
    (set_by_it,) = schedule.due_set_by(book, kept.visit, kept.ref)
    for rows in (schedule.due(book, until=None, today=visit.date), set_by_it):
        assert {row.why for row in rows} == {item.why for item in signed.due}
        assert [type(row.why) for row in rows] == [Sentence, Sentence]
        assert [type(row.what) for row in rows] == [Sentence, Sentence]
