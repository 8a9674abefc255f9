"""What the leaves show of quotes and invoices."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.lines import Line
from flueleaf.domain.problems import UserProblem
from flueleaf.domain.records.register import Customer, Premises
from flueleaf.operations import bills, pages
from flueleaf.storage.book import Book

ISSUED = dt.datetime(2026, 11, 20, 20, 15, tzinfo=dt.UTC)
DAY = ISSUED.date()
LINES = (Line("Service", Decimal(1), "each", Decimal("78.00"), vat_pct=Decimal(20)),)


@pytest.fixture
def quoted(book: Book) -> str:
    """The number of an open quote."""
    place = Premises(("2 Dock Street",), "QX1 1AA")
    return bills.issue_quote(book, Customer("Wilf Example"), place, LINES, issued_at=ISSUED).number


def test_an_open_quote_stands_on_its_premises_until_it_is_invoiced(book: Book, quoted: str) -> None:
    (row,) = pages.premises_page(book, 1).quotes
    assert (row.number, row.date, row.total) == (quoted, DAY, "£93.60")
    assert row.valid_until == DAY + dt.timedelta(days=bills.QUOTE_VALID_DAYS)
    assert pages.quote_page(book, quoted) == row
    bills.invoice_quote(book, quoted, performed=DAY, issued_at=ISSUED)
    assert pages.premises_page(book, 1).quotes == ()
    with pytest.raises(UserProblem, match="invoiced already"):
        pages.quote_page(book, quoted)


def test_an_invoice_says_what_is_paid_and_owing_on_a_day(book: Book, quoted: str) -> None:
    number = bills.invoice_quote(book, quoted, performed=DAY, issued_at=ISSUED).number
    later = DAY + dt.timedelta(days=35)
    bills.record_payment(book, number, date=later, amount=Money(5000), way="card")
    before = pages.invoice_page(book, number, DAY)
    assert (before.payable, before.paid, before.owing, before.overdue_days) == (
        Money(9360),
        Money(0),
        Money(9360),
        0,
    )
    after = pages.invoice_page(book, number, later)
    assert (after.paid, after.owing, after.due) == (Money(5000), Money(4360), DAY + dt.timedelta(days=30))
    assert after.overdue_days == 5
    bills.record_payment(book, number, date=later, amount=Money(4360), way="cash")
    whole = pages.invoice_page(book, number, later)
    assert (whole.owing, whole.overdue_days, len(whole.payments)) == (Money(0), 0, 2)


def test_an_unknown_number_is_said(book: Book) -> None:
    with pytest.raises(UserProblem, match="I-2026-0099"):
        pages.invoice_page(book, "I-2026-0099", DAY)
    with pytest.raises(UserProblem, match="Q-2026-0099"):
        pages.quote_page(book, "Q-2026-0099")
