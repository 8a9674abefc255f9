"""Sealed papers: numbered without gaps, chained, and kept byte for byte as issued."""

from __future__ import annotations

import datetime as dt
import json
import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueleaf.domain.records import sealing
from flueleaf.storage import numbering
from flueleaf.storage.rows import insert

if TYPE_CHECKING:
    from sqlite_utils import Database


@dataclass(frozen=True, slots=True)
class SealedPaper:
    """An issued paper without its body.

    Attributes:
        kind: the paper kind, as in ``commissioning record``.
        date: the day printed on it.
        visit_ref: number of the visit's row; customer_id, premises_id: whom and what place it concerns.
        facts_sha256, pdf_sha256, fingerprint, seal: see ``domain.records.sealing``.
        replaces: number of the paper it corrects.
        issued_at: the moment of sealing, with its zone.
    """

    number: str
    kind: str
    date: dt.date
    issued_at: dt.datetime
    fingerprint: str
    previous_fingerprint: str
    seal: str
    previous_seal: str
    facts_sha256: str
    pdf_sha256: str
    visit_ref: int | None = None
    customer_id: int | None = None
    premises_id: int | None = None
    replaces: str | None = None
    id: int = 0


def paper_number(series: str, year: int, ordinal: int) -> str:
    """Return the number of a paper, as in ``R-2026-0001``."""
    return f"{series}-{year}-{ordinal:04d}"


def parts_of(number: str) -> tuple[str, int, int]:
    """Return series, year and ordinal of a number.

    Raises:
        ValueError: it is no number of a paper.
    """
    series, year, ordinal = number.rsplit("-", 2)
    parts = series, int(year), int(ordinal)
    if not series or paper_number(*parts) != number:
        raise ValueError(f"{number} is no number of a paper")
    return parts


def next_number(tx: Database, series: str, year: int) -> str:
    """Take the next number of a series; it is given back if the transaction fails."""
    taken = tx.execute(
        "UPDATE counter SET last = last + 1 WHERE series = ? AND year = ?", (series, year)
    ).rowcount
    if not taken:
        first = numbering.first_of(tx.conn, series, year)
        tx.execute("INSERT INTO counter (series, year, last) VALUES (?, ?, ?)", (series, year, first))
    row = tx.execute("SELECT last FROM counter WHERE series = ? AND year = ?", (series, year)).fetchone()
    return paper_number(series, year, row["last"])


def last_chain(con: sqlite3.Connection) -> tuple[str, str]:
    """Return fingerprint and seal of the newest paper, of a book without papers the chain's beginning."""
    row = con.execute("SELECT fingerprint, seal FROM sealed_paper ORDER BY id DESC LIMIT 1").fetchone()
    return (sealing.GENESIS, sealing.GENESIS) if row is None else (row["fingerprint"], row["seal"])


def add_sealed(
    tx: Database,
    *,
    number: str,
    kind: str,
    date: dt.date,
    issued_at: dt.datetime,
    facts: str,
    pdf: bytes,
    visit_ref: int | None = None,
    customer_id: int | None = None,
    premises_id: int | None = None,
    replaces: str | None = None,
) -> SealedPaper:
    """Seal a paper: the newest number of its series, next in the chain.

    Args:
        tx: the transaction in which ``next_number`` gave the number.
        number: of the paper.
        kind: the paper kind.
        date: printed on it.
        issued_at: the moment, with its zone.
        facts: canonical JSON (``sealing.canonical_json``) of what it was drawn from.
        pdf: its bytes.
        visit_ref: number of the visit's row.
        customer_id: whom it concerns.
        premises_id: what place it concerns.
        replaces: number of the paper it corrects.

    Raises:
        ValueError: a moment without zone, a number of another form, facts that are no JSON.
        sqlite3.IntegrityError: the number is not the newest of its series.
    """
    if issued_at.tzinfo is None:
        raise ValueError("the moment of sealing has a zone")
    json.loads(facts)
    series, year, ordinal = parts_of(number)
    previous_fingerprint, previous_seal = last_chain(tx.conn)
    fingerprint = sealing.fingerprint(number, kind, facts, previous_fingerprint)
    pdf_sha256 = sealing.sha256_of_bytes(pdf)
    row: dict[str, str | int | None] = {
        "number": number,
        "series": series,
        "year": year,
        "ordinal": ordinal,
        "kind": kind,
        "date": date.isoformat(),
        "visit_ref": visit_ref,
        "customer_id": customer_id,
        "premises_id": premises_id,
        "facts_sha256": sealing.sha256_of_text(facts),
        "pdf_sha256": pdf_sha256,
        "fingerprint": fingerprint,
        "previous_fingerprint": previous_fingerprint,
        "seal": sealing.seal(fingerprint, pdf_sha256, previous_seal),
        "previous_seal": previous_seal,
        "replaces": replaces,
        "issued_at": issued_at.isoformat(),
    }
    paper_id = insert(tx, "sealed_paper", row)
    insert(tx, "paper_body", {"paper_id": paper_id, "facts": facts, "pdf": pdf})
    return sealed(tx.conn, number)


def sealed(con: sqlite3.Connection, number: str) -> SealedPaper:
    """Return a sealed paper.

    Raises:
        LookupError: there is no paper of that number.
    """
    row = con.execute("SELECT * FROM sealed_paper WHERE number = ?", (number,)).fetchone()
    if row is None:
        raise LookupError(f"no paper {number}")
    return paper_of(row)


def body(con: sqlite3.Connection, number: str) -> tuple[str, bytes]:
    """Return the facts (JSON text) and the PDF of a paper, as issued.

    Raises:
        LookupError: there is no paper of that number, or its body is gone.
    """
    row = con.execute(
        "SELECT b.facts, b.pdf FROM sealed_paper s JOIN paper_body b ON b.paper_id = s.id WHERE s.number = ?",
        (number,),
    ).fetchone()
    if row is None or row["pdf"] is None:
        raise LookupError(f"no body of a paper {number}")
    return row["facts"], row["pdf"]


def all_papers(con: sqlite3.Connection) -> list[SealedPaper]:
    """Return every sealed paper in the order of the chain."""
    return [paper_of(row) for row in con.execute("SELECT * FROM sealed_paper ORDER BY id")]


def papers_of_visit(con: sqlite3.Connection, visit_ref: int) -> list[SealedPaper]:
    """Return the papers of a visit in the order they were sealed."""
    found = con.execute("SELECT * FROM sealed_paper WHERE visit_ref = ? ORDER BY id", (visit_ref,))
    return [paper_of(row) for row in found]


def papers_of_premises(con: sqlite3.Connection, premises_id: int) -> list[SealedPaper]:
    """Return the papers of some premises, newest first."""
    found = con.execute(
        "SELECT * FROM sealed_paper WHERE premises_id = ? ORDER BY date DESC, id DESC", (premises_id,)
    )
    return [paper_of(row) for row in found]


def paper_of(row: sqlite3.Row) -> SealedPaper:
    """Return the sealed paper of a row."""
    return SealedPaper(
        number=row["number"],
        kind=row["kind"],
        date=dt.date.fromisoformat(row["date"]),
        issued_at=dt.datetime.fromisoformat(row["issued_at"]),
        fingerprint=row["fingerprint"],
        previous_fingerprint=row["previous_fingerprint"],
        seal=row["seal"],
        previous_seal=row["previous_seal"],
        facts_sha256=row["facts_sha256"],
        pdf_sha256=row["pdf_sha256"],
        visit_ref=row["visit_ref"],
        customer_id=row["customer_id"],
        premises_id=row["premises_id"],
        replaces=row["replaces"],
        id=row["id"],
    )
