from __future__ import annotations

import dataclasses
import datetime as dt
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.money.amount import ZERO, Money, half_up, total
from flueleaf.domain.money.document import Adjustment, Document, DocumentKind, Payment, Tally
from flueleaf.domain.money.lines import Line
from flueleaf.domain.money.tally import tally, vat_inside
from flueleaf.domain.problems import Refused
from flueleaf.storage.tables.money import money_rules

D = Decimal
RULES = money_rules()


def _line(price: str, pct: str | None = "20", **changes: Any) -> Line:
    rate = None if pct is None else D(pct)
    return dataclasses.replace(Line("work", D(1), "each", D(price), vat_pct=rate), **changes)


def _tally(*lines: Line, kind: DocumentKind = "invoice", **changes: Any) -> Tally:
    return tally(Document(**({"kind": kind, "vat": "standard", "lines": lines} | changes)), RULES)


def _texts(*amounts: Money) -> list[str]:
    return [amount.plain() for amount in amounts]


def test_a_line_is_rounded_once() -> None:
    def net(**changes: Any) -> str:
        return _tally(_line("1", **changes)).line_nets[0].plain()

    assert net(unit_price=D("0.335"), quantity=D(3)) == "1.01"
    assert net(unit_price=D(1), quantity=D(2), base_quantity=D(3)) == "0.67"
    assert net(unit_price=D("12.40"), discount_pct=D(10)) == "11.16"
    assert (
        net(unit_price=D("100"), discount_pct=D("12.5"), discount_amount=D(5), surcharge_amount=D("2.505"))
        == "85.01"
    )
    assert net(quantity=D(0)) == "0.00"


def test_vat_is_rounded_once_for_each_rate() -> None:
    # Three times 0.33: 0.198 together, but 0.07 each would make 0.21.
    found = _tally(_line("0.33"), _line("0.33"), _line("0.33"), _line("10.10", "5"))
    assert [(row.category, row.pct, *_texts(row.net, row.vat)) for row in found.vat] == [
        ("S", D(20), "0.99", "0.20"),
        ("S", D(5), "10.10", "0.51"),
    ]
    assert _texts(found.net, found.vat_total, found.total) == ["11.09", "0.71", "11.80"]


def test_equal_rates_written_differently_are_one_row() -> None:
    assert len(_tally(_line("1", "20"), _line("1", "20.0")).vat) == 1


def test_categories_follow_from_the_rate() -> None:
    lines = (
        _line("1", "0"),
        _line("1", None, vat_category="E"),
        _line("1", None, vat_category="O"),
        _line("1"),
    )
    assert [row.category for row in _tally(*lines).vat] == ["S", "Z", "E", "O"]


def test_without_vat_nothing_of_it_appears() -> None:
    found = _tally(_line("78.00", None), _line("12.40", None), vat="none")
    assert found.vat == ()
    assert _texts(found.net, found.vat_total, found.total, found.reverse_charge_vat) == [
        "90.40",
        "0.00",
        "90.40",
        "0.00",
    ]


def test_adjustments_bear_their_own_vat() -> None:
    off, extra = Adjustment("off", Money(-1000), D(20)), Adjustment("parking", Money(500), None, "O")
    found = _tally(_line("100"), adjustments=(off, extra))
    assert _texts(*found.adjustment_nets) == ["-10.00", "5.00"]
    assert _texts(found.net, found.vat_total, found.total) == ["95.00", "18.00", "113.00"]


def test_allowances_cannot_bring_a_document_below_nothing() -> None:
    with pytest.raises(Refused, match="adjustments"):
        _tally(_line("10"), adjustments=(Adjustment("off", Money(-1001), D(20)),))
    with pytest.raises(Refused, match="adjustments"):
        _tally(_line("10", "0"), adjustments=(Adjustment("off", Money(-999), D(20)),))
    assert _tally(_line("10"), adjustments=(Adjustment("off", Money(-1000), D(20)),)).total == ZERO


def test_prepaid_and_payments() -> None:
    paid = (Payment(dt.date(2026, 5, 1), Money(2000)), Payment(dt.date(2026, 6, 1), Money(9000)))
    found = _tally(_line("100"), prepaid=Money(3000), payments=paid)
    assert _texts(found.total, found.payable, found.paid, found.owing) == [
        "120.00",
        "90.00",
        "110.00",
        "-20.00",
    ]
    on = {"on": dt.date(2026, 5, 31)}
    assert _texts(_tally(_line("100"), payments=paid, **on).owing) == ["100.00"]
    assert _texts(_tally(_line("100"), payments=paid, on=dt.date(2026, 6, 1)).owing) == ["10.00"]


def test_reverse_charge_is_stated_and_not_charged() -> None:
    found = _tally(_line("1000"), _line("10", "5"), _line("3", "0"), reverse_charge=True)
    assert [(r.category, r.pct, *_texts(r.vat, r.reverse_charge_vat)) for r in found.vat] == [
        ("Z", D(0), "0.00", "0.00"),
        ("AE", D(20), "0.00", "200.00"),
        ("AE", D(5), "0.00", "0.50"),
    ]
    assert _texts(found.vat_total, found.reverse_charge_vat, found.total) == ["0.00", "200.50", "1013.00"]


def test_prices_that_include_vat() -> None:
    found = _tally(_line("10"), _line("10"), _line("10"), _line("80", "5"), prices_include_vat=True)
    assert _texts(*found.line_nets) == ["8.34", "8.33", "8.33", "76.19"]
    assert [_texts(row.net, row.vat) for row in found.vat] == [["25.00", "5.00"], ["76.19", "3.81"]]
    assert found.total == Money.of(110)


