"""Which papers went to whom, and which are still to be sent."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueleaf.storage.papers import SealedPaper, paper_of
from flueleaf.storage.rows import insert

if TYPE_CHECKING:
    from sqlite_utils import Database


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


def unsent(con: sqlite3.Connection, *, most: int = 200) -> list[SealedPaper]:
    """Return the papers never sent, newest first."""
    found = con.execute(
        "SELECT * FROM sealed_paper s WHERE NOT EXISTS (SELECT 1 FROM send_log l WHERE l.paper_id = s.id)"
        " ORDER BY s.id DESC LIMIT ?",
        (most,),
    )
    return [paper_of(row) for row in found]
