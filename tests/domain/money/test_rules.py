from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest

from flueleaf.domain.money.rules import CisRates, Edition, begins, in_force, newest, percent


def _table(first: str, last: str | None, pct: int) -> CisRates:
    end = None if last is None else dt.date.fromisoformat(last)
    edition = Edition("an edition", "a source", dt.date.fromisoformat(first), end, "recalled")
    return CisRates(edition, (Decimal(pct),))


OLD, NEW = _table("2001-01-01", "2005-12-31", 10), _table("2006-01-01", None, 20)


@pytest.mark.parametrize(
    ("on", "expected"),
    [
        ("2001-01-01", OLD),
        ("2005-12-31", OLD),
        ("2006-01-01", NEW),
        ("2100-01-01", NEW),
        ("2000-12-31", None),
    ],
)
def test_the_edition_of_the_day_counts(on: str, expected: CisRates | None) -> None:
    assert in_force([OLD, NEW], dt.date.fromisoformat(on)) is expected


def test_overlapping_editions_are_an_error() -> None:
    with pytest.raises(LookupError, match="2 editions"):
        in_force([OLD, _table("2005-12-31", None, 30)], dt.date(2005, 12, 31))


def test_ends_of_the_tables() -> None:
    assert newest([NEW, OLD]) is NEW
    assert begins([NEW, OLD]) == dt.date(2001, 1, 1)


@pytest.mark.parametrize(
    ("value", "text"), [("20.00", "20"), ("0", "0"), ("0.00", "0"), ("12.50", "12.5"), ("100", "100")]
)
def test_a_percentage_shows_the_digits_it_needs(value: str, text: str) -> None:
    assert percent(Decimal(value)) == text
