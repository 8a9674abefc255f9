"""Whether a book is whole: file, references, guards, the chain of sealed papers, counters.

Codes of faults:

* ``file-damaged``: SQLite finds the file damaged, or cannot read part of it
* ``row-points-nowhere``: a row refers to one that is not there
* ``guard-missing``: a trigger is gone or was changed: it protects papers, numbers and verdicts, or keeps the
  finder and the photographs
* ``part-missing``: a table or an index is gone
* ``facts-changed``, ``pdf-changed``: the body of a paper is not the one that was sealed
* ``body-missing``: a paper without facts and PDF
* ``fingerprint-wrong``, ``seal-wrong``: a paper's hash is not what its own columns give
* ``chain-broken``: a paper does not follow the one before it
* ``row-differs``: number, kind, date, moment of issue or replaced number are not those in the facts
* ``number-wrong``: a number does not spell its series, year and ordinal
* ``number-missing``: a number inside a series was never sealed, or its paper is gone
* ``newest-missing``: the counter of a series has given numbers beyond its newest paper
* ``counter-wrong``: the counter of a series is missing, behind its newest paper or before its first number
* ``photo-damaged``: a photograph is not the one that was added
* ``start-wrong``: a paper has a number before the one its series starts with

What an unkeyed chain cannot show: a chain recomputed whole, together with its counters. Only the fingerprints
on papers already handed out contradict it.
"""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from flueleaf.domain.records import sealing
from flueleaf.storage.papers import paper_number
from flueleaf.storage.parts import lost_parts


@dataclass(frozen=True, slots=True)
class VerifyFault:
    """One failed check; ``paper`` is the number of the paper it concerns, "" where it concerns none."""

    code: str
    paper: str
    text: str


def verify(con: sqlite3.Connection) -> list[VerifyFault]:
    """Check the book as it lies there; nothing is written.

    Returns:
        The faults found; none for a whole book.
    """
    checks: tuple[Callable[[sqlite3.Connection], Iterator[VerifyFault]], ...] = (
        _file, _references, _guards, _bodies, _chain, _numbers, _photographs,
    )  # fmt: skip
    faults: list[VerifyFault] = []
    for check in checks:
        try:
            faults.extend(check(con))
        except (sqlite3.DatabaseError, ValueError, TypeError) as error:  # damage may look like any value
            faults.append(VerifyFault("file-damaged", "", f"The file cannot be read through: {error}."))
    return list(dict.fromkeys(faults))


def _file(con: sqlite3.Connection) -> Iterator[VerifyFault]:
    for row in con.execute("PRAGMA integrity_check"):
        if row[0] != "ok":
            yield VerifyFault("file-damaged", "", f"SQLite reports: {row[0]}.")


def _references(con: sqlite3.Connection) -> Iterator[VerifyFault]:
    for row in con.execute("PRAGMA foreign_key_check"):
        text = f"Row {row['rowid']} of {row['table']} refers to a row of {row['parent']} that is not there."
        yield VerifyFault("row-points-nowhere", "", text)


def _guards(con: sqlite3.Connection) -> Iterator[VerifyFault]:
    for kind, name in lost_parts(con):
        if kind == "trigger":
            yield VerifyFault("guard-missing", "", f"The guard “{name}” is gone or was changed.")
        else:
            yield VerifyFault("part-missing", "", f"The {kind} “{name}” is gone.")


def _bodies(con: sqlite3.Connection) -> Iterator[VerifyFault]:
    rows = con.execute(
        "SELECT s.*, CAST(b.facts AS BLOB) AS facts, b.pdf FROM sealed_paper s"
        " LEFT JOIN paper_body b ON b.paper_id = s.id ORDER BY s.id"
    )
    for row in rows:
        number = row["number"]
        if row["facts"] is None or row["pdf"] is None:
            yield VerifyFault("body-missing", number, f"The facts and the PDF of {number} are gone.")
            continue
        if sealing.sha256_of_bytes(row["facts"]) != row["facts_sha256"]:
            yield VerifyFault(
                "facts-changed", number, f"The facts of {number} are not those that were sealed."
            )
        else:
            yield from _beside_facts(row)
        if sealing.sha256_of_bytes(row["pdf"]) != row["pdf_sha256"]:
            yield VerifyFault("pdf-changed", number, f"The PDF of {number} is not the one that was sealed.")


