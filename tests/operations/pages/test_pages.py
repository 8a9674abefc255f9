"""What the leaves show is what the book holds."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest

from flueleaf.operations import drafting, issued, pages
from flueleaf.operations.pages import AppliancePage, ChartLimits, DoneToday
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
ISSUED = dt.datetime(2026, 11, 20, 20, 15, tzinfo=dt.UTC)


@pytest.fixture
def page(book: Book, document: dict[str, Any]) -> AppliancePage:
    drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    return pages.appliance_page(book, 1)


def test_the_appliance_page_holds_its_readings_with_frozen_verdicts(page: AppliancePage) -> None:
    assert [(row.point, row.rate) for row in page.last] == [
        ("air inlet", "max"),
        ("flue", "max"),
        ("flue", "min"),
    ]
    flue = page.last[1]
    assert flue.values["co_ppm"] == Decimal(64)
    assert flue.verdict == "within"
    assert {row.quantity for row in flue.judged} == {"co_ppm", "ratio", "co2_pct"}
    assert all(row.verdict == "within" and row.value_text for row in flue.judged)
    # 64 ppm with a tolerance of 10 ppm or 5 %: the larger one counts.
    assert flue.co_tolerance_ppm == pytest.approx(10.0)
    assert flue.ratio_tolerance is not None


def test_the_appliance_page_draws_the_limits_that_hold_and_the_fuel_line(page: AppliancePage) -> None:
    assert (page.limits.co_ppm, page.limits.co_source) == (Decimal(350), "maker")
    assert (page.limits.ratio, page.limits.ratio_source) == (Decimal("0.0040"), "maker")
    assert page.fuel_line[0][0] == 0.0
    # CO2 max of the UK mix, 12.04 %: facts computed by two routes; see tests/outside.
    assert page.fuel_line[0][1] == pytest.approx(12.04, abs=0.01)
    assert page.fuel_line[-1] == (20.95, 0.0)
    assert page.o2_tolerance_pct == pytest.approx(0.2)


def test_each_point_that_was_measured_has_the_limits_that_hold_there(page: AppliancePage) -> None:
    assert page.limits_at["flue"] == page.limits
    assert page.limits_at["air inlet"] == ChartLimits()
    assert set(page.limits_at) == {"flue", "air inlet"}


def test_visits_papers_and_dates_of_appliance_and_premises_agree(book: Book, page: AppliancePage) -> None:
    place = pages.premises_page(book, 1)
    assert page.premises.id == place.premises.id
    assert [visit.papers for visit in page.visits] == [("I-2026-0001", "R-2026-0001")]
    assert [visit.papers for visit in place.visits] == [("I-2026-0001", "R-2026-0001")]
    assert {paper.number for paper in place.papers} == {"I-2026-0001", "R-2026-0001"}
    assert {paper.total for paper in place.papers} == {"", "£1,632.58"}
    assert [row.date for row in place.due] == [row.date for row in page.due] == [dt.date(2027, 11, 20)]
    (row,) = place.appliances
    assert (row.last_verdict, row.last_visit, row.next_due) == (
        "within",
        dt.date(2026, 11, 20),
        dt.date(2027, 11, 20),
    )


def test_tonight_lists_what_waits(book: Book, page: AppliancePage) -> None:
    assert page.visits
    drafting.keep(book, drafting.begin(book, today=TODAY, premises_id=1))
    drafting.keep(book, {"visit_id": "x", "date": "soon", "premises": "nonsense"})
    tonight = pages.tonight(book, TODAY)
    assert {row.title for row in tonight.drafts} == {
        "95 Ropewalk Parade, Quarrowby",
        "a visit without an address yet",
    }
    assert [row.number for row in tonight.unsent] == ["I-2026-0001", "R-2026-0001"]
    assert tonight.unsent_count == 2
    assert [row.owing for row in tonight.owing] == ["£1,632.58"]
    assert pages.premises_page(book, 1).drafts[0].date == TODAY


def test_tonight_counts_what_was_done_on_the_day(book: Book, page: AppliancePage) -> None:
    assert page.visits
    sealed_on = ISSUED.date()
    assert pages.tonight(book, sealed_on).done == DoneToday(1, 2, "£1,632.58")
    assert pages.tonight(book, TODAY).done == DoneToday()


def test_a_book_is_new_until_something_is_in_it(book: Book) -> None:
    assert pages.tonight(book, TODAY).is_new
    drafting.keep(book, {"visit_id": "x"})
    assert not pages.tonight(book, TODAY).is_new


def test_what_waited_longest_is_counted_first(book: Book, page: AppliancePage) -> None:
    (due,) = page.due
    late = due.date + dt.timedelta(days=93)
    assert [pages.tonight(book, late - dt.timedelta(days=n)).long_overdue for n in (0, 1)] == [1, 0]
    assert pages.tonight(book, due.date - dt.timedelta(days=43)).due == ()


def test_pages_of_nothing_say_so(book: Book) -> None:
    with pytest.raises(LookupError):
        pages.appliance_page(book, 99)
    with pytest.raises(LookupError):
        pages.premises_page(book, 99)


def test_tonight_says_what_a_draft_still_lacks(book: Book, document: dict[str, Any]) -> None:
    drafting.keep(book, document)
    assert pages.tonight(book, TODAY).drafts[0].missing == ()
    del document["works"][0]["close_up"]["flue"]
    del document["works"][0]["slips"][2]
    del document["works"][0]["outcome"]
    del document["sign_off"]
    document["works"][0]["slips"][1]["o2_pct"] = "4,8"
    drafting.keep(book, document)
    assert pages.tonight(book, TODAY).drafts[0].missing == (
        "O2: “4,8” cannot be used",
        "the outcome",
        "flue test point not confirmed refitted",
        "slip of the flue, low rate",
        "who signed",
    )


def test_a_visits_papers_come_with_the_total_of_a_bill(book: Book, page: AppliancePage) -> None:
    ref = drafting.stored_visit(book, page.visits[0].visit_id).ref
    rows = issued.papers_of_visit(book, ref)
    assert [(row.number, row.total) for row in rows] == [("R-2026-0001", ""), ("I-2026-0001", "£1,632.58")]
