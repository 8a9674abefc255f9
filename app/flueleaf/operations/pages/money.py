"""What the leaves show of quotes and invoices."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from flueleaf.domain.money.amount import total
from flueleaf.domain.problems import UserProblem
from flueleaf.domain.records.register import CustomerId, PremisesId
from flueleaf.domain.words import said
from flueleaf.operations.page_records import InvoicePage, QuoteRow
from flueleaf.storage import money, register
from flueleaf.storage.book import Book

if TYPE_CHECKING:
    from sqlite3 import Connection


def open_quotes(con: Connection, premises_id: int) -> tuple[QuoteRow, ...]:
    """Return the quotes for some premises that are no invoice yet, the newest first."""
    return tuple(_row(con, one) for one in money.quotes_of_premises(con, premises_id, open_only=True))


def quote_page(book: Book, number: str) -> QuoteRow:
    """Return a quote that is no invoice yet.

    Raises:
        UserProblem: there is none of that number, or it was invoiced.
    """
    try:
        quote = money.quote(book.con, number)
    except LookupError:
        raise UserProblem(said("There is no quote {number} in this book.", number=number)) from None
    if quote.accepted_on is not None:
        raise UserProblem(said("Quote {number} was invoiced already.", number=number))
    return _row(book.con, quote)


def invoice_page(book: Book, number: str, today: dt.date) -> InvoicePage:
    """Return what is paid of an invoice by today.

    Raises:
        UserProblem: there is no invoice of that number.
    """
    con = book.con
    try:
        invoice = money.invoice(con, number)
    except LookupError:
        raise UserProblem(said("There is no invoice {number} in this book.", number=number)) from None
    payments = tuple(one for one in money.payments(con, number) if one.date <= today)
    paid = total(one.amount for one in payments)
    due = invoice.due or invoice.date
    late = max(0, (today - due).days) if paid < invoice.payable else 0
    customer = register.customer(con, CustomerId(invoice.customer_id))
    return InvoicePage(number, customer.name, invoice.payable, paid, due, late, payments)


def bill_of(book: Book, number: str, today: dt.date) -> InvoicePage | QuoteRow | None:
    """Return what is still to be done about a paper: an invoice, an open quote, None for any other."""
    for page in (lambda: invoice_page(book, number, today), lambda: quote_page(book, number)):
        try:
            return page()
        except UserProblem:
            continue
    return None


def _row(con: Connection, quote: money.Quote) -> QuoteRow:
    assert quote.premises_id is not None
    premises = register.premises(con, PremisesId(quote.premises_id))
    return QuoteRow(
        number=quote.number,
        date=quote.date,
        valid_until=quote.valid_until or quote.date,
        total=quote.total.with_sign(),
        customer=register.customer(con, CustomerId(quote.customer_id)).name,
        premises=", ".join(premises.address),
    )
