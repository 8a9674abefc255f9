"""What one appliance read over the years."""

from __future__ import annotations

import datetime as dt
import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.records.register import ApplianceId, Point, Rate
from flueleaf.domain.records.visits import CheckAnswer, Purpose
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
        adjusted: whether it was taken after an adjustment on that visit.
        fuel: what burned then, "" where it was not noted.
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
    adjusted: bool = False
    fuel: str = ""


@dataclass(frozen=True, slots=True)
class LastAnswers:
    """What was answered and written down at one appliance, at its latest visit with either.

    ``notes``: by key, as typed.
    """

    date: dt.date
    answers: tuple[CheckAnswer, ...]
    notes: Mapping[str, str] = field(default_factory=dict)


_HISTORY = """
SELECT v.date, v.visit_id, v.purpose, s.id AS slip_id, s.point, s.rate, s.attempt, s.decides,
       s.adjusted, s.ratio, s.verdict, ifnull(i.name, '') AS instrument,
       ifnull(json_extract(w.result, '$.fuel'), '') AS fuel, r.quantity, r.value
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
                adjusted=bool(row["adjusted"]),
                fuel=row["fuel"],
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


_ANSWERED = """
SELECT w.id, v.date FROM work w JOIN visit v ON v.id = w.visit_ref
WHERE w.appliance_id = ? AND v.date < ?
  AND (EXISTS (SELECT 1 FROM check_answer c WHERE c.work_id = w.id)
       OR EXISTS (SELECT 1 FROM noted n WHERE n.work_id = w.id))
ORDER BY v.date DESC, v.id DESC LIMIT 1
"""


def last_answers(con: sqlite3.Connection, appliance_id: ApplianceId, before: dt.date) -> LastAnswers | None:
    """Return what the latest visit before a day at which anything was answered or noted holds, else None."""
    work = con.execute(_ANSWERED, (appliance_id, before.isoformat())).fetchone()
    if work is None:
        return None
    answers = con.execute(
        "SELECT key, answer, note FROM check_answer WHERE work_id = ? ORDER BY position", (work["id"],)
    )
    noted = con.execute("SELECT key, text FROM noted WHERE work_id = ? ORDER BY position", (work["id"],))
    return LastAnswers(
        dt.date.fromisoformat(work["date"]),
        tuple(CheckAnswer(row["key"], row["answer"], row["note"]) for row in answers),
        {row["key"]: row["text"] for row in noted},
    )


@dataclass(frozen=True, slots=True)
class LastHeat:
    """The calorific value a gas was last rated with, MJ/m3 gross with its digits, and the day it is of."""

    mj_per_m3: str
    date: dt.date


LOOKED_THROUGH = 200  # works, latest first: a value older than these is no help
_HEAT = """
SELECT date, supply FROM (
    SELECT v.date, v.id AS visit, w.supply
    FROM work w
    JOIN visit v ON v.id = w.visit_ref
    JOIN appliance a ON a.id = w.appliance_id
    WHERE a.fuel = ? AND v.date <= ?
    ORDER BY v.date DESC, v.id DESC LIMIT ?)
WHERE json_extract(supply, '$.gas_rate.calorific_value_mj_m3') IS NOT NULL
  AND json_extract(supply, '$.gas_rate.fuel') IS NULL
ORDER BY date DESC, visit DESC LIMIT 1
"""


def last_heat(con: sqlite3.Connection, fuel: str, until: dt.date) -> LastHeat | None:
    """Return the calorific value a gas was last rated with up to a day, at any premises; None without one."""
    row = con.execute(_HEAT, (fuel, until.isoformat(), LOOKED_THROUGH)).fetchone()
    if row is None:
        return None
    rate = json.loads(row["supply"], parse_float=str, parse_int=str)["gas_rate"]
    return LastHeat(
        str(rate["calorific_value_mj_m3"]),
        dt.date.fromisoformat(rate.get("calorific_value_date") or row["date"]),
    )
