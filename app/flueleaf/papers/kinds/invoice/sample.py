"""An invented invoice."""

from __future__ import annotations

import datetime as dt

from flueleaf.papers.bill.facts import Amount
from flueleaf.papers.bill.sample import sample_bill
from flueleaf.papers.kinds.invoice.facts import Bank, Invoice


def sample() -> Invoice:
    """Return the facts of an invented invoice."""
    return Invoice(
        bill=sample_bill("invoice", "I-2026-0193"),
        date=dt.date(2026, 11, 20),
        due=dt.date(2026, 12, 20),
        payable="1,882.44",
        tax_point=dt.date(2026, 11, 20),
        performed=dt.date(2026, 11, 20),
        deductions=(Amount("Paid in advance on 5 November 2026", "−300.00"),),
        bank=Bank("E Farrowgate", "00-00-00", "00000000"),
        payment_reference="I-2026-0193",
        quote_number="Q-2026-0087",
    )
