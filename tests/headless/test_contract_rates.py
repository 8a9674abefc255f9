"""``interest``, ``tax-point``, ``mileage`` and ``quarters`` against their contract.

Every expected amount is worked out by hand beside its case.
"""

from __future__ import annotations

from typing import Any

import pytest

Document = dict[str, Any]


def debt(amount: str = "1000", to: str = "2026-02-20", **rate: Any) -> Document:
    return {"debt": amount, "from": "2026-01-01", "to": to, **(rate or {"annual_rate_pct": "8.5"})}


INTEREST: list[tuple[str, Document, tuple[str, str, str]]] = [
    ("the worked case of 50 days", debt(), ("11.64", "70.00", "8.5")),  # 11.6438, rounded once
    ("base + 8", debt(base_rate_pct="3.75"), ("16.10", "70.00", "11.75")),  # 16.0959
    ("none late", debt(to="2026-01-01"), ("0.00", "0.00", "8.5")),
    ("not yet due", debt(to="2025-12-31"), ("0.00", "0.00", "8.5")),
    ("one day", debt(to="2026-01-02"), ("0.23", "70.00", "8.5")),  # 0.2329
    ("a whole year", debt(to="2027-01-01"), ("85.00", "70.00", "8.5")),
    # 29 February is a day as any other; a year has 365: 2 days 0.5479
    (
        "a leap day",
        {"debt": 1000, "from": "2024-02-28", "to": "2024-03-01", "annual_rate_pct": 10},
        ("0.55", "70.00", "10"),
    ),
    ("999.99", debt("999.99"), ("11.64", "40.00", "8.5")),
    ("9999.99", debt("9999.99"), ("116.44", "70.00", "8.5")),
    ("10000", debt("10000"), ("116.44", "100.00", "8.5")),
    # the reference rate of 30 June 2023 was 5.00, of 31 December 2023 5.25
    (
        "late from July 2023",
        {"debt": 1000, "from": "2023-07-01", "to": "2023-07-31"},
        ("10.68", "70.00", "13"),
    ),
    (
        "late from January 2024",
        {"debt": 1000, "from": "2024-01-01", "to": "2024-01-31"},
        ("10.89", "70.00", "13.25"),
    ),
]


@pytest.mark.parametrize(("document", "wanted"), [pytest.param(*case[1:], id=case[0]) for case in INTEREST])
def test_interest(ask: Any, document: Document, wanted: tuple[str, str, str]) -> None:
    found = ask("interest", document).answer
    assert (found["interest"], found["compensation"], found["annual_rate_pct"]) == wanted


# Performed; an invoice within 14 days after wins; from day 15 the basic point stands; earlier makes its own.
@pytest.mark.parametrize(
    ("completed", "invoiced", "paid", "point"),
    [
        ("2026-05-01", "2026-05-15", None, "2026-05-15"),
        ("2026-05-01", "2026-05-16", None, "2026-05-01"),
        ("2026-05-01", "2026-04-20", None, "2026-04-20"),
        ("2026-05-01", "2026-05-10", "2026-04-05", "2026-04-05"),
        ("2026-05-01", "2026-05-10", "2026-06-30", "2026-05-10"),
        ("2026-05-01", None, "2026-06-30", "2026-05-01"),
        ("2026-05-01", None, None, "2026-05-01"),
    ],
)
def test_tax_point(ask: Any, completed: str, invoiced: str | None, paid: str | None, point: str) -> None:
    dates = {"completed": completed, "invoiced": invoiced, "paid": paid}
    assert ask("tax-point", {k: v for k, v in dates.items() if v}).answer["tax_point"] == point


@pytest.mark.parametrize(
    ("year", "vehicle", "miles", "amount"),
    [
        ("2026-27", "car or van", 10_000, "5500.00"),
        ("2026-27", "car or van", 10_001, "5500.25"),
        ("2026-27", "car or van", "10000.5", "5500.13"),  # 0.125 half up
        ("2026-27", "car or van", 0, "0.00"),
        ("2025-26", "car or van", 10_001, "4500.25"),
        ("2026-27", "motorcycle", 12_000, "2880.00"),
    ],
)
def test_mileage(ask: Any, year: str, vehicle: str, miles: object, amount: str) -> None:
    assert ask("mileage", {"tax_year": year, "vehicle": vehicle, "miles": miles}).answer == {"amount": amount}


@pytest.mark.parametrize(
    ("election", "ends"),
    [
        ("standard", ["2026-07-05", "2026-10-05", "2027-01-05", "2027-04-05"]),
        ("calendar", ["2026-06-30", "2026-09-30", "2026-12-31", "2027-03-31"]),
    ],
)
def test_quarters(ask: Any, election: str, ends: list[str]) -> None:
    found = ask("quarters", {"tax_year": "2026-27", "election": election}).answer
    assert [quarter["to"] for quarter in found] == ends
    assert [quarter["deadline"] for quarter in found] == [
        "2026-08-07",
        "2026-11-07",
        "2027-02-07",
        "2027-05-07",
    ]
    # Quarters are cumulative: each update goes back to the first day of the year.
    assert {quarter["from"] for quarter in found} == {
        "2026-04-06" if election == "standard" else "2026-04-01"
    }
