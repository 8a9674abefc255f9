"""Photographs in the book: a row for each visit that shows one, the picture itself once.

What becomes of them when a draft is put away or signed off stands in the schema, as triggers.
"""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from flueleaf.domain.records import sealing
from flueleaf.storage.rows import insert, update

if TYPE_CHECKING:
    from sqlite_utils import Database

PhotoKind = Literal["slip", "plate", "other"]


@dataclass(frozen=True, slots=True)
class Attachment:
    """A photograph without its bytes.

    Attributes:
        id: of its row.
        visit_id: of the draft or signed-off visit it stands beside.
        kind: what it shows.
        media_type: as in ``image/jpeg``.
        sha256: of the bytes as they were added.
        added: the moment, with its zone.
        note: a name for it, "" if none.
        turn: how far it is turned to the right, in degrees: 0, 90, 180 or 270.
        shown: whether it is the one that stood beside the fields last.
    """

    id: int
    visit_id: str
    kind: PhotoKind
    media_type: str
    sha256: str
    added: dt.datetime
    note: str = ""
    turn: int = 0
    shown: bool = False


def add(
    tx: Database, visit_id: str, data: bytes, *, kind: PhotoKind, media_type: str, added: dt.datetime
) -> Attachment:
    """Add a photograph to a visit; the same one again is the one there, brought back if it was put away."""
    sha256 = sealing.sha256_of_bytes(data)
    there = tx.execute(
        "SELECT id FROM attachment WHERE visit_id = ? AND sha256 = ?", (visit_id, sha256)
    ).fetchone()
    if there is not None:
        update(tx, "attachment", there["id"], {"put_away": None})
        return attachment(tx.conn, there["id"])
    if tx.execute("SELECT 1 FROM attachment_body WHERE sha256 = ?", (sha256,)).fetchone() is None:
        insert(tx, "attachment_body", {"sha256": sha256, "bytes": data})
    last = tx.execute(
        "SELECT max(position) AS last FROM attachment WHERE visit_id = ?", (visit_id,)
    ).fetchone()
    row: dict[str, str | int | None] = {
        "visit_id": visit_id,
        "position": (last["last"] or 0) + 1,
        "kind": kind,
        "media_type": media_type,
        "sha256": sha256,
        "added": added.isoformat(),
        "note": "",
        "turn": 0,
        "put_away": None,
        "shown": 0,
    }
    return attachment(tx.conn, insert(tx, "attachment", row))


def attachment(con: sqlite3.Connection, attachment_id: int) -> Attachment:
    """Return one photograph, put away or not.

    Raises:
        LookupError: there is none of that id.
    """
    row = con.execute("SELECT * FROM attachment WHERE id = ?", (attachment_id,)).fetchone()
    if row is None:
        raise LookupError(f"no attachment {attachment_id}")
    return _of(row)


def of_visit(con: sqlite3.Connection, visit_id: str) -> list[Attachment]:
    """Return the photographs of a draft or visit in the order they were added, without those put away."""
    rows = con.execute(
        "SELECT * FROM attachment WHERE visit_id = ? AND put_away IS NULL ORDER BY position", (visit_id,)
    )
    return [_of(row) for row in rows]


def of_appliance(con: sqlite3.Connection, appliance_id: int) -> list[Attachment]:
    """Return the photographs of the signed-off visits to an appliance, latest visit first."""
    rows = con.execute(
        "SELECT a.* FROM attachment a JOIN visit v ON v.visit_id = a.visit_id"
        " WHERE a.put_away IS NULL AND v.id IN (SELECT visit_ref FROM work WHERE appliance_id = ?)"
        " ORDER BY v.date DESC, v.id DESC, a.position",
        (appliance_id,),
    )
    return [_of(row) for row in rows]


def latest_put_away(con: sqlite3.Connection, visit_id: str) -> Attachment | None:
    """Return the photograph of a draft that was put away last, None if none is."""
    row = con.execute(
        "SELECT * FROM attachment WHERE visit_id = ? AND put_away IS NOT NULL"
        " ORDER BY put_away DESC, position DESC LIMIT 1",
        (visit_id,),
    ).fetchone()
    return None if row is None else _of(row)


def body(con: sqlite3.Connection, attachment_id: int) -> bytes:
    """Return the bytes of a photograph as they were added.

    Raises:
        LookupError: there is none of that id.
    """
    row = con.execute(
        "SELECT b.bytes FROM attachment a JOIN attachment_body b ON b.sha256 = a.sha256 WHERE a.id = ?",
        (attachment_id,),
    ).fetchone()
    if row is None:
        raise LookupError(f"no attachment {attachment_id}")
    return bytes(row["bytes"])


def change(
    tx: Database,
    attachment_id: int,
    *,
    kind: PhotoKind | None = None,
    note: str | None = None,
    turn: int | None = None,
) -> None:
    """Change what is said of a photograph; what is not given stays.

    Raises:
        LookupError: there is none of that id.
    """
    given = {"kind": kind, "note": note, "turn": turn}
    update(
        tx, "attachment", attachment_id, {name: value for name, value in given.items() if value is not None}
    )


def put_away(tx: Database, attachment_id: int, at: dt.datetime | None) -> None:
    """Put a photograph away, or bring it back with None.

    Raises:
        LookupError: there is none of that id.
    """
    update(tx, "attachment", attachment_id, {"put_away": None if at is None else at.isoformat()})


def show(tx: Database, visit_id: str, attachment_id: int | None) -> None:
    """Note which photograph of a visit stands beside the fields, None for none."""
    tx.execute("UPDATE attachment SET shown = (id IS ?) WHERE visit_id = ?", (attachment_id, visit_id))


def _of(row: sqlite3.Row) -> Attachment:
    return Attachment(
        id=row["id"],
        visit_id=row["visit_id"],
        kind=row["kind"],
        media_type=row["media_type"],
        sha256=row["sha256"],
        added=dt.datetime.fromisoformat(row["added"]),
        note=row["note"],
        turn=row["turn"],
        shown=bool(row["shown"]),
    )
