"""The form of a payment just received for an invoice."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _
from flueleaf.domain.money.document import PAYMENT_WAYS
from flueleaf.domain.problems import UserProblem
from flueleaf.domain.quantities import Quantity
from flueleaf.operations import bills, pages
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake.money import read_receipt

# What the field takes while typing; the reader of the payment has the last word. Common practice.
AMOUNT = Quantity("amount", "amount", "£", Decimal("0.01"), Decimal(10_000_000), 2, ("£", "GBP"))


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of a payment for the invoice with the number ``place.key``.

    Raises:
        UserProblem: there is no such invoice, or nothing is owing on it.
    """
    page = pages.invoice_page(desk.book, place.key, desk.today())
    if page.owing.pence <= 0:
        raise UserProblem(_("Nothing is owing on invoice {number}.", number=page.number))

    def keep(document: dict[str, Any]) -> Changes:
        now = pages.invoice_page(desk.book, place.key, desk.today())
        payment, way = read_receipt(document, today=desk.today(), owing=now.owing)
        return bills.record_payment(desk.book, page.number, date=payment.date, amount=payment.amount, way=way)

    late = f", {page.overdue_days} days late" if page.overdue_days else ""
    paid = f" of {page.payable.with_sign()}" if page.paid else ""
    state = f"{page.owing.with_sign()}{paid} is owing, due {long_date(page.due)}{late}."
    groups = (
        Group(
            "received",
            (
                DateField("date", _("on"), today=desk.today, future=False),
                NumberField("amount", AMOUNT),
                WordsField("way", _("how"), PAYMENT_WAYS),
            ),
            f"{state} A part of it is taken too.",
        ),
    )
    heading = (f"Payment for {page.number}", page.customer)
    leaf = FormLeaf(desk, place, heading=heading, groups=groups, keep=keep)
    leaf.lasting = False
    leaf.fill_in({"date": long_date(desk.today()), "amount": page.owing.plain()})
    return leaf
