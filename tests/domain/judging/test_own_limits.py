"""The owner's entry fills a slot from its first day on, and the tables keep one edition a day."""

from __future__ import annotations

import datetime as dt
import itertools
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.domain.judging.bench import BOILER, FIRE, RULES, air_inlet, case, flue, limits, of

from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.assessment import Judged
from flueleaf.domain.judging.own_limits import slot_key, with_own
from flueleaf.domain.judging.rule_table import Rule, RuleTable, in_force
from flueleaf.domain.records.owned import OwnLimit

AT = dt.datetime(2026, 11, 26, 20, 0, tzinfo=dt.UTC)
FIRST = dt.date(2026, 10, 1)
SLOT = "made_up.co"
EMPTY = Rule("co_ppm", "ppm", "at most", None, ("flue",), ("max", "min"), "empty", slot="co", title="CO")
OLD = RuleTable("made_up", "M", "one", "s", dt.date(2000, 1, 1), "empty", dt.date(2019, 12, 31), (EMPTY,))
NEW = replace(OLD, edition="two", valid_from=dt.date(2020, 1, 1), valid_to=None)


def entry(limit: str | None, on: dt.date = FIRST, slot: str = SLOT) -> OwnLimit:
    bare = limit is None
    texts = {} if bare else {"edition": "example edition", "source": "own copy", "clause": "6.1"}
    return OwnLimit(slot, None if limit is None else Decimal(limit), on, AT, **texts)


def limit_on(on: dt.date, *entries: OwnLimit, tables: tuple[RuleTable, ...] = (OLD, NEW)) -> str:
    rule = in_force(with_own(tables, entries), "made_up", on).rules[0]
    return f"{rule.limit} {rule.status}"


def test_an_entry_counts_from_its_first_day_on() -> None:
    own = entry("200.0")
    assert limit_on(dt.date(2026, 9, 30), own) == "None empty"
    assert limit_on(FIRST, own) == "200.0 owner"
    assert limit_on(dt.date(2999, 1, 1), own) == "200.0 owner"


def test_without_a_date_the_newest_part_counts() -> None:
    assert in_force(with_own((OLD, NEW), [entry("200")]), "made_up", None).rules[0].limit == 200


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        # entered later, valid later: both count, each in its time
        ([("200", FIRST), ("150", dt.date(2026, 11, 1))], ["200 owner", "150 owner"]),
        # entered later, valid earlier: it stands in the place of the first from its own first day on
        ([("200", dt.date(2026, 11, 1)), ("150", FIRST)], ["150 owner", "150 owner"]),
        ([("200", FIRST), ("150", FIRST)], ["150 owner", "150 owner"]),
        # taken back from a day on
        ([("200", FIRST), (None, dt.date(2026, 11, 1))], ["200 owner", "None empty"]),
        ([("200", FIRST), (None, FIRST), ("90", dt.date(2026, 11, 1))], ["None empty", "90 owner"]),
    ],
)
def test_a_later_entry_stands_in_the_place_of_an_earlier_one(
    entries: list[tuple[str | None, dt.date]], expected: list[str]
) -> None:
    own = [entry(limit, on) for limit, on in entries]
    assert [limit_on(on, *own) for on in (FIRST, dt.date(2026, 11, 1))] == expected


def test_an_entry_goes_on_into_an_edition_that_does_not_judge_by_itself() -> None:
    own = entry("200", dt.date(2010, 1, 1))
    assert limit_on(dt.date(2019, 12, 31), own) == "200 owner"
    assert limit_on(dt.date(2020, 1, 1), own) == "200 owner"
    judging = replace(NEW, rules=(replace(EMPTY, limit=Decimal(100), status="common practice"),))
    assert limit_on(dt.date(2020, 1, 1), own, tables=(OLD, judging)) == "100 common practice"
    assert limit_on(FIRST, own, entry("90"), tables=(OLD, judging)) == "90 owner"
    at_once = entry("90", dt.date(2020, 1, 1))
    assert limit_on(dt.date(2020, 1, 1), at_once, tables=(OLD, judging)) == "90 owner"


def test_what_was_read_in_its_source_is_not_corrected() -> None:
    read = replace(NEW, rules=(replace(EMPTY, limit=Decimal(100), status="read"),))
    assert limit_on(FIRST, entry("90"), tables=(OLD, read)) == "100 read"


