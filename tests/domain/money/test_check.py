from __future__ import annotations

import dataclasses
import datetime as dt
from decimal import Decimal
from typing import Any

import pytest

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.check import document_faults
from flueleaf.domain.money.document import Adjustment, Document, Payment
from flueleaf.domain.money.lines import Line, VatCategory
from flueleaf.storage.tables.money import money_rules

D = Decimal
RULES = money_rules()
LINE = Line("work", D(2), "each", D("10.00"), vat_pct=D(20))


def _document(line: Line = LINE, **changes: Any) -> Document:
    return Document(**({"kind": "invoice", "vat": "standard", "lines": (line,)} | changes))


def _line(**changes: Any) -> Line:
    return dataclasses.replace(LINE, **changes)


def _places(document: Document) -> list[str]:
    return [fault.where for fault in document_faults(document, RULES)]


def test_a_sound_document_has_no_fault() -> None:
    assert _places(_document(date=dt.date(2026, 11, 26), cis_deduction_pct=D("20.0"))) == []


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"quantity": D(-1)}, "quantity"),
        ({"unit_price": D("-0.01")}, "unit_price"),
        ({"base_quantity": D(0)}, "base_quantity"),
        ({"discount_pct": D("100.1")}, "discount_pct"),
        ({"discount_pct": D(-1)}, "discount_pct"),
        ({"discount_amount": D(-1)}, "discount_amount"),
        ({"surcharge_amount": D(-1)}, "surcharge_amount"),
        ({"quantity": D("NaN")}, "quantity"),
        ({"unit_price": D("Infinity")}, "unit_price"),
        ({"discount_amount": D("20.01")}, "discount_amount"),
    ],
)
def test_senseless_numbers_of_a_line_are_refused(changes: dict[str, Any], where: str) -> None:
    assert _places(_document(_line(**changes))) == [f"lines[0].{where}"]


def test_a_line_may_be_discounted_to_nothing_but_not_below() -> None:
    assert _places(_document(_line(discount_amount=D("20.00")))) == []


def test_huge_amounts_are_bounded() -> None:
    assert _places(_document(_line(quantity=D(10**6), unit_price=D("1000.01")))) == ["lines[0]"]
    assert _places(_document(_line(quantity=D(10**6), unit_price=D(1000)))) == []
    assert _places(_document(prepaid=Money(-1))) == ["prepaid"]
    nothing = Payment(dt.date(2026, 1, 1), Money(0))
    assert _places(_document(payments=(nothing,))) == ["payments[0].amount"]
    huge = Adjustment("charge", Money(10**12), vat_pct=D(20))
    assert _places(_document(adjustments=(huge,))) == ["adjustments[0].amount"]


@pytest.mark.parametrize("pct", ["17.5", "19", "20.01", "-5"])
def test_only_the_rates_of_the_table_are_accepted(pct: str) -> None:
    (fault,) = document_faults(_document(_line(vat_pct=D(pct))), RULES)
    assert fault.where == "lines[0].vat_pct"
    assert fault.value == pct
    assert "20, 5, 0" in fault.accepted


def test_a_line_without_rate_is_refused_naming_what_is_accepted() -> None:
    (fault,) = document_faults(_document(_line(vat_pct=None)), RULES)
    assert str(fault) == "lines[0].vat_pct: missing; accepted: one of 20, 5, 0, or a vat_category of Z, E, O"


@pytest.mark.parametrize(
    ("category", "pct", "where"),
    [
        ("S", None, "vat_pct"), ("S", "0", "vat_pct"), ("S", "20", None), ("S", "5.0", None),
        ("Z", None, None), ("Z", "0", None), ("Z", "20", "vat_pct"),
        ("E", None, None), ("E", "5", "vat_pct"), ("O", None, None), ("O", "20", "vat_pct"),
        ("AE", "20", None), ("AE", "5", None), ("AE", "0", "vat_pct"), ("AE", None, "vat_pct"),
    ],
)  # fmt: skip
def test_category_and_rate_must_agree(category: VatCategory, pct: str | None, where: str | None) -> None:
    line = _line(vat_category=category, vat_pct=None if pct is None else D(pct))
    assert _places(_document(line)) == ([f"lines[0].{where}"] if where else [])
    adjustment = Adjustment("charge", Money(100), line.vat_pct, category)
    assert _places(_document(adjustments=(adjustment,))) == ([f"adjustments[0].{where}"] if where else [])


def test_no_vat_is_charged_beside_a_reverse_charge() -> None:
    assert _places(_document(_line(vat_category="S"), reverse_charge=True)) == ["lines[0].vat_category"]
    assert _places(_document(reverse_charge=True)) == []


def test_no_vat_word_without_registration() -> None:
    bare = _line(vat_pct=None)
    assert _places(_document(bare, vat="none")) == []
    for wrong in (_line(vat_pct=D(0)), _line(vat_pct=D(20))):
        assert _places(_document(wrong, vat="none")) == ["lines[0].vat_pct"]
    assert _places(_document(_line(vat_pct=None, vat_category="O"), vat="none")) == ["lines[0].vat_category"]
    assert _places(
        _document(bare, vat="none", adjustments=(Adjustment("off", Money(-1), vat_pct=D(0)),))
    ) == ["adjustments[0].vat_pct"]
    assert _places(_document(bare, vat="none", reverse_charge=True, prices_include_vat=True)) == [
        "reverse_charge",
        "prices_include_vat",
    ]


def test_no_vat_is_in_a_price_under_reverse_charge() -> None:
    assert _places(_document(prices_include_vat=True, reverse_charge=True)) == ["prices_include_vat"]
    assert _places(_document(_line(vat_category="AE"), prices_include_vat=True)) == ["prices_include_vat"]
    assert _places(_document(prices_include_vat=True)) == []


def test_the_document_date_finds_the_rates() -> None:
    assert _places(_document(date=dt.date(2011, 1, 4))) == []
    assert _places(_document(date=dt.date(2011, 1, 3))) == ["date"]
    early_charge = Adjustment("charge", Money(100))
    assert _places(_document(date=dt.date(2011, 1, 3), adjustments=(early_charge,))) == ["date"]


@pytest.mark.parametrize("pct", ["15", "100", "-20", "20.5"])
def test_only_the_deductions_of_the_scheme_are_accepted(pct: str) -> None:
    (fault,) = document_faults(_document(cis_deduction_pct=D(pct)), RULES)
    assert fault.where == "cis_deduction_pct"
    assert "0, 20, 30" in fault.accepted


def test_no_deduction_before_the_scheme() -> None:
    old = _document(_line(vat_pct=None), vat="none", date=dt.date(2007, 4, 5), cis_deduction_pct=D(20))
    assert _places(old) == ["cis_deduction_pct"]
    assert _places(dataclasses.replace(old, cis_deduction_pct=D(0))) == []
