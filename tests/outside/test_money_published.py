"""Money against worked values of others; each names its source."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.document import Document
from flueleaf.domain.money.interest import late_charge, reference_rate
from flueleaf.domain.money.lines import Line
from flueleaf.domain.money.tally import tally, vat_inside
from flueleaf.domain.money.tax import mileage, quarters, tax_point
from flueleaf.storage.tables.money import money_rules

D = Decimal
RULES = money_rules()


def _line(price: str, pct: str = "20", *, labour: bool = False) -> Line:
    return Line("", D(1), "each", D(price), vat_pct=D(pct), labour=labour)


@pytest.mark.parametrize(
    ("gross", "pct", "vat"),
    [
        # VAT fractions, HMRC Notice 700: 1/6 at 20 %, 1/21 at 5 %. 80/21 = 3.8095.
        ("80.00", "5", "3.81"),
        ("120.00", "20", "20.00"),
        ("105.00", "5", "5.00"),
        ("100.00", "20", "16.67"),
    ],
)
def test_vat_fractions(gross: str, pct: str, vat: str) -> None:
    assert vat_inside(Money.of(D(gross)), D(pct)).plain() == vat


@pytest.mark.parametrize(
    ("net", "pct", "vat"),
    [
        # Half a penny is rounded up: HMRC Notice 700 section 17.5 (nearest penny); 0.125 x 20 % = 0.025.
        ("0.13", "20", "0.03"),
        ("12.50", "5", "0.63"),
        ("78.70", "5", "3.94"),
        ("102.30", "5", "5.12"),
    ],
)
def test_vat_is_half_up(net: str, pct: str, vat: str) -> None:
    assert tally(Document("invoice", "standard", (_line(net, pct),)), RULES).vat_total.plain() == vat


def test_construction_deduction() -> None:
    # Finance Act 2004 s. 61: 20 % of the payment less VAT and materials. Labour 500, materials 200, VAT 140.
    lines = (_line("500", labour=True), _line("200"))
    found = tally(Document("invoice", "standard", lines, cis_deduction_pct=D(20)), RULES)
    assert (found.vat_total.plain(), found.cis_deduction.plain(), found.payable.plain()) == (
        "140.00",
        "100.00",
        "740.00",
    )


def test_construction_deduction_of_a_published_guide() -> None:
    # A published worked example (an accountant's page, read November 2026): 3,000 gross, VAT 300,
    # materials 800: base 1,900, deduction 380, net payment 2,320 without the VAT, so 2,620 with it.
    lines = (_line("1900", "0", labour=True), _line("800", "0"))
    found = tally(Document("invoice", "standard", lines, cis_deduction_pct=D(20)), RULES)
    assert (found.cis_deduction.plain(), found.payable.plain()) == ("380.00", "2320.00")


def test_late_payment_interest() -> None:
    # gov.uk, "Late commercial payments": 1,000 at 8.5 % is 85 a year, 23p a day; 50 days late 11.50 with the
    # day rounded first. Exact: 1000 x 0.085 x 50 / 365 = 11.6438.
    due = dt.date(2026, 1, 1)
    charge = late_charge(
        Money.of(1000), (), due=due, on=due + dt.timedelta(days=50), rules=RULES, base_rate_pct=D("0.5")
    )
    assert charge.interest.plain() == "11.64"
    assert charge.annual_rate_pct == D("8.5")


@pytest.mark.parametrize(
    ("debt", "pounds"),
    # Table of fixed sums, Pay on Time campaign (read November 2026); the Act, s. 5A(2).
    [("999.99", 40), ("1000.00", 70), ("9999.99", 70), ("10000.00", 100)],
)
def test_late_payment_compensation(debt: str, pounds: int) -> None:
    due = dt.date(2024, 1, 31)
    charge = late_charge(Money.of(D(debt)), (), due=due, on=due + dt.timedelta(days=1), rules=RULES)
    assert charge.compensation == Money.of(pounds)


@pytest.mark.parametrize(
    ("day", "pct"),
    # Reference-rate table, Pay on Time campaign (read November 2026).
    [
        ("2024-01-01", "5.25"),
        ("2023-07-01", "5.00"),
        ("2023-06-30", "3.50"),
        ("2022-12-31", "1.25"),
        ("2022-01-01", "0.25"),
        ("2021-07-01", "0.10"),
        ("2020-06-30", "0.75"),
        ("2018-01-01", "0.50"),
        ("2017-01-01", "0.25"),
    ],
)
def test_reference_rates(day: str, pct: str) -> None:
    assert reference_rate(RULES, dt.date.fromisoformat(day)) == D(pct)


@pytest.mark.parametrize(
    ("year", "vehicle", "miles", "amount"),
    [
        # gov.uk, "Simplified expenses: vehicles" (recalled): 45p for 10,000 miles, then 25p, motorcycles
        # 24p; its example of 11,000 miles comes to 4,750. From 6 April 2026 55p: 10,001 miles, 5,500.25.
        ("2025-26", "car or van", 11000, "4750.00"),
        ("2026-27", "car or van", 10001, "5500.25"),
        ("2026-27", "motorcycle", 1000, "240.00"),
    ],
)
def test_mileage(year: str, vehicle: str, miles: int, amount: str) -> None:
    assert mileage(RULES, tax_year=year, vehicle=vehicle, miles=D(miles)).plain() == amount


def test_quarterly_updates() -> None:
    # Table of the tax year 2026/27, a published list of quarterly deadlines (read November 2026): each
    # update is cumulative.
    found = quarters(RULES, tax_year="2026-27", election="standard")
    assert [(str(p.first), str(p.last), str(p.deadline)) for p in found] == [
        ("2026-04-06", "2026-07-05", "2026-08-07"),
        ("2026-04-06", "2026-10-05", "2026-11-07"),
        ("2026-04-06", "2027-01-05", "2027-02-07"),
        ("2026-04-06", "2027-04-05", "2027-05-07"),
    ]


def test_the_fourteen_day_rule() -> None:
    # Value Added Tax Act 1994 s. 6(5): an invoice within 14 days after the basic tax point.
    completed = dt.date(2026, 6, 1)
    for days, expected in ((14, dt.date(2026, 6, 15)), (15, completed)):
        invoiced = completed + dt.timedelta(days=days)
        assert tax_point(RULES, completed=completed, invoiced=invoiced) == expected
