"""Every way of tampering with a book is found, with its code."""

from __future__ import annotations

import datetime as dt
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from tests.storage.samples import UTC, registered, seal_papers

from flueleaf.domain.records import sealing
from flueleaf.storage import papers, verify
from flueleaf.storage.book import Book


@contextmanager
def unguarded(path: Path) -> Iterator[sqlite3.Connection]:
    """Give a plain connection on which every trigger is away for a while."""
    with closing(sqlite3.connect(path, isolation_level=None)) as con:
        triggers = con.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
        con.execute("BEGIN")
        for name, _ in triggers:
            con.execute(f"DROP TRIGGER {name}")
        yield con
        for _, sql in triggers:
            con.execute(sql)
        con.execute("COMMIT")


@pytest.fixture
def sealed(book: Book, path: Path) -> Path:
    """A book with four records and one invoice, closed."""
    seal_papers(book, 4)
    seal_papers(book, 1, series="I")
    assert verify.verify(book.con) == []
    book.close()
    return path


def faults(path: Path) -> set[tuple[str, str]]:
    with Book.open(path, read_only=True) as book:
        before = path.read_bytes()
        found = verify.verify(book.con)
        assert path.read_bytes() == before
        assert all(fault.text for fault in found)
        return {(fault.code, fault.paper) for fault in found}


