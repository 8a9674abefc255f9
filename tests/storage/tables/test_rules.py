from __future__ import annotations

import itertools
from decimal import Decimal
from pathlib import Path

import pytest

from flueleaf.domain.quantities import QUANTITIES
from flueleaf.storage.tables.kinds import load_kinds
from flueleaf.storage.tables.rules import load_rules, read_rules

GOOD = """
table = "room"
title = "Room"
edition = "first"
source = "nowhere"
valid_from = 2020-01-01
checked = "recalled"
[[limit]]
key = "co_ppm"
unit = "ppm"
sense = "at most"
limit = "9.50"
points = ["room"]
rates = ["max"]
status = "recalled"
clause = "4.2"
[[tolerance]]
key = "co_ppm"
rel = "0.05"
"""


def read(tmp_path: Path, text: str, name: str = "room__2020.toml") -> object:
    (tmp_path / name).write_text(text, encoding="utf-8")
    return read_rules(tmp_path)[0]


def test_the_shipped_limits_are_those_of_common_practice() -> None:
    # Common practice of the trade, as the tables say themselves.
    judging = [
        (table.table, rule.key, rule.sense, str(rule.limit), rule.points, rule.rates)
        for table in load_rules()
        for rule in table.rules
        if rule.judges
    ]
    assert judging == [
        ("condensing_boiler", "co_ppm", "at most", "350", ("flue",), ("max", "min")),
        ("condensing_boiler", "ratio", "at most", "0.0040", ("flue",), ("max", "min")),
        ("flue_integrity", "o2_pct", "at least", "20.6", ("air inlet",), ("max",)),
        ("flue_integrity", "co2_pct", "at most", "0.2", ("air inlet",), ("max",)),
    ]


def test_the_shipped_tolerances_cover_every_measured_quantity() -> None:
    table = next(table for table in load_rules() if table.table == "instrument_tolerance")
    assert set(table.tolerances) == set(QUANTITIES) - {"ratio"}
    # Recalled class of EN 50379.
    assert table.tolerances["co_ppm"].abs == 20
    assert table.tolerances["co_ppm"].rel == Decimal("0.05")
    assert table.checked == "recalled"


def test_every_table_and_kind_named_exists() -> None:
    tables = {table.table for table in load_rules()}
    kinds = load_kinds()
    assert {name for kind in kinds.values() for name in kind.tables} <= tables
    assert {name for table in load_rules() for rule in table.rules for name in rule.kinds} <= set(kinds)


def test_editions_of_a_table_follow_each_other_without_gap_or_overlap() -> None:
    editions = sorted(load_rules(), key=lambda table: (table.table, table.valid_from))
    for table in {edition.table for edition in editions}:
        known = [edition for edition in editions if edition.table == table]
        assert known[-1].valid_to is None
        for earlier, later in itertools.pairwise(known):
            assert earlier.valid_to is not None
            assert (later.valid_from - earlier.valid_to).days == 1


def test_a_table_is_read_with_its_digits(tmp_path: Path) -> None:
    table = read(tmp_path, GOOD)
    rule = table.rules[0]  # type: ignore[attr-defined]
    assert (str(rule.limit), rule.clause, rule.kinds, rule.half_width) == ("9.50", "4.2", (), None)
    assert table.tolerances["co_ppm"].abs == 0  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('clause = "4.2"', 'claus = "4.2"', "unknown keys claus"),
        ('checked = "recalled"', 'checked = "recalled"\ncolour = "red"', "unknown keys colour"),
        ('key = "co_ppm"\nrel', 'key = "co_ppm"\nwidth = "1"\nrel', "unknown keys width"),
        ('table = "room"', 'table = "hall"', "table 'hall' stands where 'room' belongs"),
        ('unit = "ppm"', 'unit = "%"', "unit '%' is not that of the quantity"),
        ('unit = "ppm"\n', "", "unit '' is not that of the quantity"),
        ('limit = "9.50"\n', "", "exclude each other"),
        ('status = "recalled"', 'status = "empty"', "exclude each other"),
        ('status = "recalled"', 'status = "sure"', "accepted: read, common practice, recalled, empty"),
        ('limit = "9.50"', 'limit = "NaN"', "is no number"),
        ('points = ["room"]', 'points = ["attic"]', "'attic'; accepted: air inlet"),
        ('points = ["room"]', "points = []", "points: missing"),
        ('rates = ["max"]', "rates = [1]", "1 is no text"),
        ('rates = ["max"]', "", "rates: missing"),
        ('title = "Room"', "title =", "room__2020.toml"),
    ],
)
def test_a_wrong_table_is_refused_by_name(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in GOOD
    with pytest.raises(ValueError, match=r"room__2020\.toml") as refusal:
        read(tmp_path, GOOD.replace(old, new, 1))
    assert said in str(refusal.value)
