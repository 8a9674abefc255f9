"""Visits read back: whole, or as a list."""

from __future__ import annotations

import datetime as dt
import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from flueleaf.domain.records.register import CustomerId, PremisesId
from flueleaf.domain.records.visits import (
    CheckAnswer,
    Defect,
    NotMeasured,
    Override,
    Purpose,
    SignOff,
    Slip,
    Supply,
    Visit,
    Work,
)
from flueleaf.storage import register
from flueleaf.storage.lines import lines_of_owner
from flueleaf.storage.rows import date_of, decimal_of
from flueleaf.storage.visits.results import doubt_of, judged_of

_REFITTED: dict[str, Any] = {"yes": True, "no": False, "not sure": "not sure"}


@dataclass(frozen=True, slots=True)
class StoredVisit:
    """A visit with the results frozen at sign-off, one per work; ``ref`` is the number of its row."""

    ref: int
    visit: Visit
    results: tuple[dict[str, Any], ...]


@dataclass(frozen=True, slots=True)
class VisitHead:
    """A visit in a list. ``verdict`` is the worst of its works."""

    ref: int
    visit_id: str
    date: dt.date
    purpose: Purpose
    premises_id: PremisesId
    customer_id: CustomerId
    verdict: str


def visit_exists(con: sqlite3.Connection, visit_id: str) -> bool:
    """Say whether a visit of that id is in the book."""
    return con.execute("SELECT 1 FROM visit WHERE visit_id = ?", (visit_id,)).fetchone() is not None


def visit_ref(con: sqlite3.Connection, visit_id: str) -> int:
    """Return the number of a visit's row.

    Raises:
        LookupError: there is no such visit.
    """
    return int(_visit_row(con, visit_id)["id"])


def visit_id(con: sqlite3.Connection, ref: int) -> str:
    """Return the id of the visit of a row.

    Raises:
        LookupError: there is no such visit.
    """
    row = con.execute("SELECT visit_id FROM visit WHERE id = ?", (ref,)).fetchone()
    if row is None:
        raise LookupError(f"no visit of row {ref}")
    return str(row["visit_id"])


def stored_visit(con: sqlite3.Connection, visit_id: str) -> StoredVisit:
    """Return a visit whole. The register's records are today's; the instrument's calibration is the visit's.

    Raises:
        LookupError: there is no such visit.
    """
    row = _visit_row(con, visit_id)
    works = con.execute("SELECT * FROM work WHERE visit_ref = ? ORDER BY position", (row["id"],)).fetchall()
    found = [_work(con, work) for work in works]
    issued_at = row["issued_at"]
    visit = Visit(
        visit_id=row["visit_id"],
        purpose=row["purpose"],
        date=dt.date.fromisoformat(row["date"]),
        customer=register.customer(con, row["customer_id"]),
        premises=register.premises(con, row["premises_id"]),
        works=tuple(work for work, _ in found),
        lines=lines_of_owner(con, "visit_ref", row["id"]),
        arrived=_time(row["arrived"]),
        left=_time(row["left_at"]),
        sign_off=None if row["signature"] is None else SignOff(row["signed_by"], row["signature"]),
        papers=tuple(json.loads(row["papers"])),
        issued_at=None if issued_at is None else dt.datetime.fromisoformat(issued_at),
    )
    return StoredVisit(row["id"], visit, tuple(result for _, result in found))


_HEADS = """
SELECT v.id, v.visit_id, v.date, v.purpose, v.premises_id, v.customer_id,
       (SELECT w.verdict FROM work w WHERE w.visit_ref = v.id
        ORDER BY CASE w.verdict WHEN 'over' THEN 0 WHEN 'unjudged' THEN 1 WHEN 'near' THEN 2 ELSE 3 END
        LIMIT 1) AS verdict
FROM visit v
"""


def visits_of_premises(con: sqlite3.Connection, premises_id: PremisesId) -> list[VisitHead]:
    """Return the visits to some premises, newest first."""
    found = con.execute(f"{_HEADS} WHERE v.premises_id = ? ORDER BY v.date DESC, v.id DESC", (premises_id,))
    return [_head(row) for row in found]


def recent_visits(con: sqlite3.Connection, *, most: int = 20) -> list[VisitHead]:
    """Return the newest visits of the book, newest first."""
    return [_head(row) for row in con.execute(f"{_HEADS} ORDER BY v.date DESC, v.id DESC LIMIT ?", (most,))]


