"""Sealed papers: unchangeable, chained, numbered without gaps."""

from __future__ import annotations

import datetime as dt
import hashlib
import sqlite3

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.storage.samples import RESULT, UTC, registered, seal_papers

from flueleaf.domain.records import sealing
from flueleaf.storage import papers, verify, visits
from flueleaf.storage.book import Book

AT = dt.datetime(2026, 11, 20, 20, 15, tzinfo=UTC)


def seal_one(book: Book, number: str | None = None, **other: object) -> papers.SealedPaper:
    with book.writing() as tx:
        values = {
            "number": number or papers.next_number(tx, "R", 2026),
            "kind": "service record",
            "date": dt.date(2026, 11, 20),
            "issued_at": AT,
            "facts": "{}",
            "pdf": b"%PDF",
            **other,
        }
        return papers.add_sealed(tx, **values)  # type: ignore[arg-type]


def test_a_paper_is_kept_byte_for_byte(book: Book) -> None:
    visit = registered(book)
    assert papers.last_chain(book.con) == (sealing.GENESIS, sealing.GENESIS)
    first = seal_one(
        book, facts='{"a":"ü"}', pdf=b"\x00\xff%PDF", premises_id=visit.premises.id, customer_id=1
    )
    second = seal_one(book, replaces=first.number)
    assert first.number == "R-2026-0001"
    assert first.previous_fingerprint == first.previous_seal == sealing.GENESIS
    assert (second.previous_fingerprint, second.previous_seal) == (first.fingerprint, first.seal)
    assert papers.last_chain(book.con) == (second.fingerprint, second.seal)
    assert papers.sealed(book.con, first.number) == first
    assert papers.body(book.con, first.number) == ('{"a":"ü"}', b"\x00\xff%PDF")
    assert first.pdf_sha256 == hashlib.sha256(b"\x00\xff%PDF").hexdigest()
    assert first.fingerprint == sealing.fingerprint(first.number, first.kind, '{"a":"ü"}', sealing.GENESIS)
    assert papers.all_papers(book.con) == [first, second]
    assert papers.papers_of_premises(book.con, 1) == [first]
    assert papers.papers_of_visit(book.con, 1) == []
    assert second.replaces == first.number
    assert second.issued_at == AT


def test_papers_of_a_visit_are_found(book: Book) -> None:
    visit = registered(book)
    with book.writing() as tx:
        ref = visits.add_visit(tx, visit, [RESULT])
    paper = seal_one(book, visit_ref=ref)
    assert papers.papers_of_visit(book.con, ref) == [paper]


def test_a_paper_that_is_not_there(book: Book) -> None:
    with pytest.raises(LookupError):
        papers.sealed(book.con, "R-2026-0001")
    with pytest.raises(LookupError):
        papers.body(book.con, "R-2026-0001")


CHANGES = [
    "UPDATE sealed_paper SET date = '2020-01-01'",
    "UPDATE sealed_paper SET number = 'R-2026-0009' WHERE id = 1",
    "DELETE FROM sealed_paper WHERE id = 2",
    "UPDATE paper_body SET facts = '{}', pdf = x'00'",
    "UPDATE paper_body SET facts = NULL, pdf = NULL",
    "DELETE FROM paper_body",
    "INSERT OR REPLACE INTO sealed_paper SELECT * FROM sealed_paper WHERE id = 2",
    "REPLACE INTO paper_body VALUES (1, '{}', x'00')",
    "UPDATE OR REPLACE paper_body SET paper_id = 1 WHERE paper_id = 2",
    "INSERT INTO paper_body VALUES (1, '{}', x'00') ON CONFLICT DO UPDATE SET pdf = x'00'",
    "UPDATE counter SET last = last - 1",
    "UPDATE counter SET last = last + 2",
    "DELETE FROM counter",
    "REPLACE INTO counter VALUES ('R', 2026, 1)",
    "INSERT INTO counter VALUES ('Z', 2026, 5)",
]


@pytest.mark.parametrize("recursive", [1, 0])
@pytest.mark.parametrize("sql", CHANGES)
def test_what_is_sealed_is_not_changed(book: Book, sql: str, recursive: int) -> None:
    """Even on a connection of another tool, which leaves recursive triggers off."""
    seal_papers(book, 2)
    book.con.execute(f"PRAGMA recursive_triggers = {recursive}")
    before = list(book.con.iterdump())
    with pytest.raises(sqlite3.IntegrityError):
        book.con.execute(sql)
    assert list(book.con.iterdump()) == before


