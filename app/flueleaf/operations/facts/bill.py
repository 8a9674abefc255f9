"""The facts of a quote or an invoice, out of its lines and their tally."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

from flueleaf.domain.money import bank
from flueleaf.domain.money.document import Tally, VatRow
from flueleaf.domain.money.lines import Line
from flueleaf.domain.records.business import Business
from flueleaf.papers import facts as paper
from flueleaf.papers.bill import facts
from flueleaf.papers.kinds.invoice.facts import Bank, Invoice
from flueleaf.papers.kinds.quote.facts import Quote

QUOTE_SCOPE = ("The work and materials listed above, at the premises named.",)
QUOTE_NOT_IN_SCOPE = (
    "Faults that come to light once the work is opened up; they are shown to you and priced before any "
    "of it is done.",
)


def invoice_facts(
    head: paper.Head,
    lines: Sequence[Line],
    tally: Tally,
    *,
    business: Business,
    date: dt.date,
    performed: dt.date,
    tax_point: dt.date | None,
    quote_number: str = "",
) -> Invoice:
    """Return the facts of an invoice; ``date`` is the day of issue, ``performed`` that of the work."""
    return Invoice(
        bill=_bill(head, lines, tally, business, about="", texts=paragraphs(business.invoice_text)),
        date=date,
        due=date + dt.timedelta(days=business.payment_days),
        payable=tally.payable.shown(),
        tax_point=tax_point if business.vat != "none" else None,
        performed=performed,
        bank=_bank(business),
        payment_reference=head.number,
        quote_number=quote_number,
    )


def quote_facts(
    head: paper.Head,
    lines: Sequence[Line],
    tally: Tally,
    *,
    business: Business,
    date: dt.date,
    valid_until: dt.date,
) -> Quote:
    """Return the facts of a quote."""
    return Quote(
        bill=_bill(head, lines, tally, business, about="", texts=paragraphs(business.quote_text)),
        date=date,
        valid_until=valid_until,
        scope=QUOTE_SCOPE,
        not_in_scope=QUOTE_NOT_IN_SCOPE,
    )


def paragraphs(text: str) -> tuple[str, ...]:
    """Return the owner's text as paragraphs; an empty line parts them."""
    return tuple(part.strip() for part in text.split("\n\n") if part.strip())


def _bank(business: Business) -> Bank | None:
    """Return where to pay; None where one detail is missing or doubtful: money sent there might be lost."""
    sort_code, account = bank.sort_code(business.sort_code), bank.account_number(business.account_number)
    if not (sort_code and account):
        return None
    return Bank(business.bank_name or business.trading_name or business.name, sort_code, account)


def _bill(
    head: paper.Head,
    lines: Sequence[Line],
    tally: Tally,
    business: Business,
    *,
    about: str,
    texts: tuple[str, ...],
) -> facts.Bill:
    registered = business.vat != "none"
    return facts.Bill(
        head=head,
        lines=tuple(
            facts.Line(
                text=line.text,
                quantity=number(line.quantity),
                unit=line.unit,
                unit_price=_price(line.unit_price),
                net=net.shown(),
                vat=f"{number(line.vat_pct)} %" if registered and line.vat_pct is not None else "",
                details=_details(line),
            )
            for line, net in zip(lines, tally.line_nets, strict=True)
        ),
        net=tally.net.shown(),
        total=tally.total.shown(),
        vat=_vat(tally, business) if registered else None,
        about=about,
        texts=texts,
    )


def _vat(tally: Tally, business: Business) -> facts.Vat:
    return facts.Vat(
        number=business.vat_number,
        rows=tuple(
            facts.VatRow(_rate(row), row.net.shown(), (row.vat + row.reverse_charge_vat).shown())
            for row in tally.vat
        ),
        total=tally.vat_total.shown(),
        reverse_charge=tally.reverse_charge_vat.shown() if tally.reverse_charge_vat else "",
    )


def _rate(row: VatRow) -> str:
    return "exempt" if row.category == "E" else f"{number(row.pct)} %"


def _details(line: Line) -> tuple[str, ...]:
    found: list[str] = []
    if line.base_quantity != 1:
        found.append(f"price per {number(line.base_quantity)} {line.unit}")
    if line.discount_pct:
        found.append(f"less {number(line.discount_pct)} %")
    if line.discount_amount:
        found.append(f"less {_price(line.discount_amount)}")
    if line.surcharge_amount:
        found.append(f"plus {_price(line.surcharge_amount)}")
    return tuple(found)


def number(value: Decimal) -> str:
    """Return a decimal without idle zeros after the point."""
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _price(value: Decimal) -> str:
    """Return a price with two decimals, or all it has beyond them."""
    text = number(value)
    decimals = len(text.partition(".")[2])
    return f"{value:,.{max(2, decimals)}f}"
