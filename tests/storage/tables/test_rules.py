from __future__ import annotations

import datetime as dt
import itertools
from decimal import Decimal
from pathlib import Path

import pytest

from flueleaf.domain.judging.rule_table import STATUSES
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import RATES, Point, Rate
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
slot = "room_co"
title = "CO in the room"
key = "co_ppm"
unit = "ppm"
sense = "at most"
limit = "9.50"
points = ["room"]
rates = ["max"]
status = "recalled"
clause = "4.2"
[[information]]
slot = "room_co_8_h"
title = "CO in the room"
unit = "mg/m³"
sense = "at most"
limit = "10"
over = "8 h"
status = "recalled"
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
    assert table.checked.startswith("recalled")


def test_every_slot_has_a_status_and_says_so_plainly() -> None:
    for table in load_rules():
        statuses = {rule.status for rule in table.rules}
        assert statuses <= set(STATUSES), table.table
        assert all(rule.slot and rule.title for rule in table.rules)
        if table.checked.startswith("read"):
            assert statuses == {"read"}, table.table


def test_a_slot_keeps_its_meaning_from_edition_to_edition() -> None:
    found: dict[tuple[str, str], set[tuple[str, str, str]]] = {}
    for table in load_rules():
        for rule in table.rules:
            found.setdefault((table.table, rule.slot), set()).add((rule.key, rule.unit, rule.sense))
    assert all(len(meanings) == 1 for meanings in found.values())


# Official: EH40/2005, fourth edition. Recalled: WHO 2010, 2021. Law: Regulation (EU) No 813/2013, annex II.
# Official pages quote EN 50291-1. All as in the fact sheet this program was written from.
FIGURES = {
    "room_co_workplace.over_8_h": ("at most", "20", "ppm", "8 h", "read"),
    "room_co_workplace.over_15_min": ("at most", "100", "ppm", "15 min", "read"),
    "room_co_guideline.over_15_min": ("at most", "100", "mg/m³", "15 min", "recalled"),
    "room_co_guideline.over_1_h": ("at most", "35", "mg/m³", "1 h", "recalled"),
    "room_co_guideline.over_8_h": ("at most", "10", "mg/m³", "8 h", "recalled"),
    "room_co_guideline.over_24_h": ("at most", "7", "mg/m³", "24 h", "recalled"),
    "air_co_guideline.over_24_h": ("at most", "4", "mg/m³", "24 h", "recalled"),
    "co_alarm.at_30_ppm_from": ("at least", "120", "min", "", "read"),
    "co_alarm.at_50_ppm_from": ("at least", "60", "min", "", "read"),
    "co_alarm.at_50_ppm_to": ("at most", "90", "min", "", "read"),
    "co_alarm.at_100_ppm_from": ("at least", "10", "min", "", "read"),
    "co_alarm.at_100_ppm_to": ("at most", "40", "min", "", "read"),
    "co_alarm.at_300_ppm_to": ("at most", "3", "min", "", "read"),
    "nox_ecodesign.gas": ("at most", "56", "mg/kWh", "", "read"),
    "nox_ecodesign.oil": ("at most", "120", "mg/kWh", "", "read"),
}


def test_the_figures_that_are_only_shown() -> None:
    found = {
        f"{table.table}.{rule.slot}": (rule.sense, str(rule.limit), rule.unit, rule.over, rule.status)
        for table in load_rules()
        for rule in table.rules
        if rule.information and table.table != "tightness"
    }
    assert found == FIGURES


def test_the_tightness_procedure_has_an_empty_drop_table() -> None:
    (table,) = [table for table in load_rules() if table.table == "tightness"]
    assert table.valid_from == dt.date(2026, 10, 1)  # official: the only edition since then
    rows = [rule for rule in table.rules if "_drop_" in rule.slot or "_volume_" in rule.slot]
    assert {rule.slot.partition("_")[0] for rule in rows} == {"natural", "lpg"}
    assert {(rule.status, rule.limit) for rule in rows} == {("empty", None)}
    assert {rule.status for rule in table.rules if rule not in rows} == {"recalled"}
    assert all(rule.information for rule in table.rules)


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("point", ["room", "outdoors"])
def test_nothing_shipped_judges_a_room(point: Point, rate: Rate) -> None:
    kinds = load_kinds()
    assert not [
        rule
        for table in load_rules()
        for kind in kinds
        for rule in table.applying(kind=kind, point=point, rate=rate)
    ]


def test_every_table_and_kind_named_exists() -> None:
    tables = {table.table for table in load_rules()}
    kinds = load_kinds()
    assert {name for kind in kinds.values() for name in kind.tables} <= tables
    assert {name for table in load_rules() for rule in table.rules for name in rule.kinds} <= set(kinds)


def test_every_point_that_can_be_over_has_a_slot_for_its_limit() -> None:
    rules = {table.table: table.rules for table in load_rules()}
    for kind in load_kinds().values():
        held = {
            point
            for name in kind.tables
            for rule in rules[name]
            if not rule.kinds or kind.name in rule.kinds
            for point in rule.points
        }
        burning = {"flue", "hob", "grill", "oven"} & set(kind.points)
        if kind.flues == ("none",) or "none" in kind.flues:
            burning |= {"room"} & set(kind.points)
        if kind.name == "decorative gas fire":  # its flue takes what a room takes: the room is what is judged
            burning = {"room"}
        assert burning <= held, kind.name


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
    assert (rule.slot, rule.title, rule.information) == ("room_co", "CO in the room", False)
    shown = table.rules[1]  # type: ignore[attr-defined]
    assert (str(shown.limit), shown.over, shown.unit, shown.judges) == ("10", "8 h", "mg/m³", False)
    assert table.tolerances["co_ppm"].abs == 0  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('clause = "4.2"', 'claus = "4.2"', "unknown keys claus"),
        ('checked = "recalled"', 'checked = "recalled"\ncolour = "red"', "unknown keys colour"),
        ('checked = "recalled"', 'checked = "hearsay: nobody"', "begins with none of read, common practice"),
        ('slot = "room_co"\n', "", "slot: missing"),
        ('title = "CO in the room"\n', "", "title: missing"),
        ('slot = "room_co_8_h"', 'slot = "room_co"', "slot 'room_co' is given twice"),
        ('over = "8 h"', 'after = "8 h"', "unknown keys after"),
        ('limit = "10"\n', "", "exclude each other"),
        ('unit = "mg/m³"\n', "", "unit: missing"),
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
