from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from flueleaf.storage.tables.entries import Entries


def _entries(**values: Any) -> Entries:
    return Entries(values, "a.toml")


def test_takes_each_key_by_its_type() -> None:
    entries = _entries(
        t="text", n=3, f=True, d=dt.date(2026, 1, 2), p="0.50", ps=["20", "5"],
        md="02-29", mds=["04-05"], rows=[{}],
    )  # fmt: skip
    assert entries.text("t") == "text"
    assert entries.whole("n") == 3
    assert entries.whole("absent", 7) == 7
    assert entries.flag("f") is True
    assert entries.flag("absent") is False
    assert entries.date("d") == dt.date(2026, 1, 2)
    assert str(entries.decimal("p")) == "0.50"
    assert entries.decimals("ps") == (Decimal(20), Decimal(5))
    assert entries.month_day("md") == (2, 29)
    assert entries.month_days("mds") == ((4, 5),)
    assert entries.has("rows")
    (row,) = entries.rows("rows")
    assert not entries.has("rows")
    row.done()
    entries.done()


@pytest.mark.parametrize(
    ("value", "take"),
    [
        (" ", Entries.text),
        (3, Entries.text),
        (True, Entries.whole),
        ("3", Entries.whole),
        (1, Entries.flag),
        (dt.datetime(2026, 1, 1), Entries.date),
        ("2026-01-01", Entries.date),
        (0.5, Entries.decimal),
        ("NaN", Entries.decimal),
        ("1,5", Entries.decimal),
        ([0.5], Entries.decimals),
        ("02-30", Entries.month_day),
        ([205], Entries.month_days),
        ({}, Entries.rows),
    ],
)
def test_another_type_is_refused_naming_file_and_key(value: Any, take: Callable[[Entries, str], Any]) -> None:
    with pytest.raises(ValueError, match=r"a\.toml: key: "):
        take(_entries(key=value), "key")


def test_missing_and_unknown_keys_are_refused() -> None:
    with pytest.raises(ValueError, match=r"a\.toml: key: missing"):
        _entries().text("key")
    with pytest.raises(ValueError, match=r"a\.toml: unknown keys left, over"):
        _entries(over=1, left=2).done()


def test_a_file_must_hold_the_table_wanted(tmp_path: Path) -> None:
    path = tmp_path / "x__2026.toml"
    path.write_text('table = "x"\nedition = "e"\nsource = "s"\nvalid_from = 2026-01-01\nchecked = "read"\n')
    edition = Entries.of_file(path, "x").edition()
    assert (edition.valid_from, edition.valid_to) == (dt.date(2026, 1, 1), None)
    with pytest.raises(ValueError, match="'x' stands where 'y' belongs"):
        Entries.of_file(path, "y")
    path.write_text("table = \n")
    with pytest.raises(ValueError, match=r"x__2026\.toml"):
        Entries.of_file(path, "x")


def test_a_closed_edition_has_an_end() -> None:
    first, last = dt.date(2026, 1, 1), dt.date(2026, 12, 31)
    entries = _entries(edition="e", source="s", valid_from=first, valid_to=last, checked="read")
    assert entries.edition().valid_to == last
