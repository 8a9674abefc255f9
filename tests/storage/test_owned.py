"""What the owner enters is kept as entered, and never changed or removed."""

from __future__ import annotations

import datetime as dt
import sqlite3
from decimal import Decimal

import pytest

from flueleaf.domain.records.owned import OwnFuel, OwnLimit
from flueleaf.storage import owned, verify
from flueleaf.storage.book import Book

AT = dt.datetime(2026, 11, 26, 20, 15, tzinfo=dt.UTC)
ENTERED = OwnLimit(
    "action_levels.flue", Decimal("0.0080"), dt.date(2026, 10, 1), AT, "example edition", "own copy", "6.1"
)
WITHDRAWN = OwnLimit("action_levels.flue", None, dt.date(2026, 11, 1), AT)
FUEL = OwnFuel("test gas", {"name": "test gas", "mole_pct": {"methane": Decimal("80.0")}}, AT)


def test_entries_come_back_in_their_order_with_their_digits(book: Book) -> None:
    gone = OwnFuel("test gas", {}, AT, withdrawn=True)
    with book.writing() as tx:
        for limit in (ENTERED, WITHDRAWN):
            owned.add_limit(tx, limit)
        for fuel in (FUEL, gone):
            owned.add_fuel(tx, fuel)
    assert owned.limits(book.con) == (ENTERED, WITHDRAWN)
    assert str(owned.limits(book.con)[0].limit) == "0.0080"
    kept = owned.fuels(book.con)
    assert [one.withdrawn for one in kept] == [False, True]
    assert Decimal(kept[0].document["mole_pct"]["methane"]) == Decimal("80.0")
    assert verify.verify(book.con) == []


@pytest.mark.parametrize("table", ["own_limit", "own_fuel"])
@pytest.mark.parametrize("sql", ["UPDATE {} SET entered_at = 'x'", "DELETE FROM {}", "REPLACE {}"])
def test_an_entry_is_not_changed_removed_or_replaced(book: Book, table: str, sql: str) -> None:
    with book.writing() as tx:
        owned.add_limit(tx, ENTERED)
        owned.add_fuel(tx, FUEL)
    statement = sql.format(table)
    if sql.startswith("REPLACE"):
        statement = f"INSERT OR REPLACE INTO {table} SELECT * FROM {table}"
    with pytest.raises(sqlite3.IntegrityError, match="entered"), book.writing() as tx:
        tx.execute(statement)


@pytest.mark.parametrize("guard", ["own_limit_is_not_changed", "own_fuel_is_not_removed"])
def test_verify_misses_a_guard(book: Book, guard: str) -> None:
    with book.writing() as tx:
        tx.execute(f"DROP TRIGGER {guard}")
    assert [fault.code for fault in verify.verify(book.con)] == ["guard-missing"]


def test_a_limit_without_its_document_is_not_kept(book: Book) -> None:
    for bare in (
        OwnLimit("a.b", Decimal(1), dt.date(2026, 1, 1), AT, "", "own copy"),
        OwnLimit("a.b", Decimal(1), dt.date(2026, 1, 1), AT, "first", ""),
    ):
        with pytest.raises(sqlite3.IntegrityError), book.writing() as tx:
            owned.add_limit(tx, bare)
