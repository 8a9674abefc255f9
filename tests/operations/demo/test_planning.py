from __future__ import annotations

import datetime as dt
from collections import Counter
from itertools import pairwise

from flueleaf.operations.demo.planning import Span


def test_a_span_holds_its_first_day_and_not_today(today) -> None:
    span = Span.of(1, today, dt.date.min)
    assert span.holds(today - dt.timedelta(days=365))
    assert not span.holds(today - dt.timedelta(days=366))
    assert not span.holds(today)


def test_no_story_goes_back_behind_the_price_list(today, scenario) -> None:
    assert Span.of(20, today, scenario.prices_from).first == dt.date(2011, 1, 4)
    assert Span.of(0, today, scenario.prices_from).first == today


def test_nobody_works_at_the_weekend_or_over_christmas(today, whole_story) -> None:
    span = Span.of(6, today, dt.date.min)
    assert span.before_today(3) == dt.date(2026, 11, 20)  # the 22nd is a Sunday
    assert span.before_today(335) == dt.date(2025, 12, 23)  # the 25th
    assert all(visit.date.weekday() < 5 for visit, _ in whole_story)


def test_every_place_is_visited_about_once_a_year(whole_story) -> None:
    dates: dict[tuple[str, ...], list[dt.date]] = {}
    for visit, _ in whole_story:
        extra = visit.purpose == "service" and visit.place.payer.kind in ("landlord", "agent")
        if (
            visit.purpose in ("service", "landlord check")
            and not extra
            and visit.works[0].course != "no access"
        ):
            dates.setdefault(visit.place.address, []).append(visit.date)
    assert 57 <= len(dates) <= 60  # a newly fitted appliance's first service is still to come
    gaps = [(later - earlier).days for found in dates.values() for earlier, later in pairwise(found)]
    assert all(330 <= gap <= 400 for gap in gaps)


def test_let_premises_have_landlords_checks_and_others_services(whole_story) -> None:
    checked = {(v.date, v.place.address) for v, _ in whole_story if v.purpose == "landlord check"}
    fitted = {v.works[0].fitted.serial for v, _ in whole_story if v.purpose == "commissioning"}
    for visit, _ in whole_story:
        if visit.purpose == "landlord check":
            assert visit.place.payer.kind in ("landlord", "agent")
        elif visit.purpose == "service" and visit.place.payer.kind in ("landlord", "agent"):
            # Besides the check of the same day, and only of what was fitted in the story.
            assert (visit.date, visit.place.address) in checked
            assert all(work.fitted.serial in fitted for work in visit.works)


def test_everything_that_may_befall_an_appliance_does(whole_story) -> None:
    courses = Counter(work.course for visit, _ in whole_story for work in visit.works)
    assert courses["no access"] >= 1
    assert courses["made safe"] == courses["repaired"] == 4
    assert courses["corrected"] >= 5
    assert courses["commissioned"] >= 15
    assert courses["mended"] >= 20
    assert courses["advice"] >= 3


def test_a_repair_follows_within_days_and_nothing_comes_before_the_fitting(today, whole_story) -> None:
    made_safe = {w.fitted.serial: v.date for v, _ in whole_story for w in v.works if w.course == "made safe"}
    for visit, _ in whole_story:
        for work in visit.works:
            installed = today - dt.timedelta(days=work.fitted.installed_days_before)
            assert visit.date >= installed - dt.timedelta(days=5)
            if work.course == "repaired":
                assert 0 < (visit.date - made_safe[work.fitted.serial]).days <= 12
