"""When the engineer came, to which appliances, and what awaited him there."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from flueleaf.domain.records.visits import Purpose
from flueleaf.operations.demo.copies import YEAR_DAYS
from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.scenario import Fitted, Place

Course = Literal[
    "steady", "commissioned", "corrected", "made safe", "repaired", "mended", "advice", "no access"
]

_FRIDAY = 4
_AT_HOME = {(12, 24), (12, 25), (12, 26), (12, 31), (1, 1)}  # month and day
_FIRST_SERVICE_DAYS = 200  # an appliance fitted later than that before a yearly visit is left to the next


@dataclass(frozen=True, slots=True)
class PlannedWork:
    """One appliance of a planned visit and how it went; ``cause`` is that of a made-safe appliance."""

    fitted: Fitted
    course: Course
    cause: str = ""


@dataclass(frozen=True, slots=True)
class Planned:
    """One visit to come in the story."""

    date: dt.date
    purpose: Purpose
    place: Place
    works: tuple[PlannedWork, ...]

    @property
    def order(self) -> tuple[dt.date, str, str]:
        """Sorts visits in the order in which they took place."""
        return (self.date, self.place.address[0], self.purpose)


@dataclass(frozen=True, slots=True)
class Span:
    """The days the story covers: from ``first`` to the day before ``today``, both included."""

    first: dt.date
    today: dt.date

    @classmethod
    def of(cls, years: int, today: dt.date, earliest: dt.date) -> Span:
        """Return the span of so many years up to today, cut off at the earliest day a story may have."""
        return cls(max(today - dt.timedelta(days=years * YEAR_DAYS), earliest), today)

    def holds(self, date: dt.date) -> bool:
        """Tell whether a visit may fall on a date."""
        return self.first <= date < self.today

    def before_today(self, days: int) -> dt.date:
        """Return the day so many days before today, or the last working day before it."""
        date = self.today - dt.timedelta(days=days)
        while date.weekday() > _FRIDAY or (date.month, date.day) in _AT_HOME:
            date -= dt.timedelta(days=1)
        return date


def planned_visits(place: Place, span: Span, seed: int) -> Iterator[Planned]:
    """Yield the visits to one place within the span, in no particular order."""
    dice = Dice(seed, "plan", place.address[0])
    yield from _commissionings(place, span)
    years = (span.today - span.first).days // YEAR_DAYS
    for years_ago in range(years + 1):
        early = dice.between(0, 20) if years_ago else 0  # appointments wander ahead of the anniversary
        days = place.serviced_days_before + years_ago * YEAR_DAYS + early
        for visit in _of_the_year(place, span, years_ago, days, dice):
            if span.holds(visit.date):
                yield visit


def _commissionings(place: Place, span: Span) -> Iterator[Planned]:
    for fitted in place.fitted:
        if _fitted_within(span, fitted):
            date = span.before_today(fitted.installed_days_before)
            yield Planned(date, "commissioning", place, (PlannedWork(fitted, "commissioned"),))


def _fitted_within(span: Span, fitted: Fitted) -> bool:
    return span.holds(span.before_today(fitted.installed_days_before))


def _of_the_year(place: Place, span: Span, years_ago: int, days: int, dice: Dice) -> Iterator[Planned]:
    """Yield the yearly visit, a visit in vain before it, repairs after it and breakdowns ahead of it."""
    present = [f for f in place.fitted if f.installed_days_before - days > _FIRST_SERVICE_DAYS]
    if present and not (years_ago == 0 and place.latest_missed):
        works = tuple(_yearly_work(fitted, years_ago) for fitted in present)
        purpose = _yearly_purpose(place)
        date = span.before_today(days)
        yield Planned(date, purpose, place, works)
        ours = tuple(PlannedWork(f, "steady") for f in present if _fitted_within(span, f))
        if purpose == "landlord check" and ours:  # a landlord has what was fitted here serviced as well
            yield Planned(date, "service", place, ours)
        if years_ago in place.no_access_years_ago:
            vain = tuple(PlannedWork(work.fitted, "no access") for work in works)
            yield Planned(span.before_today(days + 9), purpose, place, vain)
        for work in works:
            if work.course == "made safe":
                again = PlannedWork(work.fitted, "repaired", work.cause)
                yield Planned(span.before_today(days - dice.between(3, 9)), "breakdown", place, (again,))
    for fitted in place.fitted:
        broke = days + dice.between(60, 280)
        if years_ago in fitted.breakdown_years_ago and fitted.installed_days_before - broke > 30:
            yield Planned(span.before_today(broke), "breakdown", place, (PlannedWork(fitted, "mended"),))


def _yearly_purpose(place: Place) -> Purpose:
    return "landlord check" if place.payer.kind in ("landlord", "agent") else "service"


def _yearly_work(fitted: Fitted, years_ago: int) -> PlannedWork:
    cause = (fitted.made_safe or {}).get(years_ago, "")
    if cause:
        return PlannedWork(fitted, "made safe", cause)
    if years_ago in fitted.corrected_years_ago:
        return PlannedWork(fitted, "corrected")
    return PlannedWork(fitted, "advice" if years_ago in fitted.advice_years_ago else "steady")
