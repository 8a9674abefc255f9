"""The step from a quote to its invoice: it asks for the day of the work, no more."""

from __future__ import annotations

import datetime as dt
from typing import Any

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.dates import field_date, long_date, until_words
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.sealing import Sealing
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.domain.words import said
from flueleaf.operations import bills, pages
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.issuing import Issued
from flueleaf.operations.pages import QuoteRow

SEALS = _("The invoice takes the lines and the price of the quote; sealed it stays as it is for good.")


class QuoteInvoiceLeaf(FormLeaf):
    """A form that is not kept but sealed, beside the window as everything that is sealed."""

    lasting = False

    def __init__(self, desk: Desk, place: Place, quote: QuoteRow) -> None:
        """Make the form, with today for the day of the work."""
        self._quote = quote
        field = DateField("performed", _("work done on"), today=desk.today, future=False)
        said_first = f"{_quoted(quote, desk.today())}\n{SEALS}"
        super().__init__(
            desk,
            place,
            heading=(
                _("Invoice for quote {number}", number=quote.number),
                f"{quote.customer} · {quote.premises}",
            ),
            groups=(Group(_("the work"), (field,), said_first, name="the work"),),
            keep=self._begin,
            action=_("Seal the invoice"),
        )
        self._sealing = Sealing(self)
        self._sealing.sealed.connect(self._on_sealed)
        self._sealing.refused.connect(self._on_refused)
        self.fill_in({"performed": field_date(desk.today())})

    def leaving(self) -> bool:
        """Hold on to what is half typed; a sealing that has begun is waited for."""
        self._sealing.wait()
        return super().leaving()

    def keep_all(self) -> None:
        """Seal, or say under the field what stands in the way."""
        for field in self.fields.values():
            field.set_fault("")
        try:
            self._begin(self.document())
        except Refused as refused:
            self._show_faults(refused.faults)

    def _begin(self, document: dict[str, Any]) -> Changes:
        """Begin to seal.

        Raises:
            Refused: the day cannot be used.
        """
        reader = Reader.of(document, typed=True)
        performed = reader.date("performed", required=True, latest=self.desk.today()) or self.desk.today()
        reader.finish()
        number, now = self._quote.number, self.desk.now()
        if self._sealing.begin(
            lambda book: bills.invoice_quote(book, number, performed=performed, issued_at=now)
        ):
            self.said.emit(_("Sealing …"))
        return Changes(frozenset(), "")

    def _on_sealed(self, issued: Issued) -> None:
        self._half.drop()
        text = said("Sealed: {number}.", number=issued.number)
        self.desk.hub.tell(Changes(frozenset({Topic.MONEY, Topic.PAPERS}), text))
        self.end(Place("paper", issued.number))

    def _on_refused(self, problem: UserProblem) -> None:
        self.said.emit(_(problem.text))


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form that makes the quote with the number ``place.key`` an invoice.

    Raises:
        UserProblem: there is no such quote, or it was invoiced.
    """
    return QuoteInvoiceLeaf(desk, place, pages.quote_page(desk.book, place.key))


def _quoted(quote: QuoteRow, today: dt.date) -> str:
    return _(
        "{total} quoted on {date}, {until}.",
        total=quote.total,
        date=long_date(quote.date),
        until=until_words(quote.valid_until, today),
    )