def slips_of(con: sqlite3.Connection, work_id: int) -> list[tuple[int, Slip, dict[str, Any]]]:
    """Return the slips of a work in their order: row number, slip, and what was computed from it."""
    values: dict[int, dict[str, Decimal]] = defaultdict(dict)
    typed: dict[int, dict[str, str]] = defaultdict(dict)
    readings = con.execute(
        "SELECT r.* FROM slip s JOIN reading r ON r.slip_id = s.id WHERE s.work_id = ?", (work_id,)
    )
    for row in readings:
        if row["value"] is not None:
            values[row["slip_id"]][row["quantity"]] = Decimal(row["value"])
        if row["value_typed"] is not None:
            typed[row["slip_id"]][row["quantity"]] = row["value_typed"]
    found = con.execute("SELECT * FROM slip WHERE work_id = ? ORDER BY position", (work_id,))
    return [
        (
            row["id"],
            Slip(
                point=row["point"],
                rate=row["rate"],
                values=values[row["id"]],
                typed=typed[row["id"]],
                attempt=row["attempt"],
                confirmed=frozenset(json.loads(row["confirmed"])),
                air_humidity_pct=decimal_of(row["air_humidity_pct"]),
                adjusted=bool(row["adjusted"]),
                settled=None if row["settled"] is None else bool(row["settled"]),
            ),
            json.loads(row["computed"]),
        )
        for row in found
    ]


def _work(con: sqlite3.Connection, row: sqlite3.Row) -> tuple[Work, dict[str, Any]]:
    slips = slips_of(con, row["id"])
    instrument = None
    if row["instrument_id"] is not None:
        today = register.instrument(con, row["instrument_id"])
        instrument = replace(today, calibration_due=date_of(row["calibration_due"]))
    work = Work(
        appliance=register.appliance(con, row["appliance_id"]),
        instrument=instrument,
        supply=_supply(json.loads(row["supply"])),
        slips=tuple(slip for _, slip, _ in slips),
        checks=tuple(
            CheckAnswer(one["key"], one["answer"], one["note"])
            for one in _part(con, "check_answer", row["id"])
        ),
        close_up={one["point"]: _REFITTED[one["refitted"]] for one in _part(con, "close_up", row["id"])},
        defects=tuple(
            Defect(one["text"], one["class"], one["action"]) for one in _part(con, "defect", row["id"])
        ),
        not_measured=tuple(
            NotMeasured(one["point"], one["rate"], one["reason"])
            for one in _part(con, "not_measured", row["id"])
        ),
        outcome=row["outcome"],
        overrides=tuple(Override(one["step"], one["reason"]) for one in json.loads(row["overrides"])),
        notes={one["key"]: one["text"] for one in _part(con, "noted", row["id"])},
    )
    return work, _result(con, row, ((slip_id, computed) for slip_id, _, computed in slips))


def _result(
    con: sqlite3.Connection, row: sqlite3.Row, computed: Iterable[tuple[int, dict[str, Any]]]
) -> dict[str, Any]:
    doubts: dict[int | None, list[dict[str, Any]]] = defaultdict(list)
    for doubt in _part(con, "doubt", row["id"]):
        doubts[doubt["slip_id"]].append(doubt_of(doubt))
    slips = [
        {
            **figures,
            "judged": [
                judged_of(one)
                for one in con.execute("SELECT * FROM judged WHERE slip_id = ? ORDER BY position", (slip_id,))
            ],
            "doubts": doubts[slip_id],
        }
        for slip_id, figures in computed
    ]
    return {**json.loads(row["result"]), "slips": slips, "doubts": doubts[None]}


def _part(con: sqlite3.Connection, table: str, work_id: int) -> list[sqlite3.Row]:
    return con.execute(f"SELECT * FROM {table} WHERE work_id = ? ORDER BY position", (work_id,)).fetchall()


def _supply(kept: dict[str, Any]) -> Supply:
    return Supply(
        standing_mbar=decimal_of(kept["standing_mbar"]),
        working_mbar=decimal_of(kept["working_mbar"]),
        inlet_mbar=decimal_of(kept["inlet_mbar"]),
        gas_rate=kept["gas_rate"],
        tightness=kept["tightness"],
    )


def _time(text: str | None) -> dt.time | None:
    return None if text is None else dt.time.fromisoformat(text)


def _head(row: sqlite3.Row) -> VisitHead:
    return VisitHead(
        ref=row["id"],
        visit_id=row["visit_id"],
        date=dt.date.fromisoformat(row["date"]),
        purpose=row["purpose"],
        premises_id=PremisesId(row["premises_id"]),
        customer_id=CustomerId(row["customer_id"]),
        verdict=row["verdict"] or "unjudged",
    )


def _visit_row(con: sqlite3.Connection, visit_id: str) -> sqlite3.Row:
    row: sqlite3.Row | None = con.execute("SELECT * FROM visit WHERE visit_id = ?", (visit_id,)).fetchone()
    if row is None:
        raise LookupError(f"no visit {visit_id}")
    return row
