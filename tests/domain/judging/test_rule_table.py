from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest

from flueleaf.domain.judging.rule_table import Rule, RuleTable, editions_on, in_force

OLD = RuleTable("t", "T", "first", "s", dt.date(2000, 1, 1), "recalled", valid_to=dt.date(2019, 12, 31))
NEW = RuleTable("t", "T", "second", "s", dt.date(2020, 1, 1), "recalled")
RULE = Rule("co_ppm", "ppm", "at most", Decimal(350), ("flue",), ("max", "min"), "common practice")


@pytest.mark.parametrize(
    ("on", "edition"),
    [
        (dt.date(2000, 1, 1), "first"),
        (dt.date(2019, 12, 31), "first"),
        (dt.date(2020, 1, 1), "second"),
        (dt.date(2999, 1, 1), "second"),
        (None, "second"),
    ],
)
def test_the_day_of_the_work_chooses_the_edition(on: dt.date | None, edition: str) -> None:
    assert in_force((OLD, NEW), "t", on).edition == edition


def test_no_edition_or_two_are_refused() -> None:
    with pytest.raises(LookupError, match="t: 0 editions in force on 1999-12-31"):
        in_force((OLD, NEW), "t", dt.date(1999, 12, 31))
    with pytest.raises(LookupError, match="2 editions in force on no date"):
        in_force((NEW, replace(NEW, edition="third")), "t", None)
    with pytest.raises(LookupError, match="no rule table called u"):
        editions_on((OLD, NEW), "u", None)


@pytest.mark.parametrize(
    ("status", "limit", "judges"),
    [
        ("read", Decimal(1), True),
        ("common practice", Decimal(1), True),
        ("recalled", Decimal(1), False),
        ("empty", None, False),
        ("read", None, False),
    ],
)
def test_a_recalled_or_empty_slot_never_judges(status: str, limit: Decimal | None, judges: bool) -> None:
    assert replace(RULE, status=status, limit=limit).judges is judges


def test_a_rule_applies_to_its_kind_point_and_rate() -> None:
    table = replace(NEW, rules=(RULE, replace(RULE, kinds=("gas fire",)), replace(RULE, status="recalled")))
    assert len(table.applying(kind="gas fire", point="flue", rate="min")) == 2
    assert table.applying(kind="cooker", point="flue", rate="max") == (RULE,)
    assert table.applying(kind="cooker", point="flue", rate="mid") == ()
    assert table.applying(kind="cooker", point="room", rate="max") == ()
