"""A signed visit explains what was frozen: no verdict is judged again, two appliances are told apart."""

from __future__ import annotations

import copy
import datetime as dt
from typing import Any

from flueleaf.domain.judging.assessment import WORST_FIRST
from flueleaf.domain.records.business import Business
from flueleaf.operations import book as books
from flueleaf.operations import drafting, explaining, schedule, visits
from flueleaf.operations.explaining.explanation import Explanation
from flueleaf.operations.intake.reader import load_json
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices
from flueleaf.paths import DEMO_DB
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
ISSUED = dt.datetime(2026, 11, 20, 20, tzinfo=dt.UTC)


def _book(tmp_path: Any) -> Book:
    book = books.create(tmp_path / "signed.book")
    books.save_business(book, Business(name="Jory Quillfeather", vat="standard", vat_number="GB999999973"))
    return book


def _evening() -> dict[str, Any]:
    document: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    document.pop("issued_at", None)
    return document


def _explained(book: Book, document: dict[str, Any]) -> tuple[Any, list[Explanation]]:
    visit = read_visit(document, choices=choices(), today=TODAY)
    visits.sign_off(book, visit, issued_at=ISSUED)
    kept = drafting.stored_visit(book, visit.visit_id)
    due = schedule.due_set_by(book, kept.visit, kept.ref)
    return kept, explaining.explain_signed(book, kept, due, TODAY)


def test_each_of_two_appliances_has_its_verdict_and_readings(tmp_path: Any) -> None:
    document = _evening()
    document["works"].append(copy.deepcopy(document["works"][0]))
    second = document["works"][1]
    second["appliance"] |= {"serial": "QZ-2", "location": "loft"}
    for slip in second["slips"]:
        if slip["point"] == "flue" and slip["rate"] == "max":
            slip["co_ppm"] = "345"
            slip.pop("ratio", None)
    book = _book(tmp_path)
    kept, found = _explained(book, document)
    by_key = {one.key: one for one in reversed(found)}
    assert len({one.title for one in found}) == len(found), "two figures of one title"
    for number, result in enumerate(kept.results):
        one = by_key[f"works.{number}.verdict"]
        assert one.result == result["verdict"]
        told = [slip["verdict"] for slip in result["slips"] if slip["decides"]]
        assert [given.value for given in one.inputs] == told
        assert one.result == min(told, key=WORST_FIRST.index)
        assert one.steps
        assert all(step.endswith(one.result) for step in one.steps)
    assert by_key["works.1.flue.max.1.co_ppm"].result == "345 ppm: near"
    assert by_key["works.0.flue.max.1.co_ppm"].result != "345 ppm: near"
    assert len([one for one in found if one.key.startswith("due.")]) == 2
    book.close()


def test_a_quote_and_an_invoice_are_told_apart(tmp_path: Any) -> None:
    book = _book(tmp_path)
    document = _evening()
    document["papers"] = ["quote", "invoice"]
    _, found = _explained(book, document)
    totals = [one for one in found if one.key.endswith(".bill.total")]
    assert [one.title for one in totals] == [f"{n}-2026-0001: total of the bill" for n in ("Q", "I")]
    assert totals[0].result == totals[1].result
    book.close()


def test_without_papers_there_is_no_bill_and_the_date_is_still_told(tmp_path: Any) -> None:
    book = _book(tmp_path)
    _, found = _explained(book, {**_evening(), "papers": []})
    assert not [one for one in found if ".bill." in one.key]
    assert [one.result for one in found if one.key.startswith("due.")] == ["20 November 2027"]
    book.close()


def test_a_later_visit_does_not_change_what_the_earlier_one_set(tmp_path: Any) -> None:
    book = _book(tmp_path)
    kept, found = _explained(book, _evening())
    later = {**_evening(), "visit_id": "00000000-0000-4000-8000-000000000001", "purpose": "service"}
    later |= {"date": "2026-11-24", "papers": []}
    _explained(book, later)
    ((row,),) = schedule.due_set_by(book, kept.visit, kept.ref)
    assert row.date == dt.date(2027, 11, 20)
    assert explaining.explain_due(row) == found[-1]
    book.close()
