"""A quote being typed: begun from the book, kept, judged, sealed once, brought into a visit."""

from __future__ import annotations

import datetime as dt
import json
from typing import Any

import pytest

from flueleaf.domain.money.amount import Money
from flueleaf.domain.problems import Refused
from flueleaf.operations import bills, drafting, pages, quoting
from flueleaf.operations import book as books
from flueleaf.operations.intake import documents
from flueleaf.storage import money, papers
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
ISSUED = dt.datetime(2026, 11, 25, 20, 15, tzinfo=dt.UTC)
SERVICE = {"text": "Service", "quantity": "1", "unit_price": "78.00", "vat_pct": "20"}


def typed(**changes: Any) -> dict[str, Any]:
    """Return a quote as typed for somebody new."""
    return {
        "quote_id": "00000000-0000-4000-8000-000000000007",
        "customer": {"name": "Wilf Example", "kind": "householder"},
        "premises": {"address": ["2 Dock Street", "Quarrowby"], "postcode": "QX1 1AA"},
        "lines": [SERVICE],
        **changes,
    }


def judged(book: Book, document: dict[str, Any]) -> quoting.QuoteJudgement:
    return quoting.judge(document, books.business(book), today=TODAY)


def test_a_typed_quote_is_kept_listed_and_sealed_once(book: Book) -> None:
    document = typed()
    quoting.keep(book, document, at="lines.0.text")
    assert quoting.load(book, document["quote_id"]) == document
    assert quoting.left_at(book, document["quote_id"]) == "lines.0.text"
    (row,) = pages.tonight(book, TODAY).drafts
    assert (row.kind, row.key, row.missing) == ("quote", document["quote_id"], ())
    assert row.title == "quote for 2 Dock Street, Quarrowby"
    sealed = quoting.seal(book, document, issued_at=ISSUED)
    kept = money.quote(book.con, sealed.number)
    assert (sealed.number, kept.total, kept.valid_until) == (
        "Q-2026-0001",
        Money(9360),
        quoting.valid_until(TODAY),
    )
    assert quoting.load(book, document["quote_id"]) is None
    assert pages.tonight(book, TODAY).drafts == ()


def test_a_quote_for_known_premises_is_filled_in(book: Book) -> None:
    quoting.seal(book, typed(), issued_at=ISSUED)
    begun = quoting.begin(book, premises_id=1)
    assert begun["premises"]["address"] == ["2 Dock Street", "Quarrowby"]
    assert begun["customer"]["name"] == "Wilf Example"
    assert begun["lines"] == []
    assert quoting.begin(book)["premises"] == {}


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"lines": []}, "lines"),
        ({"customer": {}}, "customer.name"),
        ({"premises": {"postcode": "QX1 1AA"}}, "premises.address"),
        ({"lines": [{**SERVICE, "unit_price": "78,00"}]}, "lines[0].unit_price"),
        ({"lines": [{**SERVICE, "vat_pct": "19"}]}, "lines[0].vat_pct"),
    ],
)
def test_what_is_wrong_is_said_by_its_path_and_nothing_is_sealed(
    book: Book, changes: dict[str, Any], where: str
) -> None:
    document = typed(**changes)
    assert [fault.where for fault in judged(book, document).faults] == [where]
    quoting.keep(book, document)
    assert pages.tonight(book, TODAY).drafts[0].missing != ()
    with pytest.raises(Refused) as refused:
        quoting.seal(book, document, issued_at=ISSUED)
    assert [fault.where for fault in refused.value.faults] == [where]
    assert quoting.load(book, document["quote_id"]) == document
    assert papers.all_papers(book.con) == []


def test_the_sum_is_the_one_that_is_sealed(book: Book) -> None:
    tally = judged(book, typed()).tally
    assert tally is not None
    assert (tally.net, tally.vat_total, tally.total) == (Money(7800), Money(1560), Money(9360))


def test_a_draft_put_away_is_not_unfinished_any_more(book: Book) -> None:
    quoting.keep(book, typed())
    quoting.put_away(book, typed()["quote_id"])
    assert pages.tonight(book, TODAY).drafts == ()


def test_lines_come_back_out_of_the_book_as_they_went_in(book: Book) -> None:
    line = {
        **SERVICE,
        "unit": "hours",
        "discount_pct": "12.5",
        "discount_amount": "1.00",
        "surcharge_amount": "0.50",
        "base_quantity": "2",
        "labour": True,
    }
    number = quoting.seal(book, typed(lines=[line]), issued_at=ISSUED).number
    (kept,) = money.quote(book.con, number).lines
    assert documents.line_document(kept) == line


def test_the_visit_that_brings_a_quote_in_makes_it_its_invoice(book: Book, document: dict[str, Any]) -> None:
    place = {"premises": document["premises"], "customer": document["customer"]}
    number = quoting.seal(book, typed(**place), issued_at=ISSUED).number
    (offered,) = quoting.open_quotes(book, document)
    assert offered.number == number
    document["lines"] = [documents.line_document(line) for line in offered.lines]
    drafting.keep(book, document, quote_number=number)
    loaded = drafting.load(book, document["visit_id"])
    assert loaded is not None
    assert not [key for key in loaded if key.startswith("_")]
    assert drafting.quote_of(book, document["visit_id"]) == number
    signed = drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY, quote_number=number)
    invoice = next(paper.number for paper in signed.papers if paper.kind == "invoice")
    assert json.loads(papers.body(book.con, invoice)[0])["quote_number"] == number
    assert money.quote(book.con, number).accepted_on == TODAY
    assert quoting.open_quotes(book, document) == ()
    with pytest.raises(Refused, match="not invoiced yet"):
        bills.invoice_quote(book, number, performed=TODAY, issued_at=ISSUED)


def test_no_quote_is_offered_where_nothing_is_known(book: Book) -> None:
    assert quoting.open_quotes(book, {"premises": {"address": ["9 Nowhere Lane"]}}) == ()
    assert quoting.open_quotes(book, {}) == ()
    assert quoting.judge({}, books.business(book), today=TODAY).tally is None
