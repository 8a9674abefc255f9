"""The step from a signed visit that was not invoiced yet to its invoice."""

from __future__ import annotations

import datetime as dt

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.invoice_form import InvoiceForm
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _, _n
from flueleaf.operations import bills
from flueleaf.operations.issuing import Issued
from flueleaf.storage.book import Book

SEALS = _("The invoice takes the lines of the visit as they were signed; sealed it stays as it is for good.")


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form that invoices the visit with the id ``place.key``, as of its day.

    Raises:
        UserProblem: there is no such visit, it has nothing to charge, or it was invoiced.
    """
    visit, sums = bills.visit_to_invoice(desk.book, place.key, on=desk.today())

    def seal(book: Book, performed: dt.date, now: dt.datetime) -> Issued:
        return bills.invoice_visit(book, visit.visit_id, performed=performed, issued_at=now)

    where = f"{', '.join(visit.premises.address)} {visit.premises.postcode}".strip()
    quote = bills.quote_behind(desk.book.con, visit)
    taken = _("Quote {number} counts as taken with it.", number=quote) if quote else ""
    lines = _n("{count} line", "{count} lines", len(visit.lines))
    charged = _("{lines}, {total} in all.", lines=lines, total=sums.total.with_sign())
    return InvoiceForm(
        desk,
        place,
        heading=(
            _("Invoice for the visit of {date}", date=long_date(visit.date)),
            f"{visit.customer.name} · {where}",
        ),
        said_first="\n".join(said for said in (charged, taken, SEALS) if said),
        performed=visit.date,
        seal=seal,
    )
