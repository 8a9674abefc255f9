"""What a document may hold before it is tallied; every fault is named with its place."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.money.amount import ZERO, Money
from flueleaf.domain.money.document import Adjustment, Document
from flueleaf.domain.money.lines import Line, VatCategory
from flueleaf.domain.money.rules import MoneyRules, VatRates, begins, in_force, newest, percent
from flueleaf.domain.problems import Fault
from flueleaf.domain.words import said

NO_VAT = said("no VAT on a document of a business that is not registered for it")
WITHOUT_RATE: tuple[VatCategory, ...] = ("Z", "E", "O")
# Keeps a slip of the pen out and every sum within what the book can hold. Common practice.
LARGEST = Money.of(1_000_000_000)


def document_faults(document: Document, rules: MoneyRules) -> list[Fault]:
    """Return what keeps a document from being tallied, an empty list where nothing does."""
    faults: list[Fault] = []
    rates = _rates(document, rules, faults)
    _check_deduction(document, rules, faults)
    for n, line in enumerate(document.lines):
        faults += _line_faults(line, f"lines[{n}]")
        faults += _vat_faults(line, document, rates, f"lines[{n}]")
    for n, adjustment in enumerate(document.adjustments):
        faults += _amount_faults(adjustment.amount, f"adjustments[{n}].amount", low=-LARGEST)
        faults += _vat_faults(adjustment, document, rates, f"adjustments[{n}]")
    faults += _amount_faults(document.prepaid, "prepaid")
    for n, payment in enumerate(document.payments):
        faults += _amount_faults(payment.amount, f"payments[{n}].amount", low=Money(1))
    return faults + _mode_faults(document)


def category_and_pct(item: Line | Adjustment, document: Document) -> tuple[VatCategory, Decimal]:
    """Return the VAT category and rate of a line or an adjustment that has been checked.

    The category follows from the rate and the document where it is not given: a rate above zero is standard
    (S; under reverse charge AE), a rate of zero is zero-rated (Z), a document without VAT is outside (O).
    Under AE the rate is the one the customer accounts for.
    """
    if document.vat == "none":
        return "O", Decimal(0)
    pct = item.vat_pct or Decimal(0)
    if item.vat_category is not None:
        return item.vat_category, pct
    if not pct:
        return "Z", pct
    return ("AE" if document.reverse_charge else "S"), pct


def line_amount(line: Line) -> Fraction:
    """Return quantity x price / base, less both discounts, plus the surcharge; pounds, exact."""
    amount = Fraction(line.quantity) * Fraction(line.unit_price) / Fraction(line.base_quantity)
    amount *= 1 - Fraction(line.discount_pct) / 100
    return amount - Fraction(line.discount_amount) + Fraction(line.surcharge_amount)


def _rates(document: Document, rules: MoneyRules, faults: list[Fault]) -> VatRates | None:
    """Return the VAT rates of the document's date; a document without a date takes the newest."""
    if document.date is None:
        return newest(rules.vat)
    found = in_force(rules.vat, document.date)
    if found is None and document.vat != "none":
        faults.append(
            Fault(
                "date",
                str(document.date),
                said("a date from {first}, where rates begin", first=begins(rules.vat)),
            )
        )
    return found


def _check_deduction(document: Document, rules: MoneyRules, faults: list[Fault]) -> None:
    table = newest(rules.cis) if document.date is None else in_force(rules.cis, document.date)
    accepted = table.deduction_pct if table else (Decimal(0),)
    if document.cis_deduction_pct not in accepted:
        wanted = said("one of {rates}", rates=_listed(accepted))
        faults.append(Fault("cis_deduction_pct", str(document.cis_deduction_pct), wanted))


def _mode_faults(document: Document) -> list[Fault]:
    """Refuse what contradicts the document's way with VAT."""
    faults = []
    if document.vat == "none":
        faults += [
            Fault(key, "true", said("false: {no_vat}", no_vat=NO_VAT))
            for key in ("reverse_charge", "prices_include_vat")
            if getattr(document, key)
        ]
    elif document.prices_include_vat and (
        document.reverse_charge or any(item.vat_category == "AE" for item in items_of(document))
    ):
        faults.append(
            Fault("prices_include_vat", "true", said("false: under reverse charge no VAT is in a price"))
        )
    return faults


