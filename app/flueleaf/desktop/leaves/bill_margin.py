"""What the margin says beside an invoice or an open quote."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from flueleaf.desktop.fields.dates import long_date, until_words
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.words import _, _n
from flueleaf.operations.pages import InvoicePage, QuoteRow


def bill_margin(bill: InvoicePage | QuoteRow | None, today: dt.date) -> Sequence[MarginSection]:
    """Return the blocks: paid and owing of an invoice, the last day of a quote, nothing for another paper."""
    if isinstance(bill, InvoicePage):
        return _invoice(bill)
    if isinstance(bill, QuoteRow):
        return (
            MarginSection(
                _("open quote"), (bill.total, until_words(bill.valid_until, today)), name="open_quote"
            ),
        )
    return ()


def _invoice(bill: InvoicePage) -> Sequence[MarginSection]:
    block = MarginSection(
        _("payment"), (_("to pay {payable}", payable=bill.payable.with_sign()),), name="payment"
    )
    block.add_line(_("paid {paid}", paid=bill.paid.with_sign()))
    if bill.owing.pence > 0:
        block.add_line(_("owing {owing}", owing=bill.owing.with_sign()), "strong")
        block.add_line(_due(bill))
    elif bill.owing.pence < 0:
        block.add_line(_("paid too much: {sum}", sum=(-bill.owing).with_sign()), "strong")
    else:
        block.add_line(_("nothing is owing"))
    if not bill.payments:
        return (block,)
    received = (f"{long_date(one.date)}  {one.amount.with_sign()}" for one in bill.payments)
    return (block, MarginSection(_("received"), received, name="received"))


def _due(bill: InvoicePage) -> str:
    if not bill.overdue_days:
        return _("due {date}", date=long_date(bill.due))
    return _n(
        "due {date}, {count} day late",
        "due {date}, {count} days late",
        bill.overdue_days,
        date=long_date(bill.due),
    )
