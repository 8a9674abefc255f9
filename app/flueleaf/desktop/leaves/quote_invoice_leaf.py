"""The step from a quote to its invoice."""

from __future__ import annotations

import datetime as dt

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date, until_words
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.invoice_form import InvoiceForm
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _
from flueleaf.operations import bills, pages
from flueleaf.operations.issuing import Issued
from flueleaf.operations.pages import QuoteRow
from flueleaf.storage.book import Book

SEALS = _("The invoice takes the lines and the price of the quote; sealed it stays as it is for good.")


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form that makes the quote with the number ``place.key`` an invoice, as of today.

    Raises:
        UserProblem: there is no such quote, or it was invoiced.
    """
    quote = pages.quote_page(desk.book, place.key)

    def seal(book: Book, performed: dt.date, now: dt.datetime) -> Issued:
        return bills.invoice_quote(book, quote.number, performed=performed, issued_at=now)

    return InvoiceForm(
        desk,
        place,
        heading=(
            _("Invoice for quote {number}", number=quote.number),
            f"{quote.customer} · {quote.premises}",
        ),
        said_first=f"{_quoted(quote, desk.today())}\n{SEALS}",
        performed=desk.today(),
        seal=seal,
    )


def _quoted(quote: QuoteRow, today: dt.date) -> str:
    return _(
        "{total} quoted on {date}, {until}.",
        total=quote.total,
        date=long_date(quote.date),
        until=until_words(quote.valid_until, today),
    )
