"""What the steps to an invoice share: they ask for the day of the work, no more, and seal."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.dates import field_date
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.place import Place
from flueleaf.desktop.sealing import Sealing
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.domain.words import said
from flueleaf.operations import book as books
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.issuing import Issued, lacks_vat_number
from flueleaf.storage.book import Book

NO_VAT_NUMBER = _("Your VAT number is not known, and an invoice with VAT has to show it: see Your business.")
# Seals the invoice: the book, the day of the work, the moment of issue.
Seal = Callable[[Book, dt.date, dt.datetime], Issued]


class InvoiceForm(FormLeaf):
    """A form that is not kept but sealed, beside the window as everything that is sealed."""

    lasting = False

    def __init__(
        self,
        desk: Desk,
        place: Place,
        *,
        heading: tuple[str, str],
        said_first: str,
        performed: dt.date,
        seal: Seal,
    ) -> None:
        """Make the form.

        Args:
            desk: what every leaf is given.
            place: of the form.
            heading: title and subtitle.
            said_first: what is invoiced, and that it stays.
            performed: the day of the work, as far as it is known.
            seal: seals the invoice, in a thread of its own.
        """
        self._seal = seal
        if lacks_vat_number(books.business(desk.book)):
            said_first = f"{said_first}\n{NO_VAT_NUMBER}"
        field = DateField("performed", _("work done on"), today=desk.today, future=False)
        super().__init__(
            desk,
            place,
            heading=heading,
            groups=(Group(_("the work"), (field,), said_first, name="the work"),),
            keep=self._begin,
            action=_("Seal the invoice"),
        )
        self._sealing = Sealing(self)
        self._sealing.sealed.connect(self._on_sealed)
        self._sealing.refused.connect(self._on_refused)
        self.fill_in({"performed": field_date(performed)})

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
        seal, now = self._seal, self.desk.now()
        if self._sealing.begin(lambda book: seal(book, performed, now)):
            self.said.emit(_("Sealing …"))
        return Changes(frozenset(), "")

    def _on_sealed(self, issued: Issued) -> None:
        self._half.drop()
        text = said("Sealed: {number}.", number=issued.number)
        self.desk.hub.tell(Changes(frozenset({Topic.MONEY, Topic.PAPERS}), text))
        self.end(Place("paper", issued.number))

    def _on_refused(self, problem: UserProblem) -> None:
        self.said.emit(_(problem.text))
