"""What falls due: set at sign-off, listed by date."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from flueleaf.domain.records.register import Appliance
from flueleaf.domain.records.visits import Visit, Work
from flueleaf.domain.schedule.due import Plan, plan, retold
from flueleaf.domain.words import as_kept, lines
from flueleaf.operations.page_records import DueRow
from flueleaf.papers.record.facts import Due
from flueleaf.storage import papers, schedule
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


def due_set_by(book: Book, visit: Visit, visit_ref: int) -> list[tuple[DueRow, ...]]:
    """Return what a signed-off visit made due at each of its appliances, as its record says.

    Without a record nothing was written down of it: then it is what is still open and was counted from the
    day of the visit.
    """
    records = [one for one in papers.papers_of_visit(book.con, visit_ref) if one.kind.endswith(" record")]
    works: list[dict[str, Any]] = [{} for _ in visit.works]
    if records:
        works = json.loads(papers.body(book.con, records[-1].number)[0])["works"]
    return [
        tuple(_as_printed(visit, work, one) for one in told.get("due", ()))
        if records
        else tuple(_still_open(book, visit, work))
        for work, told in zip(visit.works, works, strict=True)
    ]


def _as_printed(visit: Visit, work: Work, told: dict[str, str]) -> DueRow:
    appliance = work.appliance
    name = f"{appliance.make} {appliance.model}".strip() or as_kept(appliance.kind)
    return DueRow(
        date=dt.date.fromisoformat(told["date"]),
        rule=told["rule"],
        what=lines((part for part in (name, appliance.location) if part), between=", "),
        premises=f"{', '.join(visit.premises.address)} {visit.premises.postcode}".strip(),
        customer=visit.customer.name,
        why=retold(told.get("why", "")),
        premises_id=visit.premises.id,
        appliance_id=appliance.id,
    )


def _still_open(book: Book, visit: Visit, work: Work) -> Iterator[DueRow]:
    assert work.appliance.id is not None
    counted = [(rule.name, plan(rule, **{rule.counts_from: visit.date}).why) for rule in due_rules().values()]
    for item in schedule.due_of_appliance(book.con, work.appliance.id):
        if (item.rule, item.why) in counted:
            yield due_row(item)


def due_row(item: schedule.DueItem) -> DueRow:
    """Return a due item of the book as a leaf shows it."""
    return DueRow(
        date=item.date,
        rule=item.rule,
        what=item.what,
        premises=item.premises,
        customer=item.customer,
        why=retold(item.why),
        premises_id=item.premises_id,
        appliance_id=item.appliance_id,
    )


def due(book: Book, *, until: dt.date | None, today: dt.date) -> list[DueRow]:
    """Return what falls due up to a date (a year ahead by default), overdue first."""
    last = until or today + dt.timedelta(days=LISTED_DAYS)
    return [due_row(item) for item in schedule.due_until(book.con, last)]


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
