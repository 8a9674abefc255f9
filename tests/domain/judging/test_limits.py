from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest
from tests.domain.judging.bench import (
    BOILER,
    DAY,
    FIRE,
    RULES,
    case,
    codes,
    flue,
    judge,
    judge_one,
    limits,
    of,
)

from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.limits import AppliedLimit, default_tolerances


def said(one_limits: object, rate: str = "max") -> dict[str, tuple[str, str]]:
    one = judge_one(flue(rate), limits=one_limits)  # type: ignore[arg-type]
    return {judged.quantity: (f"{judged.limit:f}", judged.source) for judged in one.judged}


def test_the_table_stands_where_the_maker_is_silent() -> None:
    assert said(None) == {"co_ppm": ("350", "table"), "ratio": ("0.0040", "table")}
    assert said(None, "min") == said(None)


def test_the_maker_wins_quantity_by_quantity() -> None:
    assert said(limits(ratio="0.003")) == {"co_ppm": ("350", "table"), "ratio": ("0.003", "maker")}
    assert said(limits(co_ppm="200")) == {"co_ppm": ("200", "maker"), "ratio": ("0.0040", "table")}
    assert said(limits(co_ppm="350", ratio="0.004")) == {
        "co_ppm": ("350", "maker"),
        "ratio": ("0.004", "maker"),
    }


def test_a_laxer_limit_counts_only_with_its_document() -> None:
    lax = limits(co_ppm="351", ratio="0.0041")
    assert said(lax) == said(None)
    found = judge(flue(co_ppm=340), limits=lax)
    assert [(doubt.code, doubt.quantity) for doubt in found.doubts] == [
        ("limit-unsourced", "co_ppm"),
        ("limit-unsourced", "ratio"),
    ]
    assert found.doubts[0].text.startswith("The maker's limit for CO is entered as 351 ppm")
    sourced = replace(lax, source="Installation manual 4711, p. 38")
    assert said(sourced) == {"co_ppm": ("351", "maker"), "ratio": ("0.0041", "maker")}
    assert codes(judge(flue(), limits=sourced)) == []
    assert of(judge_one(flue(), limits=sourced), "co_ppm").source_text == "Installation manual 4711, p. 38"
    assert said(replace(lax, source="  ")) == said(None)


def test_a_limit_that_does_not_count_is_told_where_it_differs() -> None:
    judged = of(judge_one(flue(), limits=limits(co_ppm="200")), "co_ppm")
    assert judged.also is not None
    assert (judged.limit, judged.also.limit, judged.also.source, judged.also.status) == (
        200, 350, "table", "common practice",
    )  # fmt: skip
    assert of(judge_one(flue(), limits=limits(co_ppm="350.0")), "co_ppm").also is None
    assert of(judge_one(flue()), "co_ppm").also is None
    unsourced = of(judge_one(flue(), limits=limits(co_ppm="400")), "co_ppm")
    assert unsourced.also is not None
    assert (unsourced.limit, unsourced.also.limit, unsourced.also.source) == (350, 400, "maker")


def test_a_laxer_limit_is_told_even_before_a_slip_is_there() -> None:
    assert codes(judge(limits=limits(co_ppm="400"))) == ["limit-unsourced"]
    assert codes(judge(limits=limits(co_ppm="300"))) == []


def test_where_no_table_speaks_the_makers_limit_needs_no_document() -> None:
    assert said(limits(co_ppm="900"), "mid") == {"co_ppm": ("900", "maker")}
    assert codes(judge(flue(), kind=FIRE, limits=limits(co_ppm="900"))) == []


def test_the_verdict_keeps_its_table_edition_and_status() -> None:
    judged = of(judge_one(flue()), "co_ppm")
    assert (judged.table, judged.status) == ("condensing_boiler", "common practice")
    assert judged.edition
    assert "common practice" in judged.source_text
    maker = of(judge_one(flue(), limits=limits(co_ppm="300")), "co_ppm")
    assert (maker.table, maker.edition, maker.source_text) == ("", "", "the maker’s instructions")


def test_work_older_than_the_tables_is_unjudged_with_the_current_tolerances() -> None:
    old = dt.date(1995, 1, 1)
    found = judge(flue(), date=old, instrument=None)
    assert found.verdict == "unjudged"
    assert "Default tolerances" in found.tolerance
    assert default_tolerances(case(date=old), RULES) == default_tolerances(case(date=DAY), RULES)


def test_without_a_date_the_current_editions_count() -> None:
    assert judge(flue(), date=None).verdict == "within"


def test_a_table_that_is_not_there_is_a_fault_of_the_shipped_data() -> None:
    with pytest.raises(LookupError, match="no rule table called nowhere"):
        assess(case(flue(), kind=replace(BOILER, tables=("nowhere",))), RULES)
    with pytest.raises(LookupError, match="instrument_tolerance"):
        assess(case(flue()), ())


def test_laxer_goes_by_the_sense() -> None:
    lower = AppliedLimit("o2_pct", Decimal(4), "at least", "maker")
    higher = AppliedLimit("o2_pct", Decimal(5), "at least", "table")
    assert lower.laxer_than(higher)
    assert not higher.laxer_than(lower)
    assert not replace(lower, sense="at most").laxer_than(replace(higher, sense="at most"))
    assert not lower.laxer_than(lower)


def test_two_editions_of_a_table_on_one_day_are_refused() -> None:
    with pytest.raises(LookupError, match="2 editions in force"):
        assess(case(flue()), (*RULES, *RULES))
