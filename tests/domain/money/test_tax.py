from __future__ import annotations

import datetime as dt
import itertools
from decimal import Decimal

import pytest

from flueleaf.domain.money.tax import mileage, quarters, tax_point, tax_year_start
from flueleaf.domain.problems import Refused
from flueleaf.storage.tables.money import money_rules

RULES = money_rules()


def _day(text: str | None) -> dt.date | None:
    return None if text is None else dt.date.fromisoformat(text)


@pytest.mark.parametrize(
    ("completed", "invoiced", "paid", "expected"),
    [
        ("2026-05-01", None, None, "2026-05-01"),
        ("2026-05-01", "2026-05-15", None, "2026-05-15"),  # day 14
        ("2026-05-01", "2026-05-16", None, "2026-05-01"),  # day 15
        ("2026-05-01", "2026-05-10", "2026-05-05", "2026-05-10"),  # paid after completion changes nothing
        ("2026-05-01", None, "2026-05-05", "2026-05-01"),
        ("2026-05-01", "2026-05-10", "2026-05-01", "2026-05-10"),  # paid on the day is not before it
        ("2026-05-01", "2026-05-10", "2026-04-30", "2026-04-30"),
        ("2026-05-01", "2026-04-20", "2026-04-25", "2026-04-20"),
        ("2026-05-01", "2026-05-01", None, "2026-05-01"),
        (None, "2026-04-20", "2026-04-25", "2026-04-20"),
        (None, None, "2026-04-25", "2026-04-25"),
    ],
)
def test_tax_point(completed: str | None, invoiced: str | None, paid: str | None, expected: str) -> None:
    found = tax_point(RULES, completed=_day(completed), invoiced=_day(invoiced), paid=_day(paid))
    assert found == _day(expected)


def test_a_tax_point_needs_a_date_within_the_table() -> None:
    with pytest.raises(Refused, match="at least one of"):
        tax_point(RULES)
    with pytest.raises(Refused, match="2011-01-04"):
        tax_point(RULES, completed=dt.date(2011, 1, 3))


def _miles(miles: str, vehicle: str = "car or van", year: str = "2026-27") -> str:
    return mileage(RULES, tax_year=year, vehicle=vehicle, miles=Decimal(miles)).plain()


def test_mileage_changes_rate_after_the_first_miles() -> None:
    assert _miles("0") == "0.00"
    assert _miles("10000") == "5500.00"
    assert _miles("10000.5") == "5500.13"
    assert _miles("12000", year="2025-26") == "5000.00"
    assert _miles("12000", "motorcycle") == "2880.00"


@pytest.mark.parametrize(
    ("miles", "vehicle", "year", "places"),
    [
        ("-1", "car or van", "2026-27", ["miles"]),
        ("1000001", "car or van", "2026-27", ["miles"]),
        ("NaN", "bicycle", "2026-27", ["miles", "vehicle"]),
        ("1", "car or van", "2026-28", ["tax_year"]),
        ("1", "car or van", "2010-11", ["tax_year"]),
        ("-1", "car or van", "2026", ["miles", "tax_year"]),
    ],
)
def test_mileage_refuses(miles: str, vehicle: str, year: str, places: list[str]) -> None:
    with pytest.raises(Refused) as refused:
        _miles(miles, vehicle, year)
    assert [fault.where for fault in refused.value.faults] == places


@pytest.mark.parametrize(
    ("text", "year"),
    [("2026-27", 2026), ("2099-00", 2099), ("2026-2027", None), ("26-27", None), ("2026-27\n", None),
     ("9999-00", None), ("1989-90", None), ("2200-01", None), ("٢٠٢٦-٢٧", None)],
)  # fmt: skip
def test_tax_years(text: str, year: int | None) -> None:
    assert tax_year_start(text) == (None if year is None else dt.date(year, 4, 6))


@pytest.mark.parametrize("election", ["standard", "calendar"])
@pytest.mark.parametrize("year", [2026, 2027, 2099])
def test_quarters_tile_the_year_and_each_covers_it_from_its_start(election: str, year: int) -> None:
    periods = quarters(RULES, tax_year=f"{year}-{(year + 1) % 100:02d}", election=election)
    assert len(periods) == 4
    assert {period.first for period in periods} == {periods[0].quarter_first}
    for before, after in itertools.pairwise(periods):
        assert after.quarter_first == before.last + dt.timedelta(days=1)
    year_on = periods[0].first.replace(year=year + 1)
    assert periods[-1].last + dt.timedelta(days=1) == year_on
    assert all(28 <= (period.deadline - period.last).days <= 38 for period in periods)


@pytest.mark.parametrize(
    ("year", "election", "place"),
    [("2025-26", "standard", "tax_year"), ("soon", "standard", "tax_year"), ("2026-27", "lunar", "election")],
)
def test_quarters_refuse(year: str, election: str, place: str) -> None:
    with pytest.raises(Refused, match=f"{place}:"):
        quarters(RULES, tax_year=year, election=election)
