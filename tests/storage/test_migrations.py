"""An older book is copied and brought up to date; a newer one is left alone."""

from __future__ import annotations

import gzip
import sqlite3
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from tests.storage.samples import registered, seal_papers

from flueleaf.domain.problems import BookProblem
from flueleaf.storage import migrations, owned, papers, register, verify, visits
from flueleaf.storage.book import Book
from flueleaf.storage.schema import statements

if TYPE_CHECKING:
    from sqlite_utils import Database

OLD_BOOKS = sorted((Path(__file__).parents[1] / "old_books").glob("*.book.gz"))


def version_next(db: Database) -> None:
    db.execute("ALTER TABLE customer ADD COLUMN note TEXT NOT NULL DEFAULT 'none yet'")


def version_failing(db: Database) -> None:
    db.execute("ALTER TABLE customer ADD COLUMN other TEXT")
    db.execute("UPDATE nowhere SET a = 1")


def version_losing(db: Database) -> None:
    db.execute("DELETE FROM customer")


NEXT = (*migrations.STEPS, version_next)


def _unpack(packed: Path, path: Path) -> None:
    path.write_bytes(gzip.decompress(packed.read_bytes()))


def test_an_older_book_is_copied_then_brought_up_to_date(book: Book, path: Path) -> None:
    registered(book)
    numbers = seal_papers(book, 2)
    book.close()
    with Book.open(path, steps=NEXT) as newer:
        assert newer.con.execute("SELECT note FROM customer").fetchone()["note"] == "none yet"
        assert newer.con.execute("PRAGMA user_version").fetchone()[0] == len(NEXT)
        assert newer.con.execute("PRAGMA foreign_keys").fetchone()[0] == 1
        assert [paper.number for paper in papers.all_papers(newer.con)] == numbers
        assert verify.verify(newer.con) == []
    copy = path.with_name(f"{path.stem} (schema {len(migrations.STEPS)} copy).book")
    with Book.open(copy) as old:
        assert [paper.number for paper in papers.all_papers(old.con)] == numbers
        assert "note" not in [row["name"] for row in old.con.execute("PRAGMA table_info(customer)")]
    with Book.open(path, steps=NEXT):
        pass
    assert sorted(path.parent.iterdir()) == sorted([path, copy])


def test_a_copy_never_takes_the_place_of_another_file(book: Book, path: Path) -> None:
    book.close()
    taken = path.with_name(f"{path.stem} (schema {len(migrations.STEPS)} copy).book")
    taken.write_text("mine")
    with Book.open(path, steps=NEXT):
        pass
    assert taken.read_text() == "mine"
    assert path.with_name(f"{path.stem} (schema {len(migrations.STEPS)} copy 2).book").exists()


def test_a_book_brought_up_to_date_meanwhile_keeps_its_copy(path: Path) -> None:
    _unpack(OLD_BOOKS[0], path)
    opened: list[str] = []

    def another_one_is_first(statement: str) -> None:
        if statement.startswith("BEGIN IMMEDIATE") and not opened:
            opened.append(statement)
            Book.open(path).close()

    with Book.open(path, on_statement=another_one_is_first) as book:
        assert verify.verify(book.con) == []
    assert opened
    copy = path.with_name(f"{path.stem} (schema 1 copy).book")
    assert sorted(path.parent.iterdir()) == sorted([path, copy])
    kept = sqlite3.connect(copy)
    assert kept.execute("PRAGMA user_version").fetchone() == (1,)
    kept.close()


def test_an_older_book_is_read_as_it_is(book: Book, path: Path) -> None:
    registered(book)
    numbers = seal_papers(book, 2)
    book.close()
    before, seen = path.read_bytes(), list[str]()
    with Book.open(path, read_only=True, steps=NEXT, on_statement=seen.append) as old:
        assert old.con.execute("SELECT note FROM customer").fetchone()["note"] == "none yet"
        assert [paper.number for paper in papers.all_papers(old.con)] == numbers
        assert verify.verify(old.con) == []
        with pytest.raises(BookProblem, match="for reading only"), old.writing():
            pass
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            old.con.execute("DELETE FROM draft")
        assert list(path.parent.iterdir()) == [path]
    assert path.read_bytes() == before
    assert any("note FROM customer" in statement for statement in seen)


def test_an_older_book_is_read_while_another_one_has_begun_to_write(path: Path) -> None:
    _unpack(OLD_BOOKS[0], path)
    writer = sqlite3.connect(path, isolation_level=None)
    writer.execute("BEGIN IMMEDIATE")
    with Book.open(path, read_only=True, busy_ms=0) as old:
        assert [customer.name for customer in register.customers(old.con)] == ["Maud Ferrow"]
    writer.execute("ROLLBACK")
    writer.close()


