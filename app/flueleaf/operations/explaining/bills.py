"""How a bill came to its sum: lines, VAT per rate with its one rounding, what is paid and owing."""

from __future__ import annotations

from collections.abc import Sequence

from flueleaf.domain.money.amount import Money, total
from flueleaf.domain.money.check import line_amount
from flueleaf.domain.money.document import Tally, VatRow
from flueleaf.domain.money.lines import Line
from flueleaf.domain.words import said
from flueleaf.operations.explaining.explanation import Explanation, Given, unrounded
from flueleaf.operations.facts.bill import number
from flueleaf.operations.page_records import InvoicePage

VAT_SOURCE = said(
    "VAT per category and rate on the net sum, rounded once, half a penny up: EN 16931-1, BT-117; HMRC "
    "Notice 700, section 17.5; recalled."
)
VAT_CAUTION = said("Which rate a line bears is yours to answer for; the program only adds up.")
LINE_SOURCE = said("Each line is rounded once to the penny, halves up, before anything is added.")
OWING_CAUTION = said("Only payments noted in this book count.")


def explain_sum(lines: Sequence[Line], tally: Tally) -> list[Explanation]:
    """Return how lines came to their sum: the total, then VAT of each rate, then each line.

    Args:
        lines: as typed.
        tally: what they were tallied to.
    """
    rows = [_vat(lines, tally, row) for row in tally.vat]
    singles = [_line(n, line, net) for n, (line, net) in enumerate(zip(lines, tally.line_nets, strict=True))]
    return [_total(lines, tally), *rows, *singles]


def _total(lines: Sequence[Line], tally: Tally) -> Explanation:
    steps: list[str] = [said("net = {parts}", parts=_added(tally.line_nets, tally.net))]
    if tally.vat:
        steps.append(said("VAT = {parts}", parts=_added([row.vat for row in tally.vat], tally.vat_total)))
    steps.append(
        said("total = {parts}", parts=_added([tally.net, tally.vat_total], tally.total))
        if tally.vat
        else said("total = {net}, no VAT", net=tally.total.plain())
    )
    return Explanation(
        key="bill.total",
        title=said("total of the bill"),
        formula=(
            said("What the lines come to without VAT, and the VAT of each rate."),
            said("total = net + VAT"),
        ),
        inputs=tuple(
            Given(line.text, net.with_sign(), _rate_of(line))
            for line, net in zip(lines, tally.line_nets, strict=True)
        ),
        steps=tuple(steps),
        result=tally.total.with_sign(),
        source=VAT_SOURCE if tally.vat else LINE_SOURCE,
        caution=VAT_CAUTION if tally.vat else "",
    )


def _vat(lines: Sequence[Line], tally: Tally, row: VatRow) -> Explanation:
    stated = row.vat + row.reverse_charge_vat
    exact = row.net.pounds * row.pct.as_integer_ratio()[0] / row.pct.as_integer_ratio()[1] / 100
    steps: list[str] = [
        said(
            "{net} · {pct} / 100 = {exact}", net=row.net.plain(), pct=number(row.pct), exact=unrounded(exact)
        ),
        said("rounded once, half a penny up: {vat}", vat=stated.plain()),
    ]
    if row.reverse_charge_vat:
        steps.append(said("Reverse charge: the customer accounts for it, the bill charges none."))
    return Explanation(
        key=f"bill.vat.{row.category}.{number(row.pct)}",
        title=said("VAT at {pct} %", pct=number(row.pct)),
        formula=(
            said("The rate on the net sum of all lines that bear it."),
            said("VAT = net · rate / 100"),
        ),
        inputs=tuple(
            Given(line.text, net.with_sign())
            for line, net in zip(lines, tally.line_nets, strict=True)
            if line.vat_pct == row.pct
        ),
        steps=tuple(steps),
        result=stated.with_sign(),
        source=VAT_SOURCE,
        caution=VAT_CAUTION,
    )


def _line(place: int, line: Line, net: Money) -> Explanation:
    formula: list[str] = [
        said("Quantity times price, less discounts, plus a surcharge."),
        said("net = quantity · price"),
    ]
    inputs = [
        Given(said("quantity"), f"{number(line.quantity)} {line.unit}".strip()),
        Given(said("price"), f"£{line.unit_price:f}"),
    ]
    if line.base_quantity != 1:
        inputs.append(Given(said("price per"), f"{number(line.base_quantity)} {line.unit}".strip()))
        formula[1] = said("net = quantity · price / base quantity")
    for name, value, unit in (
        (said("discount"), line.discount_pct, " %"),
        (said("discount"), line.discount_amount, ""),
        (said("surcharge"), line.surcharge_amount, ""),
    ):
        if value:
            inputs.append(Given(name, f"{number(value)}{unit}" if unit else f"£{number(value)}"))
    return Explanation(
        key=f"bill.line.{place}",
        title=said("line: {text}", text=line.text),
        formula=tuple(formula),
        inputs=tuple(inputs),
        steps=(
            said("exactly {exact}", exact=unrounded(line_amount(line))),
            said("rounded once, half a penny up, without VAT: {net}", net=net.plain()),
        ),
        result=net.with_sign(),
        source=LINE_SOURCE,
    )


def explain_owing(bill: InvoicePage) -> Explanation:
    """Return how what is owing of an invoice came about, as the page says."""
    paid = " + ".join(one.amount.plain() for one in bill.payments) or "0.00"
    return Explanation(
        key="bill.owing",
        title=said("owing"),
        formula=(said("What is to be paid, less what has come in."), said("owing = to pay − paid")),
        inputs=(
            Given(said("to pay"), bill.payable.with_sign(), bill.number),
            *(Given(str(one.date), one.amount.with_sign(), said("payment")) for one in bill.payments),
        ),
        steps=(
            said("paid = {paid} = {sum}", paid=paid, sum=total(one.amount for one in bill.payments).plain()),
            said(
                "{payable} − {paid} = {owing}",
                payable=bill.payable.plain(),
                paid=bill.paid.plain(),
                owing=bill.owing.plain(),
            ),
        ),
        result=bill.owing.with_sign(),
        source=said("The invoice as sealed, and the payments noted in this book."),
        caution=OWING_CAUTION,
    )


def _rate_of(line: Line) -> str:
    return "" if line.vat_pct is None else said("VAT {pct} %", pct=number(line.vat_pct))


def _added(parts: Sequence[Money], whole: Money) -> str:
    """Return "1.00 + 2.00 = 3.00", one part alone as it is."""
    if len(parts) == 1:
        return whole.plain()
    return f"{' + '.join(part.plain() for part in parts)} = {whole.plain()}"
