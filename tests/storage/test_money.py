"""Quotes, invoices and payments; who owes what on a day."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.storage.samples import LINES, RESULT, registered

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.document import Payment
from flueleaf.domain.money.lines import VAT_CATEGORIES, Line
from flueleaf.storage import lines, money, visits
from flueleaf.storage.book import Book
from flueleaf.storage.money import Invoice, Quote

DAY = dt.date(2026, 11, 20)
QUOTE = Quote(
    "Q-2026-0001", DAY, 1, Money(9440), Money(1888), Money(11328), LINES, 1, DAY + dt.timedelta(days=30)
)
INVOICE = Invoice(
    "I-2026-0001",
    DAY,
    1,
    Money(9440),
    Money(1888),
    Money(11328),
    Money(11328),
    LINES,
    dt.date(2026, 12, 20),
    1,
)


def pay(book: Book, number: str, date: dt.date, pence: int) -> None:
    with book.writing() as tx:
        money.add_payment(tx, number, Payment(date, Money(pence)), way="transfer", note="ref")


def test_a_quote_becomes_one_invoice(book: Book) -> None:
    visit = registered(book)
    with book.writing() as tx:
        ref = visits.add_visit(tx, visit, [RESULT])
        money.add_quote(tx, QUOTE)
        other = replace(QUOTE, number="Q-2026-0002", valid_until=None)
        money.add_quote(tx, other)
    assert money.quote(book.con, QUOTE.number) == QUOTE
    assert money.quotes_of_premises(book.con, 1, open_only=True) == [other, QUOTE]
    invoice = replace(INVOICE, visit_ref=ref, quote_number=QUOTE.number)
    with book.writing() as tx:
        money.accept_quote(tx, QUOTE.number, DAY)
        money.add_invoice(tx, invoice)
    accepted = replace(QUOTE, accepted_on=DAY)
    assert money.invoice(book.con, invoice.number) == invoice
    assert money.quotes_of_premises(book.con, 1, open_only=True) == [other]
    assert money.quotes_of_premises(book.con, 1) == [other, accepted]
    with pytest.raises(sqlite3.IntegrityError), book.writing() as tx:
        money.add_invoice(tx, replace(invoice, number="I-2026-0002"))
    with pytest.raises(LookupError, match="no open quote"), book.writing() as tx:
        money.accept_quote(tx, QUOTE.number, DAY)


def test_what_is_not_there(book: Book) -> None:
    registered(book)
    with pytest.raises(LookupError, match="no quote"):
        money.quote(book.con, "Q-1")
    with pytest.raises(LookupError, match="no invoice"):
        money.payments(book.con, "I-1")
    with pytest.raises(LookupError, match="no quote"), book.writing() as tx:
        money.add_invoice(tx, replace(INVOICE, quote_number="Q-1"))
    with pytest.raises(LookupError, match="no invoice"):
        pay(book, "I-1", DAY, 1)


def test_who_owes_what_on_a_day(book: Book) -> None:
    registered(book)
    with book.writing() as tx:
        money.add_invoice(tx, INVOICE)
        money.add_invoice(tx, replace(INVOICE, number="I-2026-0002", due=None, lines=()))
        money.add_invoice(tx, replace(INVOICE, number="I-2026-0003", payable=Money(0)))
        money.add_invoice(tx, replace(INVOICE, number="I-2027-0001", date=dt.date(2027, 1, 1)))
    pay(book, "I-2026-0001", dt.date(2026, 12, 1), 1000)
    pay(book, "I-2026-0001", dt.date(2026, 12, 31), 328)
    pay(book, "I-2026-0002", dt.date(2026, 12, 1), 11327)
    found = money.unpaid(book.con, dt.date(2026, 12, 30))
    assert [(one.number, one.paid, one.owing, one.days_late) for one in found] == [
        ("I-2026-0002", Money(11327), Money(1), 0),
        ("I-2026-0001", Money(1000), Money(10328), 10),
    ]
    assert found[0].customer == "Maud Ferrow"
    assert [one.days_late for one in money.unpaid(book.con, dt.date(2026, 12, 20))] == [0, 0]
    pay(book, "I-2026-0002", dt.date(2026, 12, 2), 1)
    assert [one.number for one in money.unpaid(book.con, dt.date(2026, 12, 30))] == ["I-2026-0001"]
    assert money.unpaid(book.con, dt.date(2026, 11, 19)) == []
    assert money.payments(book.con, "I-2026-0001") == [
        Payment(dt.date(2026, 12, 1), Money(1000)),
        Payment(dt.date(2026, 12, 31), Money(328)),
    ]


def test_a_payment_of_nothing_is_refused(book: Book) -> None:
    registered(book)
    with book.writing() as tx:
        money.add_invoice(tx, INVOICE)
    with pytest.raises(sqlite3.IntegrityError):
        pay(book, INVOICE.number, DAY, 0)


def test_pence_are_whole(book: Book) -> None:
    registered(book)
    with book.writing() as tx:
        money.add_invoice(tx, INVOICE)
    with pytest.raises(sqlite3.IntegrityError, match="cannot store REAL"):
        book.con.execute("UPDATE invoice SET total_pence = 113.28")


exact = st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-1000, max_value=1000)
some_lines = st.lists(
    st.builds(
        Line, st.text(st.characters(exclude_categories=["Cs"])), exact, st.just("each"), exact, exact,
        exact, exact, exact, st.none() | exact, st.none() | st.sampled_from(VAT_CATEGORIES), st.booleans(),
    ),
    max_size=4,
).map(tuple)  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(some_lines)
def test_lines_come_back_in_order_with_every_digit(
    tmp_path_factory: pytest.TempPathFactory, blank: bytes, given_lines: tuple[Line, ...]
) -> None:
    path = tmp_path_factory.mktemp("lines") / "a.book"
    path.write_bytes(blank)
    with Book.open(path) as book:
        registered(book)
        with book.writing() as tx:
            ref = money.add_quote(tx, replace(QUOTE, lines=given_lines))
        kept = lines.lines_of_owner(book.con, "quote_ref", ref)
        assert kept == given_lines
        assert [str(line.unit_price) for line in kept] == [f"{line.unit_price:f}" for line in given_lines]


def test_a_line_belongs_to_one_document(book: Book) -> None:
    registered(book)
    with book.writing() as tx:
        ref = money.add_quote(tx, replace(QUOTE, lines=()))
        lines.add_lines(tx, "quote_ref", ref, [Line("a", Decimal(1), "each", Decimal(1))])
    with pytest.raises(sqlite3.IntegrityError):
        book.con.execute("UPDATE work_line SET quote_ref = NULL")