@pytest.mark.parametrize("read_only", [True, False])
def test_a_row_that_pointed_nowhere_before_is_left_for_verify(path: Path, *, read_only: bool) -> None:
    _unpack(OLD_BOOKS[0], path)
    hurt = sqlite3.connect(path)
    hurt.execute("UPDATE premises SET customer_id = 999")
    hurt.commit()
    hurt.close()
    with Book.open(path, read_only=read_only) as old:
        assert [fault.code for fault in verify.verify(old.con)] == ["row-points-nowhere"]


def test_a_newer_book_is_refused_and_left_as_it_is(book: Book, path: Path) -> None:
    book.close()
    with Book.open(path, steps=NEXT):
        pass
    before = path.read_bytes()
    for read_only in (True, False):
        with pytest.raises(BookProblem, match="newer Flueleaf"):
            Book.open(path, read_only=read_only)
    assert path.read_bytes() == before


def test_user_version_alone_tells_a_newer_book(book: Book, path: Path) -> None:
    book.con.execute("PRAGMA user_version = 99")
    book.close()
    with pytest.raises(BookProblem, match="schema 99"):
        Book.open(path)


@pytest.mark.parametrize(
    ("step", "error"), [(version_failing, sqlite3.OperationalError), (version_losing, sqlite3.IntegrityError)]
)
def test_a_failing_step_leaves_the_book_as_it_was(
    book: Book, path: Path, step: migrations.Step, error: type[Exception]
) -> None:
    visit = registered(book)
    book.close()
    with pytest.raises(error):
        Book.open(path, steps=(*NEXT, step))
    with Book.open(path) as again:
        assert migrations.applied(again.con) == tuple(step.__name__ for step in migrations.STEPS)
        assert register.customers(again.con) == [visit.customer]
    assert list(path.parent.iterdir()) == [path]


def test_a_book_whose_making_fails_is_not_there(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(migrations, "STEPS", (version_failing,))
    with pytest.raises(sqlite3.OperationalError):
        Book.create(path)
    assert list(path.parent.iterdir()) == []


def test_a_file_that_died_before_its_first_step_counts_as_unbegun() -> None:
    con = sqlite3.connect(":memory:")
    assert migrations.applied(con) == ()
    con.close()


def test_there_is_an_old_book_of_every_released_schema() -> None:
    assert [old.name for old in OLD_BOOKS] == [f"{step.__name__}.book.gz" for step in migrations.STEPS]


@pytest.mark.parametrize("read_only", [True, False])
@pytest.mark.parametrize("packed", OLD_BOOKS, ids=lambda old: old.name)
def test_every_old_book_opens(packed: Path, path: Path, *, read_only: bool) -> None:
    _unpack(packed, path)
    with Book.open(path, read_only=read_only) as old:
        assert verify.verify(old.con) == []
        assert [customer.name for customer in register.customers(old.con)] == ["Maud Ferrow"]
        assert [paper.number for paper in papers.all_papers(old.con)] == ["R-2026-0001", "R-2026-0002"]
        assert migrations.applied(old.con) == tuple(step.__name__ for step in migrations.STEPS)


@pytest.mark.parametrize("packed", OLD_BOOKS[:3], ids=lambda old: old.name)
def test_a_visit_of_an_older_book_says_nothing_it_was_not_asked(packed: Path, path: Path) -> None:
    _unpack(packed, path)
    with Book.open(path) as old:
        (head,) = visits.recent_visits(old.con)
        work = visits.stored_visit(old.con, head.visit_id).visit.works[0]
        assert [(slip.adjusted, slip.settled) for slip in work.slips] == [(False, None)] * len(work.slips)
        assert work.overrides == ()
        assert work.instrument is not None
        assert (dict(work.instrument.log_columns), work.instrument.co2_calculated) == ({}, False)
        assert (owned.limits(old.con), owned.fuels(old.con)) == ((), ())


def test_statements_end_where_they_end() -> None:
    script = (
        "CREATE TABLE a (b TEXT DEFAULT ';');\n\nCREATE TRIGGER t AFTER INSERT ON a BEGIN\nSELECT 1;\nEND;\n"
    )
    assert [one.split()[1] for one in statements(script)] == ["TABLE", "TRIGGER"]
    with pytest.raises(ValueError, match="unfinished"):
        list(statements("SELECT 1;\nSELECT 2"))
