"""What an invoice states."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from flueleaf.papers.bill.facts import Amount, Bill
from flueleaf.papers.facts import Head


@dataclass(frozen=True, slots=True)
class Bank:
    """Where to pay: name on the account, sort code and number as printed."""

    account_name: str
    sort_code: str
    account_number: str


@dataclass(frozen=True, slots=True)
class Invoice:
    """An invoice.

    Attributes:
        tax_point: printed only by a business registered for VAT.
        performed: day the work was done, None if not said.
        deductions: what comes off the total: prepaid, CIS deduction ("−100.00").
        quote_number: the accepted quote, "" if none.
    """

    bill: Bill
    date: dt.date
    due: dt.date
    payable: str
    tax_point: dt.date | None = None
    performed: dt.date | None = None
    deductions: tuple[Amount, ...] = ()
    bank: Bank | None = None
    payment_reference: str = ""
    quote_number: str = ""

    @property
    def head(self) -> Head:
        """The facts every paper has."""
        return self.bill.head


Facts = Invoice