R2, R3, R4, I1 = "R-2026-0002", "R-2026-0003", "R-2026-0004", "I-2026-0001"
H = "'" + "a" * 64 + "'"
TAMPERED = {
    "facts": ('UPDATE paper_body SET facts = \'{"number":"x"}\' WHERE paper_id = 2', {("facts-changed", R2)}),
    "pdf": ("UPDATE paper_body SET pdf = x'2550' WHERE paper_id = 2", {("pdf-changed", R2)}),
    "blank body": (
        "UPDATE paper_body SET facts = NULL, pdf = NULL WHERE paper_id = 2",
        {("body-missing", R2)},
    ),
    "no body": ("DELETE FROM paper_body WHERE paper_id = 2", {("body-missing", R2)}),
    "kind": ("UPDATE sealed_paper SET kind = 'invoice' WHERE id = 2", {("fingerprint-wrong", R2)}),
    "facts hash": (
        f"UPDATE sealed_paper SET facts_sha256 = {H} WHERE id = 2",
        {("facts-changed", R2), ("fingerprint-wrong", R2)},
    ),
    "pdf hash": (
        f"UPDATE sealed_paper SET pdf_sha256 = {H} WHERE id = 2",
        {("pdf-changed", R2), ("seal-wrong", R2)},
    ),
    "fingerprint": (
        f"UPDATE sealed_paper SET fingerprint = {H} WHERE id = 2",
        {("fingerprint-wrong", R2), ("seal-wrong", R2), ("chain-broken", R3)},
    ),
    "seal": (f"UPDATE sealed_paper SET seal = {H} WHERE id = 2", {("seal-wrong", R2), ("chain-broken", R3)}),
    "previous fingerprint": (
        f"UPDATE sealed_paper SET previous_fingerprint = {H} WHERE id = 2",
        {("fingerprint-wrong", R2), ("chain-broken", R2)},
    ),
    "previous seal": (
        f"UPDATE sealed_paper SET previous_seal = {H} WHERE id = 2",
        {("seal-wrong", R2), ("chain-broken", R2)},
    ),
    "first link": (
        f"UPDATE sealed_paper SET previous_seal = {H} WHERE id = 1",
        {("seal-wrong", "R-2026-0001"), ("chain-broken", "R-2026-0001")},
    ),
    "number": (
        "UPDATE sealed_paper SET number = 'R-2026-0009' WHERE id = 2",
        {
            ("fingerprint-wrong", "R-2026-0009"),
            ("number-wrong", "R-2026-0009"),
            ("row-differs", "R-2026-0009"),
        },
    ),
    "ordinal": (
        "UPDATE sealed_paper SET ordinal = 6 WHERE id = 4",
        {
            ("number-wrong", R4),
            ("number-missing", R4),
            ("number-missing", "R-2026-0005"),
            ("counter-wrong", "R-2026-0006"),
        },
    ),
    "paper taken out": (
        "DELETE FROM paper_body WHERE paper_id = 2; DELETE FROM sealed_paper WHERE id = 2",
        {("chain-broken", R3), ("number-missing", R2)},
    ),
    "newest taken out": (
        "DELETE FROM paper_body WHERE paper_id = 5; DELETE FROM sealed_paper WHERE id = 5",
        {("newest-missing", I1)},
    ),
    "two newest taken out": (
        "DELETE FROM paper_body WHERE paper_id > 3; DELETE FROM sealed_paper WHERE id > 3",
        {("newest-missing", I1), ("newest-missing", R4)},
    ),
    "counter back": ("UPDATE counter SET last = 3 WHERE series = 'R'", {("counter-wrong", R4)}),
    "counter ahead": ("UPDATE counter SET last = 5 WHERE series = 'R'", {("newest-missing", "R-2026-0005")}),
    "no counter": ("DELETE FROM counter WHERE series = 'I'", {("counter-wrong", I1)}),
    "start put behind a paper": (
        "INSERT INTO series_start (series, year, first) VALUES ('R', 2026, 3)",
        {("start-wrong", "R-2026-0001"), ("start-wrong", R2)},
    ),
    "start put before the papers": (
        "DELETE FROM paper_body WHERE paper_id = 5; DELETE FROM sealed_paper WHERE id = 5;"
        " INSERT INTO series_start (series, year, first) VALUES ('I', 2026, 2)",
        {("counter-wrong", "I-2026-0002")},
    ),
    "papers swapped": (
        "UPDATE sealed_paper SET id = 99 WHERE id = 2; UPDATE sealed_paper SET id = 2 WHERE id = 3;"
        " UPDATE sealed_paper SET id = 3 WHERE id = 99;"
        " UPDATE paper_body SET paper_id = 99 WHERE paper_id = 2;"
        " UPDATE paper_body SET paper_id = 2 WHERE paper_id = 3;"
        " UPDATE paper_body SET paper_id = 3 WHERE paper_id = 99",
        {("chain-broken", R2), ("chain-broken", R3), ("chain-broken", R4)},
    ),
    "dangling": (
        "INSERT INTO send_log (paper_id, sent_at, way, recipient) VALUES (77, '', '', '')",
        {("row-points-nowhere", "")},
    ),
}


@pytest.mark.parametrize("case", TAMPERED)
def test_tampering_is_found(sealed: Path, case: str) -> None:
    sql, expected = TAMPERED[case]
    with unguarded(sealed) as con:
        for statement in sql.split("; "):
            con.execute(statement)
    assert faults(sealed) == expected


@pytest.mark.parametrize("column", ["number", "kind", "date", "issued_at", "replaces"])
def test_a_column_beside_the_facts_says_what_the_facts_say(book: Book, path: Path, column: str) -> None:
    at = dt.datetime(2026, 11, 20, 20, 15, tzinfo=UTC)
    for _ in range(2):
        with book.writing() as tx:
            number = papers.next_number(tx, "R", 2026)
            facts = {
                "number": number,
                "kind": "k",
                "date": "2026-11-20",
                "issued_at": at.isoformat(),
                "replaces": "",
            }
            papers.add_sealed(
                tx,
                number=number,
                kind="k",
                date=at.date(),
                issued_at=at,
                facts=sealing.canonical_json(facts),
                pdf=b"",
            )
    assert verify.verify(book.con) == []
    book.close()
    values = {
        "number": "R-2026-0007",
        "kind": "other",
        "date": "2026-11-21",
        "issued_at": "later",
        "replaces": "R-2026-0001",
    }
    with unguarded(path) as con:
        con.execute(f"UPDATE sealed_paper SET {column} = ? WHERE id = 2", (values[column],))
    number = values["number"] if column == "number" else R2
    assert ("row-differs", number) in faults(path)


