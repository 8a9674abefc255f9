"""The step from a quote to its invoice: it asks for the day of the work, no more."""

from __future__ import annotations

import datetime as dt
from typing import Any

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.dates import long_date, until_words
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _
from flueleaf.domain.words import said
from flueleaf.operations import bills, pages
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.pages import QuoteRow

SEALS = _("The invoice takes the lines and the price of the quote; sealed it stays as it is for good.")


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form that makes the quote with the number ``place.key`` an invoice.

    Raises:
        UserProblem: there is no such quote, or it was invoiced.
    """
    quote = pages.quote_page(desk.book, place.key)

    def seal(document: dict[str, Any]) -> Changes:
        reader = Reader.of(document, typed=True)
        performed = reader.date("performed", required=True, latest=desk.today()) or desk.today()
        reader.finish()
        issued = bills.invoice_quote(desk.book, quote.number, performed=performed, issued_at=desk.now())
        leaf.next_place = Place("paper", issued.number)
        return Changes(
            frozenset({Topic.MONEY, Topic.PAPERS}), said("Sealed: {number}.", number=issued.number)
        )

    field = DateField("performed", _("work done on"), today=desk.today, future=False)
    leaf = FormLeaf(
        desk,
        place,
        heading=(
            _("Invoice for quote {number}", number=quote.number),
            f"{quote.customer} · {quote.premises}",
        ),
        groups=(Group(_("the work"), (field,), f"{_quoted(quote, desk.today())}\n{SEALS}", name="the work"),),
        keep=seal,
        action=_("Seal the invoice"),
    )
    leaf.lasting = False
    leaf.fill_in({"performed": long_date(desk.today())})
    return leaf


def _quoted(quote: QuoteRow, today: dt.date) -> str:
    return _(
        "{total} quoted on {date}, {until}.",
        total=quote.total,
        date=long_date(quote.date),
        until=until_words(quote.valid_until, today),
    )
