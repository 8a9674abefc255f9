"""What falls due: set at sign-off, listed by date."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from flueleaf.domain.records.register import Appliance
from flueleaf.domain.records.visits import Visit, Work
from flueleaf.domain.schedule.due import Plan, plan
from flueleaf.operations.page_records import DueRow
from flueleaf.papers.record.facts import Due
from flueleaf.storage import schedule
from flueleaf.storage.book import Book
from flueleaf.storage.tables.schedule import due_rules

if TYPE_CHECKING:
    from sqlite_utils import Database

YEARLY, LANDLORD, FIRST_LANDLORD = "yearly service", "landlord check", "first landlord check"
LISTED_DAYS = 365  # without a date the list looks a year ahead
IN_USE = ("left in use", "left in use with notes")


def set_due_in(tx: Database, visit: Visit, work: Work, visit_ref: int) -> tuple[Due, ...]:
    """Set what a visit makes due at one appliance; an appliance not in use has nothing due."""
    appliance = work.appliance
    assert appliance.id is not None
    if work.outcome == "not accessed":
        return ()
    if work.outcome not in IN_USE:
        for item in schedule.due_of_appliance(tx.conn, appliance.id):
            schedule.close(tx, item.id, visit.date, done_by=visit_ref)
        return ()
    plans: list[tuple[str, Plan]] = []
    if visit.purpose in ("commissioning", "service") or _forgotten(tx, visit, appliance):
        plans.append((YEARLY, plan(due_rules()[YEARLY], checked=visit.date)))
    if visit.customer.kind in ("landlord", "agent"):
        plans += _landlord(tx, visit, appliance, visit_ref)
    for rule, made in plans:
        schedule.set_due(
            tx,
            rule=rule,
            date=made.next_due,
            reason=made.why,
            window_opens=made.window_opens,
            appliance_id=appliance.id,
            done_by=visit_ref,
            done_on=visit.date,
        )
    return tuple(Due(made.next_due, rule, made.why) for rule, made in plans)


def _forgotten(tx: Database, visit: Visit, appliance: Appliance) -> bool:
    """Tell whether a repair brought back an appliance that nothing was due at any more."""
    assert appliance.id is not None
    return visit.purpose == "breakdown" and not schedule.due_of_appliance(tx.conn, appliance.id)


def _landlord(tx: Database, visit: Visit, appliance: Appliance, visit_ref: int) -> list[tuple[str, Plan]]:
    """Return the landlord's date a visit sets: a check renews it, a commissioning starts it."""
    rules = due_rules()
    if visit.purpose == "landlord check":
        assert appliance.id is not None
        before: dt.date | None = None
        for item in schedule.due_of_appliance(tx.conn, appliance.id):
            if item.rule in (LANDLORD, FIRST_LANDLORD):
                before = before or item.date
            if item.rule == FIRST_LANDLORD:
                schedule.close(tx, item.id, visit.date, done_by=visit_ref)
        return [(LANDLORD, plan(rules[LANDLORD], previous_due=before, checked=visit.date))]
    if visit.purpose == "commissioning":
        return [(FIRST_LANDLORD, plan(rules[FIRST_LANDLORD], installed=appliance.installed or visit.date))]
    return []


def due(book: Book, *, until: dt.date | None, today: dt.date) -> list[DueRow]:
    """Return what falls due up to a date (a year ahead by default), overdue first."""
    last = until or today + dt.timedelta(days=LISTED_DAYS)
    return [
        DueRow(
            date=item.date,
            rule=item.rule,
            what=item.what,
            premises=item.premises,
            customer=item.customer,
            why=item.why,
            premises_id=item.premises_id,
            appliance_id=item.appliance_id,
        )
        for item in schedule.due_until(book.con, last)
    ]


def as_json(rows: Iterable[DueRow]) -> list[dict[str, Any]]:
    """Return due rows in the shape of the headless contract."""
    return [
        {
            "date": row.date,
            "rule": row.rule,
            "what": row.what,
            "premises": row.premises,
            "customer": row.customer,
            "why": row.why,
        }
        for row in rows
    ]
