"""Drift of an appliance in the book, and of a slip being typed after it."""

from __future__ import annotations

import copy
import datetime as dt
from decimal import Decimal
from typing import Any

import pytest
from tests.operations.years import CO, TODAY, sign, visit_of

from flueleaf.operations import drafting, pages
from flueleaf.operations.drafting import Judgement, Past
from flueleaf.operations.drifts import drifts_with, told
from flueleaf.operations.explaining import explain_appliance, explain_work
from flueleaf.operations.page_records import DriftRow
from flueleaf.storage.book import Book


def row(rows: tuple[DriftRow, ...], quantity: str = "co_ppm", rate: str = "max") -> DriftRow:
    return next(one for one in rows if (one.quantity, one.rate) == (quantity, rate))


@pytest.fixture
def five(book: Book, document: dict[str, Any]) -> Book:
    for n, co_ppm in enumerate(CO):
        sign(book, document, 2021 + n, co_ppm)
    return book


def typed(book: Book, document: dict[str, Any]) -> tuple[Judgement, Past]:
    past = drafting.look_back(book, document)
    return drafting.judge(document, past, today=TODAY), past


def now(judgement: Judgement, past: Past) -> tuple[DriftRow, ...]:
    work = judgement.visit.works[0]
    return drifts_with(past.taken[0], judgement.visit, work, judgement.assessments[0])


def test_the_page_has_a_drift_for_ratio_and_co_at_each_rate(five: Book) -> None:
    drifts = pages.appliance_page(five, 1).drifts
    assert [(one.quantity, one.rate) for one in drifts] == [
        ("ratio", "max"), ("co_ppm", "max"), ("ratio", "min"), ("co_ppm", "min"),
    ]  # fmt: skip
    co = row(drifts)
    assert [str(one.value) for one in co.readings] == list(CO)
    assert (co.limit, co.drift.significant, co.adjusted_on) == (Decimal(350), True, None)
    assert co.reached.on is not None
    assert "drift: +9.9 ppm a year (" in told(co)
    # the same reading five times: no drift, and nothing is said of steadiness
    assert told(row(drifts, rate="min")) == "no drift can be claimed from 5 readings"
    # 9.3 % CO2 on every slip: the ratio moves as the CO does
    assert co.drift.slope_per_year is not None
    assert row(drifts, "ratio").drift.slope_per_year == pytest.approx(co.drift.slope_per_year / 93_000)


def test_an_adjustment_begins_anew(five: Book, document: dict[str, Any]) -> None:
    sign(five, document, 2026, "66", adjusted=True)
    co = row(pages.appliance_page(five, 1).drifts)
    assert [str(one.value) for one in co.readings] == ["66"]
    assert co.adjusted_on == dt.date(2026, 11, 20)


def test_another_fuel_begins_anew_though_the_appliance_stays(five: Book, document: dict[str, Any]) -> None:
    converted = copy.deepcopy(document)
    plate = converted["works"][0]["appliance"]
    plate["fuel"] = "propane"
    del plate["limits"]["co2_pct"]
    converted["works"][0]["supply"] = {}
    for slip in converted["works"][0]["slips"]:
        if slip["point"] == "flue":
            slip.update({"o2_pct": "4.9", "co2_pct": "10.5"})
            slip.pop("ratio", None)
    sign(five, converted, 2026, "66")
    page = pages.appliance_page(five, 1)
    assert page.appliance.fuel == "propane"
    assert [str(one.value) for one in row(page.drifts).readings] == ["66"]
    assert [one.fuel for one in page.history if one.point == "flue"][-3:] == [
        "natural gas", "propane", "propane",
    ]  # fmt: skip


def test_an_appliance_without_readings_has_no_drift(book: Book, document: dict[str, Any]) -> None:
    visit = visit_of(document, 2025, "60")
    work = visit["works"][0]
    work |= {"slips": [], "close_up": {}, "outcome": "not accessed", "checks": []}
    work["not_measured"] = [{"point": "flue", "rate": "max", "reason": "Nobody in"}]
    at = dt.datetime(2025, 11, 20, 20, 15, tzinfo=dt.UTC)
    drafting.sign_off(book, visit, issued_at=at, today=TODAY)
    assert pages.appliance_page(book, 1).drifts == ()


def test_the_reading_typed_now_may_make_a_drift(book: Book, document: dict[str, Any]) -> None:
    for n, co_ppm in enumerate(CO[:4]):
        sign(book, document, 2022 + n, co_ppm)
    assert not row(pages.appliance_page(book, 1).drifts).drift.significant
    judgement, past = typed(book, visit_of(document, 2026, "99"))
    co = row(now(judgement, past))
    assert (co.drift.n, co.drift.significant, co.limit) == (5, True, Decimal(350))
    assert co.drift.last == dt.date(2026, 11, 20)
    judgement, past = typed(book, visit_of(document, 2026, "75"))
    assert not row(now(judgement, past)).drift.significant


def test_adjusted_today_nothing_before_today_counts(five: Book, document: dict[str, Any]) -> None:
    judgement, past = typed(five, visit_of(document, 2026, "110", adjusted=True))
    assert row(now(judgement, past)).drift.n == 1


def test_a_slip_without_co_has_no_drift_of_its_own(five: Book, document: dict[str, Any]) -> None:
    visit = visit_of(document, 2026, "110")
    visit["works"][0]["slips"] = []
    judgement, past = typed(five, visit)
    assert now(judgement, past) == ()


def test_an_appliance_the_book_does_not_know_has_no_earlier_slips(
    book: Book, document: dict[str, Any]
) -> None:
    judgement, past = typed(book, visit_of(document, 2026, "99"))
    assert past.taken == ((),)
    assert row(now(judgement, past)).drift.n == 1


def test_a_drift_explains_itself_on_the_page_and_while_typing(five: Book, document: dict[str, Any]) -> None:
    page = pages.appliance_page(five, 1)
    told_of = {one.key: one for one in explain_appliance(five, page)}
    sheet = told_of["drift.max.co_ppm"]
    assert sheet.title == "drift of CO, high rate"
    assert sheet.result == told(row(page.drifts))
    assert [given.value for given in sheet.inputs][:5] == [f"{co} ppm" for co in CO]
    assert "tau = 1" in sheet.steps
    assert any(step.startswith("p = 0.01666666667…, counted") for step in sheet.steps)
    assert "p < 0.05: claimed" in sheet.steps
    assert any(step.startswith("reached: ") for step in sheet.steps)
    assert "Theil 1950" in sheet.source
    assert "does not say that there is none" in sheet.caution
    flat = told_of["drift.min.co_ppm"]
    assert "no two readings differ in both day and value: nothing can be tested" in flat.steps

    judgement, past = typed(five, visit_of(document, 2026, "112"))
    typed_of = {one.key: one for one in explain_work(judgement, past, 0)}
    assert "readings: 6" in typed_of["drift.max.co_ppm"].steps
