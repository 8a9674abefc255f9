"""What is due: at most one open item per rule and appliance, instrument or premises."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueleaf.domain.words import as_kept, lines
from flueleaf.storage.rows import date_of, insert, iso

if TYPE_CHECKING:
    from sqlite_utils import Database


@dataclass(frozen=True, slots=True)
class DueItem:
    """An open due item with whom and what it concerns.

    Attributes:
        what: the appliance, the instrument, or the address.
        premises, customer: as shown; "" for an instrument.
        why: how the date came about.
        window_opens: first day on which doing it keeps the anniversary.
    """

    id: int
    date: dt.date
    rule: str
    what: str
    premises: str
    customer: str
    why: str
    window_opens: dt.date | None = None
    appliance_id: int | None = None
    instrument_id: int | None = None
    premises_id: int | None = None
    customer_id: int | None = None


def set_due(
    tx: Database,
    *,
    rule: str,
    date: dt.date,
    reason: str,
    appliance_id: int | None = None,
    instrument_id: int | None = None,
    premises_id: int | None = None,
    window_opens: dt.date | None = None,
    done_by: int | None = None,
    done_on: dt.date | None = None,
) -> int:
    """Set when something is due, in place of the open item of the same rule and subject; return the row's id.

    Args:
        tx: the open transaction.
        rule: as in the rule tables, as in ``yearly service``.
        date: due on.
        reason: how the date came about.
        appliance_id: the subject, or
        instrument_id: the subject, or
        premises_id: the subject; exactly one of the three.
        window_opens: first day on which doing it keeps the anniversary.
        done_by: number of the row of the visit that did the open item.
        done_on: the day on which the open item was done; without it, it is dropped as planned wrongly.

    Raises:
        sqlite3.IntegrityError: not exactly one subject.
    """
    subject = {"appliance_id": appliance_id, "instrument_id": instrument_id, "premises_id": premises_id}
    # One column by name, so that its index serves: the other two are null in most rows.
    column = next((column for column, number in subject.items() if number is not None), "id")
    open_one = tx.execute(
        f"SELECT id FROM due_item WHERE closed_on IS NULL AND rule = ? AND {column} = ?",
        (rule, subject.get(column)),
    ).fetchone()
    if open_one is not None and done_on is None:
        tx.execute("DELETE FROM due_item WHERE id = ?", (open_one["id"],))
    elif open_one is not None and done_on is not None:
        close(tx, open_one["id"], done_on, done_by=done_by)
    row = {"rule": rule, "due": iso(date), "window_opens": iso(window_opens), "reason": reason, **subject}
    return insert(tx, "due_item", row)


def close(tx: Database, item_id: int, on: dt.date, *, done_by: int | None = None) -> None:
    """Close an open item.

    Raises:
        LookupError: there is no such open item.
    """
    changed = tx.execute(
        "UPDATE due_item SET closed_on = ?, done_by = ? WHERE id = ? AND closed_on IS NULL",
        (on.isoformat(), done_by, item_id),
    )
    if changed.rowcount != 1:
        raise LookupError(f"no open due item {item_id}")


_DUE = """
SELECT d.*, a.kind, a.make, a.model, a.location, i.name AS instrument, i.serial AS instrument_serial,
       p.id AS at_premises,
       replace(p.address, char(10), ', ') || iif(p.postcode = '', '', ' ' || p.postcode) AS address,
       c.id AS customer_id, c.name AS customer
FROM due_item d
LEFT JOIN appliance a ON a.id = d.appliance_id
LEFT JOIN instrument i ON i.id = d.instrument_id
LEFT JOIN premises p ON p.id = ifnull(d.premises_id, a.premises_id)
LEFT JOIN customer c ON c.id = p.customer_id
WHERE d.closed_on IS NULL
"""


def due_until(con: sqlite3.Connection, date: dt.date) -> list[DueItem]:
    """Return the open items due up to a day, the earliest first."""
    found = con.execute(f"{_DUE} AND d.due <= ? ORDER BY d.due, d.id", (date.isoformat(),))
    return [_item_of(row) for row in found]


def due_of_appliance(con: sqlite3.Connection, appliance_id: int) -> list[DueItem]:
    """Return the open items of an appliance, the earliest first."""
    found = con.execute(f"{_DUE} AND d.appliance_id = ? ORDER BY d.due, d.id", (appliance_id,))
    return [_item_of(row) for row in found]


def due_of_premises(con: sqlite3.Connection, premises_id: int) -> list[DueItem]:
    """Return the open items of some premises and of the appliances there, the earliest first."""
    found = con.execute(
        f"{_DUE} AND (d.premises_id = :id OR a.premises_id = :id) ORDER BY d.due, d.id", {"id": premises_id}
    )
    return [_item_of(row) for row in found]


def _item_of(row: sqlite3.Row) -> DueItem:
    return DueItem(
        id=row["id"],
        date=dt.date.fromisoformat(row["due"]),
        rule=row["rule"],
        what=_what(row),
        premises=row["address"] or "",
        customer=row["customer"] or "",
        why=row["reason"],
        window_opens=date_of(row["window_opens"]),
        appliance_id=row["appliance_id"],
        instrument_id=row["instrument_id"],
        premises_id=row["at_premises"],
        customer_id=row["customer_id"],
    )


def _what(row: sqlite3.Row) -> str:
    if row["instrument_id"] is not None:
        return " ".join(part for part in (row["instrument"], row["instrument_serial"]) if part)
    if row["appliance_id"] is not None:
        name = " ".join(part for part in (row["make"], row["model"]) if part) or as_kept(row["kind"])
        return lines((part for part in (name, row["location"]) if part), between=", ")
    return str(row["address"])