@pytest.mark.parametrize(
    "column", ["id", "number", "fingerprint", "seal", "previous_fingerprint", "previous_seal", "ordinal"]
)
def test_no_single_column_lets_a_row_replace_a_sealed_one(book: Book, column: str) -> None:
    """A replacing insert collides in one unique column only; the guard must see each of them."""
    seal_papers(book, 2)
    book.con.execute("PRAGMA recursive_triggers = OFF")
    book.con.execute("DROP TRIGGER sealed_paper_takes_the_newest_number")
    book.con.execute("DROP TRIGGER sealed_paper_follows_the_chain")
    new = dict(book.con.execute("SELECT * FROM sealed_paper WHERE id = 1").fetchone())
    new |= {"id": 9, "number": "R-2026-0009", "ordinal": 9, "fingerprint": "f" * 64, "seal": "e" * 64}
    new |= {"previous_fingerprint": "d" * 64, "previous_seal": "c" * 64}
    new[column] = book.con.execute(f"SELECT {column} FROM sealed_paper WHERE id = 1").fetchone()[0]
    marks = ", ".join(f":{key}" for key in new)
    with pytest.raises(sqlite3.IntegrityError, match="not replaced"):
        book.con.execute(f"INSERT OR REPLACE INTO sealed_paper ({', '.join(new)}) VALUES ({marks})", new)


def test_a_stored_verdict_is_not_changed(book: Book) -> None:
    visit = registered(book)
    with book.writing() as tx:
        visits.add_visit(tx, visit, [RESULT])
    with pytest.raises(sqlite3.IntegrityError, match="verdict is not changed"):
        book.con.execute("UPDATE judged SET verdict = 'within'")


def test_an_empty_body_is_not_sealed(book: Book) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="not replaced"):
        book.con.execute("INSERT INTO paper_body VALUES (1, NULL, NULL)")


def test_only_the_newest_number_is_sealed(book: Book) -> None:
    seal_papers(book, 1)
    for number in ("R-2026-0001", "R-2026-0002", "R-2027-0001", "Q-2026-0001"):
        with pytest.raises(sqlite3.IntegrityError):
            seal_one(book, number)
    with pytest.raises(sqlite3.IntegrityError, match="has just given"), book.writing() as tx:  # noqa: PT012
        first, _second = papers.next_number(tx, "R", 2026), papers.next_number(tx, "R", 2026)
        papers.add_sealed(
            tx, number=first, kind="k", date=dt.date(2026, 1, 1), issued_at=AT, facts="{}", pdf=b""
        )
    assert verify.verify(book.con) == []


def test_a_paper_out_of_the_chain_is_not_sealed(book: Book) -> None:
    seal_papers(book, 1)
    with book.writing() as tx:
        papers.next_number(tx, "R", 2026)
    new = dict(book.con.execute("SELECT * FROM sealed_paper").fetchone())
    new |= {"id": 2, "number": "R-2026-0002", "ordinal": 2, "fingerprint": "f" * 64, "seal": "e" * 64}
    new |= {"previous_fingerprint": "d" * 64, "previous_seal": "c" * 64}
    marks = ", ".join(f":{key}" for key in new)
    with pytest.raises(sqlite3.IntegrityError, match="follows the newest"):
        book.con.execute(f"INSERT INTO sealed_paper ({', '.join(new)}) VALUES ({marks})", new)


def test_a_moment_without_zone_is_refused(book: Book) -> None:
    with pytest.raises(ValueError, match="zone"):
        seal_one(book, issued_at=AT.replace(tzinfo=None))


def test_facts_that_are_no_json_are_refused(book: Book) -> None:
    with pytest.raises(ValueError, match="Expecting"):
        seal_one(book, facts="")
    assert verify.verify(book.con) == []


@pytest.mark.parametrize("number", ["R-2026-1", "-2026-0001", "R-2026-00001", "R20260001", "R-x-0001", ""])
def test_what_is_no_number_of_a_paper(number: str) -> None:
    with pytest.raises(ValueError, match=r"paper|int|unpack"):
        papers.parts_of(number)


def test_numbers_go_on_beyond_four_digits() -> None:
    assert papers.parts_of(papers.paper_number("CR-A", 2026, 12345)) == ("CR-A", 2026, 12345)


class Interrupted(Exception):
    """What goes wrong between taking a number and sealing the paper."""


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(st.sampled_from("RIQ"), st.sampled_from([2026, 2027]), st.sampled_from([0, 1, 2])),
        max_size=8,
    )
)
def test_numbers_are_gapless_whatever_goes_wrong(
    tmp_path_factory: pytest.TempPathFactory, blank: bytes, tries: list[tuple[str, int, int]]
) -> None:
    expected: dict[tuple[str, int], int] = {}
    path = tmp_path_factory.mktemp("gapless") / "a.book"
    path.write_bytes(blank)
    with Book.open(path) as book:
        for series, year, fails in tries:
            try:
                with book.writing() as tx:
                    number = papers.next_number(tx, series, year)
                    if fails == 1:
                        raise Interrupted
                    papers.add_sealed(
                        tx,
                        number=number,
                        kind="k",
                        date=dt.date(year, 1, 1),
                        issued_at=AT,
                        facts="{}",
                        pdf=b"x",
                    )
                    if fails == 2:
                        raise Interrupted
            except Interrupted:
                continue
            expected[series, year] = expected.get((series, year), 0) + 1
            assert number == f"{series}-{year}-{expected[series, year]:04d}"
        assert verify.verify(book.con) == []
        assert len(papers.all_papers(book.con)) == sum(expected.values())
