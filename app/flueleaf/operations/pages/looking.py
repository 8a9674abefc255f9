"""Gathering a leaf's page from the book."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import TYPE_CHECKING

from flueleaf.domain.money.amount import Money
from flueleaf.domain.records.register import Appliance, ApplianceId, PremisesId
from flueleaf.operations.drifts import drifts_of
from flueleaf.operations.intake.reader import LATEST
from flueleaf.operations.issued import paper_row
from flueleaf.operations.page_records import (
    AppliancePage,
    ApplianceRow,
    DoneToday,
    DueRow,
    OwingRow,
    PremisesPage,
    ReadingRow,
    TonightPage,
    VisitRow,
)
from flueleaf.operations.pages.charts import chart_limits, cross, fuel_line, reading_rows
from flueleaf.operations.pages.drafts import all_drafts, drafts_of_premises
from flueleaf.operations.pages.money import open_quotes
from flueleaf.operations.schedule import due_row
from flueleaf.operations.tables import tables_of
from flueleaf.storage import listing, money, register, schedule, sending
from flueleaf.storage import visits as stored
from flueleaf.storage.book import Book

if TYPE_CHECKING:
    from sqlite3 import Connection

DUE_DAYS = 42  # Tonight looks six weeks ahead
LONG_OVERDUE_DAYS = 92  # a quarter of a year: what waited longer than that is counted, not listed
MOST_UNSENT = 12


def premises_page(book: Book, premises_id: int, today: dt.date | None = None) -> PremisesPage:
    """Return the page of some premises.

    Args:
        book: the book.
        premises_id: whose page it is.
        today: what is unfinished is looked at as of this day; None lets any day of a visit pass.

    Raises:
        LookupError: there are no premises of that id.
    """
    con = book.con
    premises = register.premises(con, PremisesId(premises_id))
    assert premises.customer_id is not None
    due = [due_row(item) for item in schedule.due_of_premises(con, premises_id)]
    papers = listing.papers_of_premises(con, premises_id)
    return PremisesPage(
        premises=premises,
        customer=register.customer(con, premises.customer_id),
        appliances=tuple(
            _appliance_row(con, appliance, due)
            for appliance in register.appliances_of(con, PremisesId(premises_id))
        ),
        visits=tuple(
            VisitRow(
                visit_id=head.visit_id,
                date=head.date,
                purpose=head.purpose,
                verdict=head.verdict,
                papers=_numbers(papers, head.ref),
            )
            for head in stored.visits_of_premises(con, PremisesId(premises_id))
        ),
        papers=tuple(paper_row(paper) for paper in papers),
        due=tuple(due),
        drafts=drafts_of_premises(book, premises, today or LATEST),
        quotes=open_quotes(con, premises_id),
    )


def appliance_page(book: Book, appliance_id: int) -> AppliancePage:
    """Return the page of an appliance with its whole history.

    Raises:
        LookupError: there is no appliance of that id.
    """
    con = book.con
    appliance = register.appliance(con, ApplianceId(appliance_id))
    assert appliance.premises_id is not None
    premises = register.premises(con, appliance.premises_id)
    assert premises.customer_id is not None
    history = reading_rows(con, appliance)
    papers = listing.papers_of_appliance(con, appliance_id)
    o2_pct, co2_pct = cross(con, appliance, history)
    tables = tables_of(con)
    limits = chart_limits(appliance, tables)
    last = stored.last_answers(con, ApplianceId(appliance_id), LATEST)
    return AppliancePage(
        appliance=appliance,
        premises=premises,
        customer=register.customer(con, premises.customer_id),
        last=_last(history),
        history=history,
        visits=tuple(
            VisitRow(
                visit_id=visit.visit_id,
                date=visit.date,
                purpose=visit.purpose,
                verdict=visit.verdict,
                outcome=visit.outcome,
                papers=_numbers(papers, visit.visit_ref),
            )
            for visit in listing.visits_of_appliance(con, appliance_id)
        ),
        papers=tuple(paper_row(paper) for paper in papers),
        due=tuple(due_row(item) for item in schedule.due_of_appliance(con, appliance_id)),
        limits=limits,
        limits_at={
            point: chart_limits(appliance, tables, point)
            for point in dict.fromkeys(row.point for row in history)
        },
        drifts=drifts_of(history, appliance.fuel, limits),
        fuel_line=fuel_line(appliance.fuel, tables),
        noted=last.notes if last else {},
        noted_on=last.date if last else None,
        o2_tolerance_pct=o2_pct,
        co2_tolerance_pct=co2_pct,
    )


def tonight(book: Book, today: dt.date) -> TonightPage:
    """Return the work list of the evening."""
    con = book.con
    drafts = all_drafts(book, today)
    unsent = sending.unsent(con)
    due = due_rows(book, today)
    latest = today - dt.timedelta(days=LONG_OVERDUE_DAYS)
    totals = listing.day_totals(con, today)
    return TonightPage(
        today=today,
        drafts=drafts,
        unsent=tuple(paper_row(paper) for paper in listing.unsent_papers(con, most=MOST_UNSENT)),
        unsent_count=len(unsent),
        due=due,
        long_overdue=sum(row.date < latest for row in due),
        owing=tuple(
            OwingRow(
                number=row.number,
                customer=row.customer,
                date=row.date,
                due=row.due or row.date,
                owing=row.owing.with_sign(),
                overdue_days=row.days_late,
            )
            for row in money.unpaid(con, today)
        ),
        done=DoneToday(
            totals.visits,
            totals.papers,
            Money(totals.invoiced_pence).with_sign() if totals.invoiced_pence else "",
        ),
        is_new=not drafts and not listing.has_premises(con) and not listing.paper_count(con),
    )


def due_rows(book: Book, today: dt.date) -> tuple[DueRow, ...]:
    """Return what is overdue and what falls due in the next weeks, the earliest first."""
    until = today + dt.timedelta(days=DUE_DAYS)
    return tuple(due_row(item) for item in schedule.due_until(book.con, until))


def _last(history: tuple[ReadingRow, ...]) -> tuple[ReadingRow, ...]:
    """Return the deciding slips of the latest visit that has any."""
    deciding = [row for row in history if row.decides]
    if not deciding:
        return ()
    return tuple(row for row in deciding if row.visit_id == deciding[-1].visit_id)


def _appliance_row(con: Connection, appliance: Appliance, due: Iterable[DueRow]) -> ApplianceRow:
    assert appliance.id is not None
    latest = next(iter(listing.visits_of_appliance(con, appliance.id)), None)
    dates = [row.date for row in due if row.appliance_id == appliance.id]
    return ApplianceRow(
        appliance=appliance,
        last_visit=latest.date if latest else None,
        last_verdict=latest.verdict if latest else "",
        next_due=min(dates, default=None),
    )


def _numbers(papers: Iterable[listing.ListedPaper], visit_ref: int) -> tuple[str, ...]:
    return tuple(sorted(paper.number for paper in papers if paper.visit_ref == visit_ref))