@settings(max_examples=80)
@given(
    st.lists(st.tuples(st.integers(0, 10**6), st.sampled_from(["20", "5", "0"])), min_size=1, max_size=8),
    st.lists(st.tuples(st.integers(-100, 100), st.sampled_from(["20", "5", "0"])), max_size=3),
)
def test_included_vat_always_adds_up(prices: list[tuple[int, str]], changes: list[tuple[int, str]]) -> None:
    lines = [_line(Money(pence).plain(), pct) for pence, pct in prices] + [_line("10", "20")]
    adjustments = tuple(Adjustment("", Money(pence), D(pct)) for pence, pct in changes)
    found = _tally(*lines, adjustments=adjustments, prices_include_vat=True)
    gross = total(Money(pence) for pence, _ in [*prices, *changes]) + Money.of(10)
    assert found.total == gross
    assert (
        total(found.line_nets) + total(found.adjustment_nets) == found.net == total(r.net for r in found.vat)
    )
    for net, line in zip(found.line_nets, lines, strict=True):
        share = Fraction(line.unit_price) * 100 / (100 + Fraction(line.vat_pct or 0))
        assert abs(net.pounds - share) < Fraction(1, 100)


@settings(max_examples=80)
@given(
    st.lists(
        st.tuples(
            st.decimals(0, 1000, places=3), st.decimals(0, 500, places=2), st.sampled_from(["20", "5", "0"])
        ),
        min_size=1,
        max_size=8,
    )
)
def test_the_parts_make_the_whole(rows: list[tuple[Decimal, Decimal, str]]) -> None:
    lines = [_line(str(price), pct, quantity=quantity) for quantity, price, pct in rows]
    found = _tally(*lines)
    for net, line in zip(found.line_nets, lines, strict=True):
        assert net.pence == half_up(Fraction(line.quantity) * Fraction(line.unit_price) * 100)
    assert found.net == total(found.line_nets) == total(row.net for row in found.vat)
    assert found.total == found.net + found.vat_total
    for row in found.vat:
        assert abs(row.vat.pence - Fraction(row.net.pence) * Fraction(row.pct) / 100) <= Fraction(1, 2)
    assert _tally(*lines, kind="credit note").total == found.total


def _cis(*lines: Line, **changes: Any) -> str:
    return _tally(*lines, cis_deduction_pct=D(20), **changes).cis_deduction.plain()


LABOUR, MATERIALS = _line("500", labour=True), _line("200")


def test_the_deduction_leaves_vat_and_materials_out() -> None:
    found = _tally(LABOUR, MATERIALS, cis_deduction_pct=D(20))
    assert _texts(found.vat_total, found.total, found.cis_deduction, found.payable) == [
        "140.00",
        "840.00",
        "100.00",
        "740.00",
    ]
    assert _tally(LABOUR, MATERIALS).cis_deduction == ZERO
    assert _cis(MATERIALS) == "0.00"


def test_a_discount_on_labour_lowers_the_deduction_and_one_on_materials_does_not() -> None:
    assert _cis(dataclasses.replace(LABOUR, discount_pct=D(10)), MATERIALS) == "90.00"
    assert _cis(LABOUR, dataclasses.replace(MATERIALS, discount_pct=D(10))) == "100.00"


def test_an_adjustment_changes_the_payment_not_the_materials() -> None:
    assert _cis(LABOUR, MATERIALS, adjustments=(Adjustment("off", Money(-5000), D(20)),)) == "90.00"
    assert _cis(LABOUR, MATERIALS, adjustments=(Adjustment("call-out", Money(5000), D(20)),)) == "110.00"
    assert _cis(LABOUR, MATERIALS, adjustments=(Adjustment("off", Money(-60000), D(20)),)) == "0.00"


def test_the_deduction_of_prices_with_vat_is_on_the_net() -> None:
    assert _cis(_line("600", labour=True), _line("240"), prices_include_vat=True) == "100.00"


LATE: dict[str, Any] = {
    "business": True, "due": dt.date(2026, 3, 31), "on": dt.date(2026, 5, 20), "base_rate_pct": D("0.5"),
}  # fmt: skip


def test_interest_is_for_late_invoices_of_businesses_only() -> None:
    line = _line("1000", "0")
    found = _tally(line, **LATE)
    assert _texts(found.late_interest, found.late_compensation) == ["11.64", "70.00"]
    for change in (
        {"business": False},
        {"due": None},
        {"on": None},
        {"kind": "quote"},
        {"kind": "credit note"},
    ):
        other = _tally(line, **(LATE | change))
        assert (other.late_interest, other.late_compensation) == (ZERO, ZERO)


def test_interest_is_on_what_is_payable() -> None:
    found = _tally(_line("2000", "0"), prepaid=Money.of(1000), **LATE)
    assert _texts(found.late_interest, found.late_compensation) == ["11.64", "70.00"]


def test_refuses_with_every_fault() -> None:
    with pytest.raises(Refused) as refused:
        _tally(_line("1", "19"), _line("1", quantity=D(-1)))
    assert [fault.where for fault in refused.value.faults] == ["lines[0].vat_pct", "lines[1].quantity"]


def test_no_lines_come_to_nothing() -> None:
    assert _tally().total == ZERO


def test_vat_inside_a_price() -> None:
    assert vat_inside(Money.of(120), D(20)) == Money.of(20)
    assert vat_inside(Money.of(120), D(0)) == ZERO