def test_information_filled_by_the_owner_still_never_judges() -> None:
    shown = replace(NEW, rules=(replace(EMPTY, information=True),))
    table = in_force(with_own((OLD, shown), [entry("90")]), "made_up", FIRST)
    assert table.rules[0].status == "owner"
    assert table.applying(kind="any", point="flue", rate="max") == ()


DAYS = st.dates(dt.date(1995, 1, 1), dt.date(2030, 12, 31))
ENTRIES = st.lists(st.tuples(DAYS, st.sampled_from(["90", "200", None])), max_size=6)


@given(ENTRIES, DAYS)
def test_the_editions_keep_following_each_other_and_the_last_entry_counts(
    drawn: list[tuple[dt.date, str | None]], on: dt.date
) -> None:
    own = [entry(limit, day) for day, limit in drawn]
    parts = with_own((OLD, NEW), own)
    assert (parts[0].valid_from, parts[-1].valid_to) == (OLD.valid_from, None)
    for earlier, later in itertools.pairwise(parts):
        assert earlier.valid_to is not None
        assert later.valid_from - earlier.valid_to == dt.timedelta(days=1)
    counting = [limit for day, limit in drawn if day <= on]
    if on >= OLD.valid_from:
        found = in_force(parts, "made_up", on).rules[0].limit
        assert found == (Decimal(counting[-1]) if counting and counting[-1] else None)


def fire(one: Any, *entries: OwnLimit, **fields: Any) -> list[Judged]:
    return list(assess(case(one, kind=FIRE, **fields), with_own(RULES, entries)).slips[0].judged)


def fire_slot() -> str:
    return next(
        slot_key(table, rule)
        for table in RULES
        for rule in table.rules
        if rule.key == "ratio" and FIRE.name in rule.kinds
    )


def test_an_empty_slot_judges_once_the_owner_filled_it() -> None:
    own = entry("0.0200", slot=fire_slot())
    assert {one.verdict for one in fire(flue())} == {"unjudged"}
    (filled,) = fire(flue(), own)
    assert (filled.quantity, filled.verdict, filled.limit, filled.source) == (
        "ratio", "within", Decimal("0.0200"), "table",
    )  # fmt: skip
    assert (filled.status, filled.edition, filled.clause) == ("owner", "example edition", "6.1")
    assert filled.source_text == "entered by the engineer from own copy, valid from 1 October 2026"
    before = fire(flue(), own, date=dt.date(2026, 9, 30))
    assert {one.verdict for one in before} == {"unjudged"}


@pytest.mark.parametrize(
    ("ratio", "beyond"), [("0.0200", False), ("0.02000001", True), ("0.0201", True), ("0.0199", False)]
)
def test_at_the_owners_limit_is_not_over(ratio: str, beyond: bool) -> None:
    one = flue(ratio=ratio, o2_pct=None, co2_pct=None)
    (judged,) = fire(one, entry("0.0200", slot=fire_slot()))
    assert (judged.verdict == "over") is beyond


def test_a_correction_of_custom_names_what_it_stands_for() -> None:
    own = entry("300", slot="condensing_boiler.flue_co")
    found = assess(case(flue()), with_own(RULES, [own])).slips[0]
    judged = of(found, "co_ppm")
    assert (judged.limit, judged.status) == (300, "owner")
    assert judged.also is not None
    assert judged.also.limit == 350
    assert "common practice" in judged.also.source_text
    assert of(found, "ratio").also is None


def test_integrity_keeps_its_guard_band_of_the_display() -> None:
    own = entry("20.7", slot="flue_integrity.air_inlet_o2")
    found = assess(case(air_inlet(o2_pct="20.7"), kind=BOILER), with_own(RULES, [own])).slips[0]
    assert (of(found, "o2_pct").verdict, of(found, "o2_pct").status) == ("near", "owner")


def test_the_makers_limit_wins_over_the_owners_and_both_are_told() -> None:
    own = entry("0.0200", slot=fire_slot())
    judged = next(one for one in fire(flue(), own, limits=limits(ratio="0.0100")) if one.quantity == "ratio")
    assert (judged.source, judged.limit) == ("maker", Decimal("0.0100"))
    assert judged.also is not None
    assert (judged.also.limit, judged.also.source, judged.also.status) == (
        Decimal("0.0200"),
        "table",
        "owner",
    )
    assert (
        judged.also.source_text
        == "entered by the engineer from own copy, valid from 1 October 2026, example edition, 6.1"
    )
