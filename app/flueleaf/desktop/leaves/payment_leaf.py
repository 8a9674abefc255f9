"""The form of a payment just received for an invoice."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.dates import field_date, long_date
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.help.worked_out import worked_out_command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _, _n
from flueleaf.domain.money.document import PAYMENT_WAYS
from flueleaf.domain.problems import UserProblem
from flueleaf.domain.quantities import Quantity
from flueleaf.operations import bills, explaining, pages
from flueleaf.operations.changes import Changes
from flueleaf.operations.explaining import Explanation
from flueleaf.operations.intake.money import read_receipt
from flueleaf.operations.pages import InvoicePage

# What the field takes while typing; the reader of the payment has the last word. Common practice.
AMOUNT = Quantity("amount", _("amount"), "£", Decimal("0.01"), Decimal(10_000_000), 2, ("£", "GBP"))


class PaymentForm(FormLeaf):
    """The form, which also says how what is owing was worked out."""

    page: InvoicePage

    def commands(self) -> tuple[Command, ...]:
        """Those of the form, and how it was worked out."""
        return (*super().commands(), worked_out_command(self, self._explanations))

    def _explanations(self) -> Sequence[Explanation]:
        return explaining.explain_bill(self.desk.book, self.page, self.desk.today())


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

    groups = (
        Group(
            _("received"),
            (
                DateField("date", _("on"), today=desk.today, future=False),
                NumberField("amount", AMOUNT, label=_("amount, £"), spoken=_("amount, £"), show_unit=False),
                WordsField("way", _("how"), PAYMENT_WAYS),
            ),
            f"{_owing(page)} {_taken(page)}",
            name="received",
        ),
    )
    heading = (_("Payment for {number}", number=page.number), page.customer)
    leaf = PaymentForm(desk, place, heading=heading, groups=groups, keep=keep)
    leaf.page = page
    leaf.lasting = False
    leaf.fill_in({"date": field_date(desk.today()), "amount": page.owing.plain()})
    return leaf


def _taken(page: InvoicePage) -> str:
    """Return how much is taken: an invoice holds no credit, what is paid beyond it goes back."""
    owing = page.owing.with_sign()
    return _(
        "You may enter a part of it. If you were given more, enter {owing} and give back the rest.",
        owing=owing,
    )


def _owing(page: InvoicePage) -> str:
    """Return what is owing, of what where a part was paid, until when, and how long it is late."""
    owing, due = page.owing.with_sign(), long_date(page.due)
    if page.paid:
        owing = _("{owing} of {payable}", owing=owing, payable=page.payable.with_sign())
    if not page.overdue_days:
        return _("{owing} is owing, due {due}.", owing=owing, due=due)
    return _n(
        "{owing} is owing, due {due}, {count} day late.",
        "{owing} is owing, due {due}, {count} days late.",
        page.overdue_days,
        owing=owing,
        due=due,
    )
