"""Lists that join across subjects: papers with whom they went to, what a visit leaf offers while typing."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import dataclass

from flueleaf.domain.records.register import Appliance, Instrument
from flueleaf.storage import register, register_rows
from flueleaf.storage.sending import STANDING, TAKEN_BACK


@dataclass(frozen=True, slots=True)
class ListedPaper:
    """A sealed paper with its premises' address and its customer's name; ``total_pence`` of a bill."""

    number: str
    kind: str
    date: dt.date
    premises: str
    customer: str
    fingerprint: str
    replaces: str | None
    visit_ref: int | None
    total_pence: int | None


_PAPERS = """
SELECT s.number, s.kind, s.date, s.fingerprint, s.replaces, s.visit_ref,
       replace(p.address, char(10), ', ') || iif(p.postcode = '', '', ' ' || p.postcode) AS premises,
       c.name AS customer, ifnull(i.total_pence, q.total_pence) AS total_pence
FROM sealed_paper s
LEFT JOIN premises p ON p.id = s.premises_id
LEFT JOIN customer c ON c.id = s.customer_id
LEFT JOIN invoice i ON i.number = s.number
LEFT JOIN quote q ON q.number = s.number
"""


def all_papers(con: sqlite3.Connection) -> list[ListedPaper]:
    """Return every sealed paper in the order of the chain."""
    return [_listed(row) for row in con.execute(f"{_PAPERS} ORDER BY s.id")]


def newest_papers(con: sqlite3.Connection, *, most: int) -> list[ListedPaper]:
    """Return the newest papers, the last one first."""
    return [_listed(row) for row in con.execute(f"{_PAPERS} ORDER BY s.id DESC LIMIT ?", (most,))]


def unsent_papers(con: sqlite3.Connection, *, most: int) -> list[ListedPaper]:
    """Return the papers of which no sending stands, the newest first."""
    values = {"back": TAKEN_BACK, "most": most}
    return [
        _listed(row)
        for row in con.execute(f"{_PAPERS} WHERE {STANDING} <= 0 ORDER BY s.id DESC LIMIT :most", values)
    ]


@dataclass(frozen=True, slots=True)
class DayTotals:
    """What was sealed on a day: visits signed, papers of every kind, and the total of the invoices."""

    visits: int
    papers: int
    invoiced_pence: int


def day_totals(con: sqlite3.Connection, date: dt.date) -> DayTotals:
    """Return what was sealed on a day, by the day of issue as the papers say it."""
    row = con.execute(
        "SELECT count(DISTINCT s.visit_ref) AS visits, count(*) AS papers,"
        " ifnull(sum(i.total_pence), 0) AS pence FROM sealed_paper s"
        " LEFT JOIN invoice i ON i.number = s.number WHERE substr(s.issued_at, 1, 10) = ?",
        (date.isoformat(),),
    ).fetchone()
    return DayTotals(row["visits"], row["papers"], row["pence"])


def papers_of_premises(con: sqlite3.Connection, premises_id: int) -> list[ListedPaper]:
    """Return the papers of some premises, newest first."""
    found = con.execute(f"{_PAPERS} WHERE s.premises_id = ? ORDER BY s.date DESC, s.id DESC", (premises_id,))
    return [_listed(row) for row in found]


def papers_of_visit(con: sqlite3.Connection, visit_ref: int) -> list[ListedPaper]:
    """Return the papers of a visit in the order they were sealed."""
    return [
        _listed(row) for row in con.execute(f"{_PAPERS} WHERE s.visit_ref = ? ORDER BY s.id", (visit_ref,))
    ]


def papers_of_appliance(con: sqlite3.Connection, appliance_id: int) -> list[ListedPaper]:
    """Return the papers of the visits to an appliance, newest first."""
    found = con.execute(
        f"{_PAPERS} WHERE s.visit_ref IN (SELECT visit_ref FROM work WHERE appliance_id = ?)"
        " ORDER BY s.date DESC, s.id DESC",
        (appliance_id,),
    )
    return [_listed(row) for row in found]


def paper_count(con: sqlite3.Connection) -> int:
    """Return how many papers were sealed."""
    return int(con.execute("SELECT count(*) FROM sealed_paper").fetchone()[0])


def has_premises(con: sqlite3.Connection) -> bool:
    """Return whether the book holds any premises."""
    return con.execute("SELECT 1 FROM premises LIMIT 1").fetchone() is not None


def usual_instrument(con: sqlite3.Connection) -> Instrument | None:
    """Return the instrument used last, else the first one known."""
    row = con.execute(
        "SELECT w.instrument_id AS id FROM work w JOIN visit v ON v.id = w.visit_ref"
        " WHERE w.instrument_id IS NOT NULL ORDER BY v.date DESC, v.id DESC LIMIT 1"
    ).fetchone()
    if row is not None:
        return register.instrument(con, row["id"])
    return next(iter(register.instruments(con)), None)


def models(con: sqlite3.Connection) -> list[Appliance]:
    """Return one appliance of each make, model and fuel, the newest: it brings plate and limits along."""
    found = con.execute(
        "SELECT * FROM appliance WHERE id IN (SELECT max(id) FROM appliance WHERE model <> ''"
        " GROUP BY lower(make), lower(model), fuel) ORDER BY make, model"
    )
    return [register_rows.appliance_of(row) for row in found]


@dataclass(frozen=True, slots=True)
class ListedVisit:
    """A visit in a list: verdict and outcome of one appliance, or the worst of all."""

    visit_ref: int
    visit_id: str
    date: dt.date
    purpose: str
    verdict: str
    outcome: str


def visits_of_appliance(con: sqlite3.Connection, appliance_id: int) -> list[ListedVisit]:
    """Return the visits to an appliance, newest first."""
    found = con.execute(
        "SELECT v.id, v.visit_id, v.date, v.purpose, w.verdict, w.outcome FROM work w"
        " JOIN visit v ON v.id = w.visit_ref WHERE w.appliance_id = ? ORDER BY v.date DESC, v.id DESC",
        (appliance_id,),
    )
    return [
        ListedVisit(
            visit_ref=row["id"],
            visit_id=row["visit_id"],
            date=dt.date.fromisoformat(row["date"]),
            purpose=row["purpose"],
            verdict=row["verdict"],
            outcome=row["outcome"],
        )
        for row in found
    ]


def _listed(row: sqlite3.Row) -> ListedPaper:
    return ListedPaper(
        number=row["number"],
        kind=row["kind"],
        date=dt.date.fromisoformat(row["date"]),
        premises=row["premises"] or "",
        customer=row["customer"] or "",
        fingerprint=row["fingerprint"],
        replaces=row["replaces"],
        visit_ref=row["visit_ref"],
        total_pence=row["total_pence"],
    )
