"""Quotes, the invoice a quote becomes, payments."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from decimal import Decimal
from typing import Any

import pytest

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.lines import Line
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Customer, Premises
from flueleaf.operations import bills, drafting, pages
from flueleaf.operations import book as books
from flueleaf.storage import money, papers
from flueleaf.storage.book import Book

ISSUED = dt.datetime(2026, 11, 20, 20, 15, tzinfo=dt.UTC)
LATER = dt.datetime(2026, 12, 1, 19, 0, tzinfo=dt.UTC)
CUSTOMER = Customer("Wilf Example", address=("2 Dock Street",), postcode="QX1 1AA")
PLACE = Premises(("2 Dock Street",), "QX1 1AA")
LINES = (Line("Service", Decimal(1), "each", Decimal("78.00"), vat_pct=Decimal(20)),)


def _quote(book: Book) -> bills.Issued:
    return bills.issue_quote(book, CUSTOMER, PLACE, LINES, issued_at=ISSUED)


def test_a_quote_becomes_the_invoice_in_one_step_at_its_price(book: Book) -> None:
    quote = _quote(book)
    invoice = bills.invoice_quote(book, quote.number, performed=dt.date(2026, 11, 30), issued_at=LATER)
    kept = money.invoice(book.con, invoice.number)
    assert (kept.quote_number, kept.total, kept.lines) == (quote.number, Money(9360), LINES)
    assert kept.due == dt.date(2026, 12, 31)
    assert money.quote(book.con, quote.number).accepted_on == LATER.date()
    facts = json.loads(papers.body(book.con, invoice.number)[0])
    assert facts["quote_number"] == quote.number
    assert facts["performed"] == "2026-11-30"
    assert facts["tax_point"] == "2026-12-01"


def test_each_kind_of_bill_has_the_line_of_its_own(book: Book) -> None:
    owner = dataclasses.replace(books.business(book), invoice_text="Pay soon.", quote_text="Ask me.\n\nSoon.")
    books.save_business(book, owner)
    quote = _quote(book)
    invoice = bills.invoice_quote(book, quote.number, performed=ISSUED.date(), issued_at=LATER)
    texts = [
        json.loads(papers.body(book.con, one.number)[0])["bill"].get("texts") for one in (quote, invoice)
    ]
    assert texts == [["Ask me.", "Soon."], ["Pay soon."]]
    assert books.verify(book) == {"ok": True, "papers": 2, "faults": []}


def test_a_quote_becomes_only_one_invoice(book: Book) -> None:
    number = _quote(book).number
    bills.invoice_quote(book, number, performed=ISSUED.date(), issued_at=LATER)
    with pytest.raises(Refused, match="not invoiced yet"):
        bills.invoice_quote(book, number, performed=ISSUED.date(), issued_at=LATER)
    assert books.verify(book) == {"ok": True, "papers": 2, "faults": []}


def test_a_quote_is_not_invoiced_for_other_premises(book: Book, document: dict[str, Any]) -> None:
    number = _quote(book).number
    with pytest.raises(Refused, match="same premises"):
        drafting.sign_off(book, document, issued_at=LATER, today=LATER.date(), quote_number=number)
    assert money.quote(book.con, number).accepted_on is None
    assert papers.papers_of_visit(book.con, 1) == []


def test_no_quote_without_lines_or_of_an_unknown_number(book: Book) -> None:
    with pytest.raises(Refused, match="lines"):
        bills.issue_quote(book, CUSTOMER, PLACE, (), issued_at=ISSUED)
    with pytest.raises(Refused, match="Q-2026-0099"):
        bills.invoice_quote(book, "Q-2026-0099", performed=ISSUED.date(), issued_at=LATER)


def test_a_business_without_a_name_issues_nothing(book: Book) -> None:
    books.save_business(book, dataclasses.replace(books.business(book), name="  "))
    with pytest.raises(Refused, match=r"business\.name: missing"):
        _quote(book)
    books.save_business(book, dataclasses.replace(books.business(book), name="Ina Fell"))
    assert _quote(book).number == "Q-2026-0001"


def test_a_refused_bill_uses_up_no_number(book: Book) -> None:
    wrong = (Line("Service", Decimal(1), "each", Decimal("78.00"), vat_pct=Decimal(19)),)
    with pytest.raises(Refused, match="vat_pct"):
        bills.issue_quote(book, CUSTOMER, PLACE, wrong, issued_at=ISSUED)
    assert _quote(book).number == "Q-2026-0001"


def test_without_registration_no_vat_is_printed_or_accepted(book: Book) -> None:
    books.save_business(book, Business(name="Ina Fell", address=("1 Shed Row",), vat="none"))
    with pytest.raises(Refused, match="vat_pct"):
        _quote(book)
    plain = (Line("Service", Decimal(1), "each", Decimal("78.00")),)
    issued = bills.issue_quote(book, CUSTOMER, PLACE, plain, issued_at=ISSUED)
    facts = papers.body(book.con, issued.number)[0]
    assert '"vat"' not in facts
    assert '"total":"78.00"' in facts


def _signed_without_invoice(book: Book, document: dict[str, Any]) -> str:
    document = {**document, "papers": [kind for kind in document["papers"] if kind != "invoice"]}
    drafting.sign_off(book, document, issued_at=ISSUED, today=ISSUED.date())
    return str(document["visit_id"])


def test_a_visit_signed_without_an_invoice_is_invoiced_later(book: Book, document: dict[str, Any]) -> None:
    visit_id = _signed_without_invoice(book, document)
    ref = drafting.stored_visit(book, visit_id).ref
    visit, sums = bills.visit_to_invoice(book, visit_id, on=LATER.date())
    issued = bills.invoice_visit(book, visit_id, performed=visit.date, issued_at=LATER)
    kept = money.invoice(book.con, issued.number)
    assert (kept.visit_ref, kept.lines, kept.total) == (ref, visit.lines, sums.total)
    assert sums.total.pence > 0
    assert issued.number in [one.number for one in papers.papers_of_visit(book.con, ref)]
    facts = json.loads(papers.body(book.con, issued.number)[0])
    assert facts["performed"] == visit.date.isoformat()
    assert books.verify(book)["ok"]
    with pytest.raises(Refused, match="not invoiced yet"):
        bills.invoice_visit(book, visit_id, performed=visit.date, issued_at=LATER)
    with pytest.raises(Refused, match="not invoiced yet"):
        bills.visit_to_invoice(book, visit_id, on=LATER.date())


def test_the_quote_a_visit_charges_is_taken_with_its_invoice(book: Book, document: dict[str, Any]) -> None:
    visit_id = _signed_without_invoice(book, document)
    visit, _sums = bills.visit_to_invoice(book, visit_id, on=LATER.date())
    assert bills.quote_behind(book.con, visit) == ""
    other = bills.issue_quote(book, visit.customer, visit.premises, visit.lines[:1], issued_at=ISSUED).number
    assert bills.quote_behind(book.con, visit) == ""
    number = bills.issue_quote(book, visit.customer, visit.premises, visit.lines, issued_at=ISSUED).number
    assert bills.quote_behind(book.con, visit) == number
    issued = bills.invoice_visit(book, visit_id, performed=visit.date, issued_at=LATER)
    assert money.invoice(book.con, issued.number).quote_number == number
    with pytest.raises(Refused, match="not invoiced yet"):
        bills.invoice_quote(book, number, performed=visit.date, issued_at=LATER)
    assert bills.known_quote(book.con, other).number in {
        one.number for one in money.quotes_of_premises(book.con, visit.premises.id or 0, open_only=True)
    }


def test_a_visit_is_not_invoiced_twice_nor_for_nothing(book: Book, document: dict[str, Any]) -> None:
    drafting.sign_off(book, document, issued_at=ISSUED, today=ISSUED.date())
    with pytest.raises(Refused, match="not invoiced yet"):
        bills.invoice_visit(book, document["visit_id"], performed=ISSUED.date(), issued_at=LATER)
    free = _signed_without_invoice(
        book, {**document, "visit_id": "7f0e1d2c-3b4a-4958-8776-655443322110", "lines": []}
    )
    with pytest.raises(Refused, match="something to charge"):
        bills.invoice_visit(book, free, performed=ISSUED.date(), issued_at=LATER)
    with pytest.raises(Refused, match="of this book"):
        bills.invoice_visit(book, "unknown", performed=ISSUED.date(), issued_at=LATER)


def test_payments_lower_what_is_owing(book: Book) -> None:
    number = bills.invoice_quote(book, _quote(book).number, performed=ISSUED.date(), issued_at=ISSUED).number
    (row,) = pages.tonight(book, dt.date(2026, 12, 25)).owing
    assert (row.number, row.owing, row.overdue_days) == (number, "£93.60", 5)
    bills.record_payment(book, number, date=dt.date(2026, 12, 24), amount=Money(5000), way="transfer")
    (row,) = pages.tonight(book, dt.date(2026, 12, 25)).owing
    assert row.owing == "£43.60"
    bills.record_payment(book, number, date=dt.date(2026, 12, 25), amount=Money(4360), way="cash")
    assert pages.tonight(book, dt.date(2026, 12, 25)).owing == ()


def test_a_payment_needs_an_invoice_and_an_amount(book: Book) -> None:
    with pytest.raises(Refused, match="invoice"):
        bills.record_payment(book, "I-2026-0001", date=ISSUED.date(), amount=Money(1), way="cash")
    with pytest.raises(Refused, match="above"):
        bills.record_payment(book, "I-2026-0001", date=ISSUED.date(), amount=Money(0), way="cash")


def test_a_payment_is_taken_back_once_and_both_entries_stay(book: Book) -> None:
    number = bills.invoice_quote(
        book, _quote(book).number, performed=dt.date(2026, 11, 30), issued_at=LATER
    ).number
    noted = bills.record_payment(book, number, date=LATER.date(), amount=Money(5000), way="cash")
    assert noted.take_back is not None
    noted.take_back(book, LATER)
    assert [one.amount.pence for one in money.payments(book.con, number)] == [5000, -5000]
    with pytest.raises(UserProblem, match="already"):
        noted.take_back(book, LATER)
    assert len(money.payments(book.con, number)) == 2


def test_the_account_named_by_the_owner_is_the_one_to_pay(book: Book) -> None:
    def bank(profile: Business) -> dict[str, str]:
        books.save_business(book, profile)
        issued = bills.invoice_quote(book, _quote(book).number, performed=ISSUED.date(), issued_at=LATER)
        found: dict[str, str] = json.loads(papers.body(book.con, issued.number)[0])["bank"]
        return found

    owner = Business(name="Ina Fell", vat="standard", sort_code="00-00-42", account_number="00004242")
    assert bank(owner)["account_name"] == "Ina Fell"
    assert (
        bank(dataclasses.replace(owner, bank_name="I Fell, business"))["account_name"] == "I Fell, business"
    )


@pytest.mark.parametrize(
    ("sort_code", "account"), [("01", "00004242"), ("00-00-42", "1234567"), ("", "00004242"), ("000042", "")]
)
def test_a_doubtful_account_is_not_printed(book: Book, sort_code: str, account: str) -> None:
    owner = Business(name="Ina Fell", vat="standard", sort_code=sort_code, account_number=account)
    books.save_business(book, owner)
    issued = bills.invoice_quote(book, _quote(book).number, performed=ISSUED.date(), issued_at=LATER)
    assert json.loads(papers.body(book.con, issued.number)[0]).get("bank") is None


def test_a_sort_code_is_printed_in_pairs(book: Book) -> None:
    owner = Business(name="Ina Fell", vat="standard", sort_code="000042", account_number="0000 4242")
    books.save_business(book, owner)
    issued = bills.invoice_quote(book, _quote(book).number, performed=ISSUED.date(), issued_at=LATER)
    bank = json.loads(papers.body(book.con, issued.number)[0])["bank"]
    assert (bank["sort_code"], bank["account_number"]) == ("00-00-42", "00004242")
