"""``tally`` against its contract.

Every expected amount is worked out by hand beside its case.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any

import pytest
from tests.headless.contract import TALLY

Document = dict[str, Any]
MONEY_KEYS = [
    "net",
    "vat_total",
    "total",
    "reverse_charge_vat",
    "cis_deduction",
    "payable",
    "paid",
    "owing",
    "late_interest",
    "late_compensation",
]


def line(price: str = "10.00", **more: Any) -> Document:
    return {"text": "x", "quantity": "1", "unit": "each", "unit_price": price, "vat_pct": "20", **more}


def bare(price: str = "10.00", **more: Any) -> Document:
    """Return a line of a business that is not registered for VAT."""
    return {"text": "x", "quantity": "1", "unit": "each", "unit_price": price, **more}


def bill(*lines: Document, **more: Any) -> Document:
    return {"kind": "invoice", "date": "2026-11-26", "vat": "standard", "lines": [*lines], **more}


LINES: list[tuple[str, Document, str]] = [
    # quantity x price / base, less discount_pct, less discount_amount, plus surcharge_amount, rounded
    ("quantity x price", line("3.15", quantity="4.5"), "14.18"),  # 14.175
    ("per base quantity", line("12.35", quantity="250", base_quantity="100"), "30.88"),  # 30.875
    ("discount in percent", line("12.40", discount_pct="10"), "11.16"),
    ("discount in percent, half a penny", line("0.10", discount_pct="5"), "0.10"),  # 0.095
    ("discount amount", line("12.40", discount_amount="2.41"), "9.99"),
    ("surcharge", line("12.40", surcharge_amount="0.10"), "12.50"),
    # 3 x 33.33 = 99.99; less 12.5 % 87.49125; less 1.005 86.48625; plus 2 = 88.48625: percent first
    (
        "all of them, in this order",
        line("33.33", quantity="3", discount_pct="12.5", discount_amount="1.005", surcharge_amount="2"),
        "88.49",
    ),
    # rounding once: 10 x 0.0049 = 0.049, not 10 x 0.00
    ("fine prices round once", line("0.0049", quantity="10"), "0.05"),
    ("half up", line("0.01", quantity="0.5"), "0.01"),
    ("under half", line("0.01", quantity="0.499999"), "0.00"),
    ("no binary point: 1.005", line("1.005"), "1.01"),
    ("no binary point: 2.675", line("2.675"), "2.68"),
    ("all discounted", line("12.40", discount_pct="100"), "0.00"),
    ("numbers as numbers", line(quantity=2, unit_price=12.5, vat_pct=20), "25.00"),
]


@pytest.mark.parametrize(("one", "net"), [pytest.param(*case[1:], id=case[0]) for case in LINES])
def test_line_net(ask: Any, one: Document, net: str) -> None:
    said = ask("tally", bill(one))
    assert (said.code, said.error) == (0, "")
    assert said.answer["line_nets"] == [net]
    assert said.answer["net"] == net


LABOUR = line("500.00", labour=True)
TRADE: Document = {"customer": {"business": True}}
TALLIES: list[tuple[str, Document, Document]] = [
    (
        "the example",
        TALLY,
        {"line_nets": ["78.00", "11.16"], "net": "89.16", "vat_total": "17.83", "total": "106.99"},
    ),
    ("the example is paid in part", TALLY, {"paid": "50.00", "owing": "56.99", "late_interest": "0.00"}),
    # once per VAT rate, on the net sum: 3 x 0.33 at 20 % is 0.198, not 3 x 0.07
    (
        "VAT once per rate",
        bill(line("0.33"), line("0.33"), line("0.33")),
        {"vat_total": "0.20", "total": "1.19"},
    ),
    ("VAT half up", bill(line("0.30", vat_pct="5")), {"vat_total": "0.02"}),  # 0.015
    ("two rates", bill(line("100"), line("100", vat_pct="5")), {"vat_total": "25.00", "total": "225.00"}),
    ("zero rate", bill(line(vat_pct="0")), {"vat_total": "0.00", "total": "10.00"}),
    # adjustments: negative is an allowance; each goes with its own rate
    (
        "allowance",
        bill(line("100"), adjustments=[{"text": "goodwill", "amount": "-10", "vat_pct": "20"}]),
        {"line_nets": ["100.00"], "net": "90.00", "vat_total": "18.00", "total": "108.00"},
    ),
    (
        "charge at another rate",
        bill(line("100"), adjustments=[{"text": "parking", "amount": "4.50", "vat_pct": "0"}]),
        {"net": "104.50", "vat_total": "20.00", "total": "124.50"},
    ),
    # payable = total - prepaid - CIS deduction
    (
        "prepaid",
        bill(line("100"), prepaid="20.01"),
        {"total": "120.00", "payable": "99.99", "owing": "99.99"},
    ),
    # labour 500 + materials 200 + VAT 140: 20 % of 500 is 100
    (
        "CIS",
        bill(LABOUR, line("200.00"), cis_deduction_pct=20, **TRADE),
        {"total": "840.00", "cis_deduction": "100.00", "payable": "740.00"},
    ),
    (
        "CIS at 30",
        bill(LABOUR, cis_deduction_pct="30", **TRADE),
        {"cis_deduction": "150.00", "payable": "450.00"},
    ),
    ("CIS at 0", bill(LABOUR, cis_deduction_pct=0, **TRADE), {"cis_deduction": "0.00", "payable": "600.00"}),
    (
        "CIS half up",
        bill(line("0.05", labour=True), cis_deduction_pct=30, **TRADE),
        {"cis_deduction": "0.02"},
    ),
    ("CIS without labour", bill(line("200"), cis_deduction_pct=20, **TRADE), {"cis_deduction": "0.00"}),
    # reverse charge: vat_total 0.00; reverse_charge_vat is what the customer accounts for
    (
        "reverse charge",
        bill(line("100"), reverse_charge=True, **TRADE),
        {"vat_total": "0.00", "total": "100.00", "reverse_charge_vat": "20.00", "payable": "100.00"},
    ),
    (
        "reverse charge at two rates",
        bill(line("100"), line("0.30", vat_pct="5"), reverse_charge=True, **TRADE),
        {"vat_total": "0.00", "total": "100.30", "reverse_charge_vat": "20.02"},
    ),
    (
        "reverse charge and CIS",
        bill(LABOUR, line("200.00"), cis_deduction_pct=20, reverse_charge=True, prepaid="50", **TRADE),
        {"total": "700.00", "reverse_charge_vat": "140.00", "cis_deduction": "100.00", "payable": "550.00"},
    ),
    # not registered
    (
        "no VAT",
        {"kind": "invoice", "vat": "none", "lines": [bare("99.99"), bare("0.01")]},
        {"vat": [], "net": "100.00", "total": "100.00", "owing": "100.00"},
    ),
    # a credit note carries positive amounts
    (
        "credit note",
        bill(line("100"), kind="credit note"),
        {"net": "100.00", "vat_total": "20.00", "total": "120.00"},
    ),
    ("quote", bill(line("100"), kind="quote"), {"total": "120.00"}),
    # VAT is taken out of each rate's sum: 80.00 with 5 % holds 80 / 21 = 3.8095
    (
        "inclusive, 5 %",
        bill(line("80.00", vat_pct="5"), prices_include_vat=True),
        {"net": "76.19", "vat_total": "3.81"},
    ),
    # 3 x 3.33 = 9.99; a sixth is 1.665, half up 1.67
    (
        "inclusive, odd pennies",
        bill(*[line("3.33")] * 3, prices_include_vat=True),
        {"net": "8.32", "vat_total": "1.67"},
    ),
    (
        "inclusive, one penny",
        bill(line("0.01"), prices_include_vat=True),
        {"net": "0.01", "vat_total": "0.00"},
    ),
    # 10.02 holds 1.67; 80.00 holds 3.81
    (
        "inclusive, two rates",
        bill(line("80.00", vat_pct="5"), line("10.01"), line("0.01"), prices_include_vat=True),
        {"net": "84.54", "vat_total": "5.48", "total": "90.02"},
    ),
    (
        "overpaid",
        bill(line("10"), payments=[{"date": "2026-12-01", "amount": "20"}]),
        {"paid": "20.00", "owing": "-8.00"},
    ),
    (
        "payments after `on` are ignored",
        bill(
            line("10"),
            on="2026-12-10",
            payments=[{"date": "2026-12-10", "amount": "5"}, {"date": "2026-12-11", "amount": "7"}],
        ),
        {"paid": "5.00", "owing": "7.00"},
    ),
]


@pytest.mark.parametrize(("document", "wanted"), [pytest.param(*case[1:], id=case[0]) for case in TALLIES])
def test_tally(ask: Any, document: Document, wanted: Document) -> None:
    said = ask("tally", document)
    assert (said.code, said.error) == (0, "")
    assert {key: said.answer[key] for key in wanted} == wanted


@pytest.mark.parametrize("document", [case[1] for case in TALLIES], ids=[case[0] for case in TALLIES])
def test_parts_add_up_and_money_has_two_decimals(ask: Any, document: Document) -> None:
    found = ask("tally", document).answer
    assert all(found[key] == f"{Decimal(found[key]):.2f}" for key in MONEY_KEYS)
    pence = {key: Decimal(found[key]) for key in MONEY_KEYS}
    lines = sum(map(Decimal, found["line_nets"]))
    if not document.get("adjustments"):
        assert lines == pence["net"]
    assert pence["total"] == pence["net"] + pence["vat_total"]
    prepaid = Decimal(document.get("prepaid", 0))
    assert pence["payable"] == pence["total"] - prepaid - pence["cis_deduction"]
    assert pence["owing"] == pence["payable"] - pence["paid"]
    if found["vat"]:
        assert sum(Decimal(row["net"]) for row in found["vat"]) == pence["net"]
        assert sum(Decimal(row["vat"]) for row in found["vat"]) == pence["vat_total"]


CATEGORIES: list[tuple[str, Document, list[tuple[str, str]]]] = [
    (
        "from vat_pct",
        bill(line(), line(vat_pct="5"), line(vat_pct="0")),
        [("S", "20"), ("S", "5"), ("Z", "0")],
    ),
    ("exempt", bill(line(vat_pct="0", vat_category="E")), [("E", "0")]),
    ("from the document", bill(line(), reverse_charge=True, **TRADE), [("AE", "20")]),
]


@pytest.mark.parametrize(
    ("document", "wanted"), [case[1:] for case in CATEGORIES], ids=[c[0] for c in CATEGORIES]
)
def test_vat_category(ask: Any, document: Document, wanted: list[tuple[str, str]]) -> None:
    rows = ask("tally", document).answer["vat"]
    assert sorted((row["category"], row["pct"]) for row in rows) == sorted(wanted)


def late(total_net: str = "1000.00", **more: Any) -> Document:
    """Return a business's invoice due on 26 December 2026; 8 + 3.75 % a year."""
    return bill(line(total_net), due="2026-12-26", base_rate_pct="3.75", **{**TRADE, **more})


