"""What a quote and an invoice have in common. Amounts are the text printed, in pounds: "1,234.50"."""

from __future__ import annotations

from dataclasses import dataclass

from flueleaf.papers.facts import Head


@dataclass(frozen=True, slots=True)
class Line:
    """One line.

    Attributes:
        net: the line's amount after discount and surcharge.
        vat: the line's rate as printed ("20 %", "reverse charge 20 %"); "" where the paper knows no VAT.
        details: further text under the line: "price per 100", "less 10 %, 1.24".
    """

    text: str
    quantity: str
    unit: str
    unit_price: str
    net: str
    vat: str = ""
    details: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Amount:
    """A named amount: an allowance or charge on the whole, a prepayment, a deduction."""

    text: str
    amount: str


@dataclass(frozen=True, slots=True)
class VatRow:
    """The VAT of one rate: "20 %", net, VAT."""

    rate: str
    net: str
    vat: str


@dataclass(frozen=True, slots=True)
class Vat:
    """The VAT of the paper. A business that is not registered has none of this: ``Bill.vat`` is None.

    Attributes:
        number: the supplier's VAT number.
        reverse_charge: the VAT the customer accounts for, "" where the reverse charge does not apply;
            with it ``total`` is what the paper itself charges ("0.00").
        customer_number: the customer's VAT number, where the reverse charge needs it.
    """

    number: str
    rows: tuple[VatRow, ...]
    total: str
    reverse_charge: str = ""
    customer_number: str = ""


@dataclass(frozen=True, slots=True)
class Bill:
    """The body of a quote or invoice.

    Attributes:
        adjustments: allowances (negative, "−5.00") and charges on the whole, before ``net``.
        total: net plus VAT. Without VAT it equals ``net``.
        about: one line saying what it is for; texts: blocks of the owner's text, one paragraph each.
    """

    head: Head
    lines: tuple[Line, ...]
    net: str
    total: str
    adjustments: tuple[Amount, ...] = ()
    vat: Vat | None = None
    about: str = ""
    texts: tuple[str, ...] = ()