def test_facts_that_are_no_object_are_taken_as_they_are(book: Book) -> None:
    with book.writing() as tx:
        number = papers.next_number(tx, "R", 2026)
        at = dt.datetime(2026, 1, 1, tzinfo=UTC)
        papers.add_sealed(tx, number=number, kind="k", date=at.date(), issued_at=at, facts="[]", pdf=b"x")
    assert verify.verify(book.con) == []


GUARDS = [
    "sealed_paper_is_not_changed", "sealed_paper_is_not_removed", "sealed_paper_is_not_replaced",
    "sealed_paper_takes_the_newest_number", "sealed_paper_follows_the_chain", "paper_body_is_not_changed",
    "paper_body_is_not_removed", "paper_body_is_not_replaced", "counter_starts_at_its_first",
    "counter_goes_up_by_one", "counter_stays", "judged_is_frozen", "series_start_is_set_before_use",
    "series_start_is_changed_before_use", "series_start_stays", "series_letters_belong_to_one",
    "series_letters_are_not_changed", "series_letters_are_not_removed",
]  # fmt: skip


@pytest.mark.parametrize("guard", GUARDS)
def test_a_guard_that_is_gone_or_blunted_is_missed(sealed: Path, guard: str) -> None:
    with closing(sqlite3.connect(sealed, isolation_level=None)) as con:
        con.execute(f"DROP TRIGGER {guard}")
        assert faults(sealed) == {("guard-missing", "")}
        con.execute(f"CREATE TRIGGER {guard} BEFORE DELETE ON judged BEGIN SELECT 1; END")
        assert faults(sealed) == {("guard-missing", "")}


def test_a_byte_flipped_in_the_file_is_found(sealed: Path) -> None:
    data = bytearray(sealed.read_bytes())
    at = data.index(b"%PDF-R-2026-0003")
    data[at + 1] ^= 1
    sealed.write_bytes(bytes(data))
    assert faults(sealed) == {("pdf-changed", R3)}


def test_a_page_overwritten_is_found(sealed: Path) -> None:
    data = bytearray(sealed.read_bytes())
    with closing(sqlite3.connect(sealed)) as con:
        root = con.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'sealed_paper'").fetchone()[0]
    size = int.from_bytes(data[16:18], "big")
    data[(root - 1) * size : root * size] = b"\x07" * size
    sealed.write_bytes(bytes(data))
    assert ("file-damaged", "") in faults(sealed)


def test_facts_that_are_no_json_are_found_even_with_their_hash(sealed: Path) -> None:
    with unguarded(sealed) as con:
        con.execute("UPDATE paper_body SET facts = '{' WHERE paper_id = 2")
        con.execute("UPDATE sealed_paper SET facts_sha256 = ? WHERE id = 2", (sealing.sha256_of_text("{"),))
    assert faults(sealed) == {("file-damaged", ""), ("fingerprint-wrong", R2)}


def test_an_index_that_tells_other_than_its_table_is_found(book: Book, path: Path) -> None:
    registered(book)
    book.close()
    data = path.read_bytes()
    at = data.index(b"maud ferrow" + b"qx37tb")  # in the index the two keys stand side by side
    path.write_bytes(data[:at] + b"n" + data[at + 1 :])
    assert faults(path) == {("file-damaged", "")}


def test_a_text_that_is_no_text_is_found(sealed: Path) -> None:
    data = sealed.read_bytes()
    assert data.count(b"service record") > 3
    sealed.write_bytes(data.replace(b"service record", b"service \xffecord"))
    found = faults(sealed)
    assert {code for code, _ in found} >= {"file-damaged"}