def interest(*balances_and_days: tuple[str, int]) -> str:
    exact = sum(Fraction(balance) * days for balance, days in balances_and_days) * Fraction("0.1175") / 365
    return str((Decimal(exact.numerator) / exact.denominator).quantize(Decimal("0.01"), ROUND_HALF_UP))


LATE: list[tuple[str, Document, str, str]] = [
    # from the day after `due` to `on`; 27 December to 20 January are 25 days
    ("not late on the day", late(on="2026-12-26"), "0.00", "0.00"),
    ("one day", late(on="2026-12-27"), interest(("1200", 1)), "70.00"),
    ("25 days", late(on="2027-01-20"), interest(("1200", 25)), "70.00"),
    # paid on 5 January: 27 December to 4 January at 1200, 16 days at 1000
    (
        "across a payment",
        late(on="2027-01-20", payments=[{"date": "2027-01-05", "amount": "200.00"}]),
        interest(("1200", 9), ("1000", 16)),
        "70.00",
    ),
    (
        "across two, out of order; a third after `on`",
        late(
            on="2027-01-20",
            payments=[
                {"date": "2027-01-15", "amount": "300.00"},
                {"date": "2027-01-05", "amount": "200.00"},
                {"date": "2027-01-21", "amount": "700.00"},
            ],
        ),
        interest(("1200", 9), ("1000", 10), ("700", 6)),
        "70.00",
    ),
    # compensation by the amount overdue on the first late day: 40 under 1000, 70 under 10000, 100
    (
        "999.99 overdue",
        late(on="2027-01-20", payments=[{"date": "2026-12-20", "amount": "200.01"}]),
        interest(("999.99", 25)),
        "40.00",
    ),
    (
        "1000.00 overdue",
        late(on="2027-01-20", payments=[{"date": "2026-12-26", "amount": "200.00"}]),
        interest(("1000", 25)),
        "70.00",
    ),
    (
        "paid down later",
        late(on="2027-01-20", payments=[{"date": "2026-12-28", "amount": "300.00"}]),
        interest(("1200", 1), ("900", 24)),
        "70.00",
    ),
    ("9999.99 overdue", late("8333.33", on="2027-01-20", prepaid="0.01"), interest(("9999.99", 25)), "70.00"),
    ("10000 overdue", late("8333.33", on="2027-01-20"), interest(("10000.00", 25)), "100.00"),
    (
        "paid in full, in time",
        late(on="2027-01-20", payments=[{"date": "2026-12-26", "amount": "1200"}]),
        "0.00",
        "0.00",
    ),
    (
        "paid in full, late",
        late(on="2027-01-20", payments=[{"date": "2026-12-29", "amount": "1200"}]),
        interest(("1200", 2)),
        "70.00",
    ),
    # only when customer.business
    ("a householder", late(on="2027-01-20", customer={"business": False}), "0.00", "0.00"),
    ("nobody said who", late(on="2027-01-20", customer={}), "0.00", "0.00"),
    ("no day asked for", late(), "0.00", "0.00"),
]


@pytest.mark.parametrize(
    ("document", "charge", "fixed"), [pytest.param(*case[1:], id=case[0]) for case in LATE]
)
def test_late_charges(ask: Any, document: Document, charge: str, fixed: str) -> None:
    said = ask("tally", document)
    assert (said.code, said.error) == (0, "")
    assert (said.answer["late_interest"], said.answer["late_compensation"]) == (charge, fixed)