def items_of(document: Document) -> tuple[Line | Adjustment, ...]:
    """Return what bears VAT: the lines, then the adjustments."""
    return (*document.lines, *document.adjustments)


def _line_faults(line: Line, where: str) -> list[Fault]:
    tests: list[tuple[str, Decimal, Callable[[Decimal], bool], str]] = [
        ("quantity", line.quantity, lambda v: v >= 0, said("a number that is not negative")),
        ("unit_price", line.unit_price, lambda v: v >= 0, said("a price that is not negative")),
        ("base_quantity", line.base_quantity, lambda v: v > 0, said("a number above zero")),
        ("discount_pct", line.discount_pct, lambda v: 0 <= v <= 100, said("a percentage from 0 to 100")),
        ("discount_amount", line.discount_amount, lambda v: v >= 0, said("an amount that is not negative")),
        ("surcharge_amount", line.surcharge_amount, lambda v: v >= 0, said("an amount that is not negative")),
    ]
    faults = [
        Fault(f"{where}.{key}", str(value), accepted)
        for key, value, holds, accepted in tests
        if not value.is_finite() or not holds(value)
    ]
    if faults:
        return faults
    amount = Money.of(line_amount(line))
    if amount.pence < 0:
        return [
            Fault(
                f"{where}.discount_amount", str(line.discount_amount), said("at most what the line comes to")
            )
        ]
    return _amount_faults(amount, where)


def _amount_faults(amount: Money, where: str, *, low: Money = ZERO) -> list[Fault]:
    if low <= amount <= LARGEST:
        return []
    return [
        Fault(
            where,
            amount.plain(),
            said("an amount from {low} to {largest}", low=low.shown(), largest=LARGEST.shown()),
        )
    ]


def _vat_faults(
    item: Line | Adjustment, document: Document, rates: VatRates | None, where: str
) -> list[Fault]:
    shown = "" if item.vat_pct is None else str(item.vat_pct)
    if document.vat == "none":
        given = [("vat_pct", shown), ("vat_category", item.vat_category or "")]
        return [Fault(f"{where}.{key}", value, NO_VAT) for key, value in given if value]
    if rates is None:
        return []
    return _rate_faults(item, document, rates, where)


def _rate_faults(item: Line | Adjustment, document: Document, rates: VatRates, where: str) -> list[Fault]:
    """Check rate and category against each other, the table and the document."""
    pct, category = item.vat_pct, item.vat_category
    at_pct, at_category = f"{where}.vat_pct", f"{where}.vat_category"
    shown = "" if pct is None else str(pct)
    if category in WITHOUT_RATE:
        return (
            [Fault(at_pct, shown, said("0 or nothing under category {category}", category=category))]
            if pct
            else []
        )
    if category == "AE":
        wanted = said(
            "one of {rates}, the rate the customer accounts for", rates=_listed(rates.reverse_charge_pct)
        )
        return [] if pct in rates.reverse_charge_pct else [Fault(at_pct, shown, wanted)]
    if category == "S":
        if document.reverse_charge:
            return [
                Fault(
                    at_category,
                    "S",
                    said("AE, Z, E or O, or nothing: under reverse charge no VAT is charged"),
                )
            ]
        above = tuple(rate for rate in rates.rates_pct if rate)
        return (
            []
            if pct in above
            else [Fault(at_pct, shown, said("one of {rates} under category S", rates=_listed(above)))]
        )
    if pct in rates.rates_pct:
        return []
    return [
        Fault(
            at_pct,
            shown,
            said(
                "one of {rates}, or a vat_category of {categories}",
                rates=_listed(rates.rates_pct),
                categories=", ".join(WITHOUT_RATE),
            ),
        )
    ]


def _listed(rates: tuple[Decimal, ...]) -> str:
    return ", ".join(percent(rate) for rate in rates)
