"""What is tallied, and what a tally says: quotes, invoices and credit notes."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from flueleaf.domain.money.amount import ZERO, Money
from flueleaf.domain.money.lines import Line, VatCategory

DocumentKind = Literal["invoice", "credit note", "quote"]
VatMode = Literal["none", "standard"]

DOCUMENT_KINDS: tuple[DocumentKind, ...] = ("invoice", "credit note", "quote")
VAT_MODES: tuple[VatMode, ...] = ("none", "standard")
PAYMENT_WAYS = ("cash", "transfer", "card", "cheque")


@dataclass(frozen=True, slots=True)
class Adjustment:
    """A charge (positive) or an allowance (negative) on the whole document, with a VAT rate of its own."""

    text: str
    amount: Money
    vat_pct: Decimal | None = None
    vat_category: VatCategory | None = None


@dataclass(frozen=True, slots=True)
class Payment:
    """Money received on a day (for a credit note: paid back)."""

    date: dt.date
    amount: Money


@dataclass(frozen=True, slots=True)
class Document:
    """A document to be tallied. The amounts of a credit note are positive.

    Attributes:
        vat: "none" (not registered: no VAT rate or category anywhere) or "standard".
        date: its rates are those in force on it; None counts the newest table.
        business: the customer is a business, so interest on late payment is due by statute.
        cis_deduction_pct: what the contractor withholds under the Construction Industry Scheme.
        on: the day the balance is asked for; None counts every payment and no interest.
        base_rate_pct: the reference rate of late payment, where the table does not know it.
    """

    kind: DocumentKind
    vat: VatMode
    lines: tuple[Line, ...]
    date: dt.date | None = None
    business: bool = False
    cis_deduction_pct: Decimal = Decimal(0)
    reverse_charge: bool = False
    prices_include_vat: bool = False
    adjustments: tuple[Adjustment, ...] = ()
    prepaid: Money = ZERO
    payments: tuple[Payment, ...] = ()
    on: dt.date | None = None
    due: dt.date | None = None
    base_rate_pct: Decimal | None = None


@dataclass(frozen=True, slots=True)
class VatRow:
    """The net sum of one category and rate, and its VAT.

    Attributes:
        vat: what is charged; 0.00 under reverse charge.
        reverse_charge_vat: what the customer accounts for; 0.00 otherwise.
    """

    category: VatCategory
    pct: Decimal
    net: Money
    vat: Money
    reverse_charge_vat: Money = ZERO


@dataclass(frozen=True, slots=True)
class Tally:
    """What a document comes to.

    Attributes:
        line_nets, adjustment_nets: without VAT, in the order given; together they make ``net``.
        payable: total less prepaid less CIS deduction.
        paid: payments up to the day asked for.
        owing: payable less paid; negative where too much was paid.
    """

    line_nets: tuple[Money, ...]
    adjustment_nets: tuple[Money, ...]
    net: Money
    vat: tuple[VatRow, ...]
    vat_total: Money
    total: Money
    reverse_charge_vat: Money
    cis_deduction: Money
    payable: Money
    paid: Money
    owing: Money
    late_interest: Money = ZERO
    late_compensation: Money = ZERO
