"""Years of an invented business, told as documents of ``flueleaf evening``, evening by evening."""

from __future__ import annotations

import datetime as dt
import uuid
from collections import Counter
from collections.abc import Iterator
from typing import Any

from flueleaf.operations.demo.charges import visit_lines
from flueleaf.operations.demo.copies import enlarged
from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.planning import Planned, Span, planned_visits
from flueleaf.operations.demo.scenario import Json, Place, Scenario
from flueleaf.operations.demo.works import Setting, work_document
from flueleaf.operations.tables import shipped

STORIES = uuid.UUID("6f0a4d52-2c1e-5b7d-9a35-0c41d7e8b6f3")  # name space of the visits' ids
_ARRIVALS = ("08:30", "10:15", "12:45", "14:30", "16:00")
_MINUTES = {"commissioning": 55, "service": 60, "landlord check": 45, "breakdown": 75}
_PAPERS = {
    "commissioning": ["commissioning record", "invoice"],
    "service": ["service record", "invoice"],
    "landlord check": ["service record", "invoice"],
    "breakdown": ["service record", "invoice"],
}
_EVENING = dt.time(18, 30, tzinfo=dt.UTC)
_BETWEEN_PAPERS = dt.timedelta(seconds=40)


def story(
    scenario: Scenario, *, years: int, scale: int, seed: int, today: dt.date
) -> Iterator[dict[str, Any]]:
    """Yield one evening document per visit, in date order; equal arguments give equal documents.

    Args:
        scenario: who, where, what is fitted.
        years: how many years the story goes back, 0 or more.
        scale: how many times as many premises.
        seed: another number tells another story of the kind.
        today: the story ends on the day before.
    """
    for _, document in told(scenario, years=years, scale=scale, seed=seed, today=today):
        yield document


def told(
    scenario: Scenario, *, years: int, scale: int, seed: int, today: dt.date
) -> Iterator[tuple[Planned, dict[str, Any]]]:
    """Yield every visit as planned, with its document."""
    setting = Setting(scenario, shipped(), Span.of(years, today, scenario.prices_from), seed)
    visits = [
        visit
        for place in enlarged(scenario, scale, seed)
        for visit in planned_visits(place, setting.span, seed)
    ]
    of_the_day: Counter[dt.date] = Counter()
    for visit in sorted(visits, key=lambda one: one.order):
        yield visit, _document(setting, visit, of_the_day[visit.date])
        of_the_day[visit.date] += 1


def visit_id(visit: Planned, seed: int) -> str:
    """Return the visit's id, which depends on the seed, the place, the day and what was done."""
    name = f"{seed}/{visit.date}/{visit.place.address[0]}/{visit.purpose}/{visit.works[0].course}"
    return str(uuid.uuid5(STORIES, name + "/" + ",".join(work.fitted.serial for work in visit.works)))


def _document(setting: Setting, visit: Planned, nth_of_day: int) -> Json:
    dice = Dice(setting.seed, "visit", visit.date, visit.place.address[0], visit.purpose)
    arrived = _ARRIVALS[nth_of_day % len(_ARRIVALS)]
    in_vain = visit.works[0].course == "no access"
    minutes = 10 if in_vain else _MINUTES[visit.purpose] + 25 * (len(visit.works) - 1) + dice.between(0, 20)
    at = dt.datetime.combine(visit.date, dt.time.fromisoformat(arrived))
    issued = dt.datetime.combine(visit.date, _EVENING) + _BETWEEN_PAPERS * nth_of_day
    return {
        "visit_id": visit_id(visit, setting.seed),
        "purpose": visit.purpose,
        "date": visit.date.isoformat(),
        "arrived": arrived,
        "left": f"{at + dt.timedelta(minutes=minutes):%H:%M}",
        "customer": customer_document(visit.place),
        "premises": premises_document(visit.place),
        "works": [work_document(setting, visit, work) for work in visit.works],
        "lines": visit_lines(setting.scenario, visit, dice),
        "sign_off": _sign_off(visit, dice, in_vain=in_vain),
        "papers": ["invoice"] if in_vain else _PAPERS[visit.purpose],
        "issued_at": issued.isoformat(),
    }


def customer_document(place: Place) -> Json:
    """Return the customer of a place as a document has it."""
    payer = place.payer
    return {
        "name": payer.name,
        "kind": payer.kind,
        "address": list(payer.address),
        "postcode": payer.postcode,
        "telephone": payer.telephone,
        "email": payer.email,
    }


def premises_document(place: Place) -> Json:
    """Return the premises as a document has them."""
    found: Json = {"address": list(place.address), "postcode": place.postcode}
    return found | ({"responsible": place.responsible} if place.responsible else {})


def _sign_off(visit: Planned, dice: Dice, *, in_vain: bool) -> Json:
    name = visit.place.responsible or visit.place.payer.name
    if in_vain or dice.chance(0.12):
        return {"customer_name": name, "customer": "not present"}
    if any(work.cause == "ventilation" and work.course == "made safe" for work in visit.works):
        return {"customer_name": name, "customer": "refused"}
    return {"customer_name": name, "customer": "signed on paper" if dice.chance(0.5) else "signed"}