def _photographs(con: sqlite3.Connection) -> Iterator[VerifyFault]:
    for row in con.execute("SELECT rowid, sha256 FROM attachment_body"):  # one picture in memory at a time
        found = con.execute("SELECT bytes FROM attachment_body WHERE rowid = ?", (row["rowid"],)).fetchone()
        if sealing.sha256_of_bytes(found["bytes"]) != row["sha256"]:
            text = f"The photograph {row['sha256'][:12]}… is not the one that was added."
            yield VerifyFault("photo-damaged", "", text)


def _beside_facts(row: sqlite3.Row) -> Iterator[VerifyFault]:
    facts = _flat(json.loads(row["facts"]))
    for key in ("number", "kind", "date", "issued_at", "replaces"):
        if key in facts and (facts[key] or None) != row[key]:
            text = f"{key} of {row['number']} reads “{row[key]}”; sealed was “{facts[key]}”."
            yield VerifyFault("row-differs", row["number"], text)


def _flat(facts: Any) -> dict[str, Any]:
    """Return the facts with those of the paper's head, which a bill keeps one level down, beside them."""
    found: dict[str, Any] = {}
    if isinstance(facts, dict):
        for inner in ("bill", "head"):
            found.update(_flat(facts.get(inner)))
        found.update({key: value for key, value in facts.items() if key not in ("bill", "head")})
    return found


def _chain(con: sqlite3.Connection) -> Iterator[VerifyFault]:
    fingerprint = seal = sealing.GENESIS
    before = ""
    for row in con.execute("SELECT * FROM sealed_paper ORDER BY id"):
        number = row["number"]
        if (row["previous_fingerprint"], row["previous_seal"]) != (fingerprint, seal):
            follows = f"the paper before it, {before}" if before else "the beginning of the chain"
            yield VerifyFault("chain-broken", number, f"{number} does not follow {follows}.")
        recomputed = sealing.fingerprint_from_hash(
            number, row["kind"], row["facts_sha256"], row["previous_fingerprint"]
        )
        if recomputed != row["fingerprint"]:
            yield VerifyFault(
                "fingerprint-wrong", number, f"The fingerprint of {number} is not that of its content."
            )
        if sealing.seal(row["fingerprint"], row["pdf_sha256"], row["previous_seal"]) != row["seal"]:
            yield VerifyFault("seal-wrong", number, f"The seal of {number} is not that of its content.")
        fingerprint, seal, before = row["fingerprint"], row["seal"], number


def _numbers(con: sqlite3.Connection) -> Iterator[VerifyFault]:
    counters = {(row["series"], row["year"]): row["last"] for row in con.execute("SELECT * FROM counter")}
    firsts = {(row["series"], row["year"]): row["first"] for row in con.execute("SELECT * FROM series_start")}
    sealed: dict[tuple[str, int], set[int]] = defaultdict(set)
    for row in con.execute("SELECT number, series, year, ordinal FROM sealed_paper"):
        sealed[row["series"], row["year"]].add(row["ordinal"])
        if paper_number(row["series"], row["year"], row["ordinal"]) != row["number"]:
            yield VerifyFault(
                "number-wrong", row["number"], f"{row['number']} does not fit its place in the series."
            )
    for series, year in sorted(counters.keys() | sealed.keys()):
        key = series, year
        yield from _series(series, year, counters.get(key, 0), sealed[key], firsts.get(key, 1))


def _series(series: str, year: int, last: int, ordinals: set[int], first: int) -> Iterator[VerifyFault]:
    newest = max(ordinals, default=first - 1)
    for ordinal in sorted(ordinals):
        if ordinal < first:
            number = paper_number(series, year, ordinal)
            text = f"{number} comes before the number the series starts with, {first}."
            yield VerifyFault("start-wrong", number, text)
    for ordinal in sorted(set(range(first, newest)) - ordinals):
        number = paper_number(series, year, ordinal)
        yield VerifyFault("number-missing", number, f"There is no paper {number}, though later ones exist.")
    for ordinal in range(newest + 1, last + 1):
        number = paper_number(series, year, ordinal)
        yield VerifyFault(
            "newest-missing", number, f"The number {number} was given, but its paper is not there."
        )
    if last < max(newest, first):
        number = paper_number(series, year, max(newest, first))
        yield VerifyFault(
            "counter-wrong", number, f"The counter of series {series} {year} is behind {number}."
        )
