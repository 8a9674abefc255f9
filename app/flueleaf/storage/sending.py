"""Which papers went to whom, and which are still to be sent.

The log only grows: a sending noted by mistake is taken back by a further entry, whose way is ``TAKEN_BACK``.
A paper counts as sent while more of its sendings stand than were taken back.
"""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueleaf.storage.rows import insert

if TYPE_CHECKING:
    from sqlite_utils import Database

TAKEN_BACK = "taken back"
STANDING = (
    "(SELECT count(*) FILTER (WHERE l.way <> :back) - count(*) FILTER (WHERE l.way = :back)"
    " FROM send_log l WHERE l.paper_id = s.id)"
)


@dataclass(frozen=True, slots=True)
class Sending:
    """One sending; ``way`` is how (printed, mailed, …), ``recipient`` whom to."""

    sent_at: dt.datetime
    way: str
    recipient: str = ""
    note: str = ""


def note_sent(tx: Database, number: str, sending: Sending) -> None:
    """Note that a paper was sent.

    Raises:
        LookupError: there is no paper of that number.
    """
    row = tx.execute("SELECT id FROM sealed_paper WHERE number = ?", (number,)).fetchone()
    if row is None:
        raise LookupError(f"no paper {number}")
    values = {
        "paper_id": row["id"],
        "sent_at": sending.sent_at.isoformat(),
        "way": sending.way,
        "recipient": sending.recipient,
        "note": sending.note,
    }
    insert(tx, "send_log", values)


def sendings(con: sqlite3.Connection, number: str) -> list[Sending]:
    """Return how a paper was sent, oldest first."""
    found = con.execute(
        "SELECT l.* FROM send_log l JOIN sealed_paper s ON s.id = l.paper_id"
        " WHERE s.number = ? ORDER BY l.id",
        (number,),
    )
    return [
        Sending(dt.datetime.fromisoformat(row["sent_at"]), row["way"], row["recipient"], row["note"])
        for row in found
    ]


def is_sent(con: sqlite3.Connection, number: str) -> bool:
    """Return whether a sending of a paper stands.

    Raises:
        LookupError: there is no paper of that number.
    """
    row = con.execute(
        f"SELECT {STANDING} AS standing FROM sealed_paper s WHERE s.number = :number",
        {"number": number, "back": TAKEN_BACK},
    ).fetchone()
    if row is None:
        raise LookupError(f"no paper {number}")
    return bool(row["standing"] > 0)


def unsent(con: sqlite3.Connection) -> list[str]:
    """Return the numbers of the papers of which no sending stands, in the order of the chain."""
    found = con.execute(
        f"SELECT s.number FROM sealed_paper s WHERE {STANDING} <= 0 ORDER BY s.id", {"back": TAKEN_BACK}
    )
    return [row["number"] for row in found]
