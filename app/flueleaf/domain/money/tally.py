"""What an invoice, a credit note or a quote comes to.

Sources: VAT per category and rate on the net sum, rounded once (EN 16931-1, BT-117; HMRC Notice 700 section
17.5, recalled). VAT inside a price: gross x rate / (100 + rate). CIS deduction: Finance Act 2004 s. 61(1).
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.money.amount import ZERO, Money, apportion, total
from flueleaf.domain.money.check import category_and_pct, document_faults, items_of, line_amount
from flueleaf.domain.money.document import Document, Tally, VatRow
from flueleaf.domain.money.interest import NOTHING, LateCharge, late_charge
from flueleaf.domain.money.lines import VAT_CATEGORIES, VatCategory
from flueleaf.domain.money.rules import MoneyRules
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import said

Group = tuple[VatCategory, Decimal]


def tally(document: Document, rules: MoneyRules) -> Tally:
    """Return what a document comes to, every amount rounded once, half-up.

    Args:
        document: amounts in pounds; see ``Document``.
        rules: the shipped tables, of which the editions of the document's date count.

    Raises:
        Refused: naming every fault, by its path as in ``lines[0].vat_pct``.
    """
    if faults := document_faults(document, rules):
        raise Refused(faults)
    amounts = [Money.of(line_amount(line)) for line in document.lines]
    amounts += [adjustment.amount for adjustment in document.adjustments]
    groups = [category_and_pct(item, document) for item in items_of(document)]
    nets, rows = _nets_and_rows(document, amounts, groups)
    net, vat_total = total(nets), total(row.vat for row in rows)
    _refuse_negative(net, net + vat_total)
    line_nets = nets[: len(document.lines)]
    deduction = _cis_deduction(document, net, line_nets)
    payable = net + vat_total - document.prepaid - deduction
    paid = total(p.amount for p in document.payments if document.on is None or p.date <= document.on)
    late = _late(document, payable, rules)
    return Tally(
        line_nets=tuple(line_nets),
        adjustment_nets=tuple(nets[len(document.lines) :]),
        net=net,
        vat=rows,
        vat_total=vat_total,
        total=net + vat_total,
        reverse_charge_vat=total(row.reverse_charge_vat for row in rows),
        cis_deduction=deduction,
        payable=payable,
        paid=paid,
        owing=payable - paid,
        late_interest=late.interest,
        late_compensation=late.compensation,
    )


def vat_inside(gross: Money, pct: Decimal) -> Money:
    """Return the VAT inside an amount that includes it: 1/6 at 20 %, 1/21 at 5 %, rounded half-up."""
    return Money.of(gross.pounds * Fraction(pct) / (100 + Fraction(pct)))


def _nets_and_rows(
    document: Document, amounts: Sequence[Money], groups: Sequence[Group]
) -> tuple[list[Money], tuple[VatRow, ...]]:
    """Return each item's net and the VAT of each category and rate, highest rate of a category first."""
    nets = list(amounts)
    rows: list[VatRow] = []
    if document.vat == "none":
        return nets, ()
    for group in sorted(set(groups), key=lambda g: (VAT_CATEGORIES.index(g[0]), -g[1])):
        category, pct = group
        members = [n for n, other in enumerate(groups) if other == group]
        gathered = total(amounts[n] for n in members)
        if document.prices_include_vat:
            vat = vat_inside(gathered, pct)
            exact = [amounts[n].pounds * 100 / (100 + Fraction(pct)) for n in members]
            for n, part in zip(members, apportion(gathered - vat, exact), strict=True):
                nets[n] = part
            rows.append(VatRow(category, pct, gathered - vat, vat))
        else:
            vat = Money.of(gathered.pounds * Fraction(pct) / 100)
            charged, stated = (ZERO, vat) if category == "AE" else (vat, ZERO)
            rows.append(VatRow(category, pct, gathered, charged, stated))
    return nets, tuple(rows)


def _refuse_negative(net: Money, whole: Money) -> None:
    """Only allowances can bring a document below nothing; what is given back is a credit note."""
    if net < ZERO or whole < ZERO:
        came_to = min(net, whole).plain()
        raise Refused(
            [Fault("adjustments", f"total {came_to}", said("allowances up to what the lines come to"))]
        )


def _cis_deduction(document: Document, net: Money, line_nets: Sequence[Money]) -> Money:
    """Return what the contractor withholds: a share of the payment less VAT and less materials.

    Materials are the lines not marked as labour, at what each comes to after its own discount. A charge on
    the whole document is no material, so it bears the deduction; an allowance lowers the payment and so the
    base.
    """
    materials = total(
        amount for amount, line in zip(line_nets, document.lines, strict=True) if not line.labour
    )
    base = max(net - materials, ZERO)
    return Money.of(base.pounds * Fraction(document.cis_deduction_pct) / 100)


def _late(document: Document, payable: Money, rules: MoneyRules) -> LateCharge:
    if document.kind != "invoice" or not document.business or document.on is None or document.due is None:
        return NOTHING
    return late_charge(
        payable,
        document.payments,
        due=document.due,
        on=document.on,
        rules=rules,
        base_rate_pct=document.base_rate_pct,
    )
