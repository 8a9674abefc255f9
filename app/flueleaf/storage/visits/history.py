"""What one appliance read over the years."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import dataclass, field
from decimal import Decimal

from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.records.register import ApplianceId, Point, Rate
from flueleaf.domain.records.visits import Purpose
from flueleaf.storage import register
from flueleaf.storage.visits.reading import slips_of


@dataclass(frozen=True, slots=True)
class HistoryReading:
    """One slip of an appliance's history.

    Attributes:
        decides: whether it was the last attempt of its point and rate.
        values: quantity key to value, with the digits typed.
        ratio: CO/CO2 as judged then, None where there was none.
        verdict: of the slip, as frozen then.
        instrument: name of the instrument, "" where none was noted.
    """

    date: dt.date
    visit_id: str
    purpose: Purpose
    point: Point
    rate: Rate
    attempt: int
    decides: bool
    values: dict[str, Decimal] = field(default_factory=dict)
    ratio: float | None = None
    verdict: str = "unjudged"
    instrument: str = ""


_HISTORY = """
SELECT v.date, v.visit_id, v.purpose, s.id AS slip_id, s.point, s.rate, s.attempt, s.decides,
       s.ratio, s.verdict, ifnull(i.name, '') AS instrument, r.quantity, r.value
FROM work w
JOIN visit v ON v.id = w.visit_ref
JOIN slip s ON s.work_id = w.id
LEFT JOIN instrument i ON i.id = w.instrument_id
LEFT JOIN reading r ON r.slip_id = s.id AND r.value IS NOT NULL
WHERE w.appliance_id = ?
ORDER BY v.date, v.id, w.position, s.position
"""


def history(con: sqlite3.Connection, appliance_id: ApplianceId) -> list[HistoryReading]:
    """Return every slip of an appliance, oldest first, in one join."""
    found: dict[int, HistoryReading] = {}
    for row in con.execute(_HISTORY, (appliance_id,)):
        reading = found.get(row["slip_id"])
        if reading is None:
            reading = found[row["slip_id"]] = HistoryReading(
                date=dt.date.fromisoformat(row["date"]),
                visit_id=row["visit_id"],
                purpose=row["purpose"],
                point=row["point"],
                rate=row["rate"],
                attempt=row["attempt"],
                decides=bool(row["decides"]),
                ratio=None if row["ratio"] is None else float(row["ratio"]),
                verdict=row["verdict"],
                instrument=row["instrument"],
            )
        if row["quantity"] is not None:
            reading.values[row["quantity"]] = Decimal(row["value"])
    return list(found.values())


def last_slips(
    con: sqlite3.Connection, appliance_id: ApplianceId, before: dt.date, *, most: int = 3
) -> list[PreviousVisit]:
    """Return the visits to an appliance before a day, latest first, as assessing compares them."""
    found = con.execute(
        "SELECT w.id, v.date, w.instrument_id FROM work w JOIN visit v ON v.id = w.visit_ref"
        " WHERE w.appliance_id = ? AND v.date < ? AND EXISTS (SELECT 1 FROM slip s WHERE s.work_id = w.id)"
        " ORDER BY v.date DESC, v.id DESC LIMIT ?",
        (appliance_id, before.isoformat(), most),
    ).fetchall()
    return [
        PreviousVisit(
            date=dt.date.fromisoformat(row["date"]),
            slips=tuple(slip for _, slip, _ in slips_of(con, row["id"])),
            instrument=None
            if row["instrument_id"] is None
            else register.instrument(con, row["instrument_id"]),
        )
        for row in found
    ]
