"""A book that lacks a table, an index or a trigger is told as such, wherever that is met."""

from __future__ import annotations

import gzip
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from flueleaf.domain.problems import BookProblem
from flueleaf.storage import business, migrations, verify
from flueleaf.storage.book import Book
from flueleaf.storage.parts import lost_parts, problem_of_parts

OLD_BOOKS = Path(__file__).parents[1] / "old_books"


def _hurt(path: Path, *statements: str) -> bytes:
    with closing(sqlite3.connect(path, isolation_level=None)) as con:
        for statement in statements:
            con.execute(statement)
    return path.read_bytes()


def test_a_whole_book_lacks_nothing(book: Book, path: Path) -> None:
    assert lost_parts(book.con) == ()
    assert problem_of_parts(path, book.con) is None


@pytest.mark.parametrize(
    ("statement", "lost"),
    [
        ("DROP TABLE noted", ("table", "noted")),
        ("DROP INDEX attachment_by_body", ("index", "attachment_by_body")),
        ("DROP TRIGGER attachment_takes_its_body", ("trigger", "attachment_takes_its_body")),
        ("DROP TABLE finder", ("table", "finder")),
    ],
)
def test_what_is_gone_is_named(book: Book, path: Path, statement: str, lost: tuple[str, str]) -> None:
    book.close()
    _hurt(path, statement)
    with Book.open(path) as hurt:
        assert lost in lost_parts(hurt.con)


def test_a_trigger_of_the_same_name_that_does_something_else_is_named(book: Book, path: Path) -> None:
    book.close()
    _hurt(
        path,
        "DROP TRIGGER attachment_takes_its_body",
        "CREATE TRIGGER attachment_takes_its_body AFTER DELETE ON attachment BEGIN SELECT 1; END",
    )
    with Book.open(path) as hurt:
        assert lost_parts(hurt.con) == (("trigger", "attachment_takes_its_body"),)


@pytest.mark.parametrize("read_only", [True, False])
def test_a_table_met_missing_is_a_problem_of_the_book(book: Book, path: Path, *, read_only: bool) -> None:
    book.close()
    _hurt(path, "DROP TABLE business")
    with pytest.raises(BookProblem, match="removed “business”"), Book.open(path, read_only=read_only) as hurt:
        business.business(hurt.con)


def test_a_statement_of_the_programs_own_making_stays_a_fault_of_the_program(book: Book) -> None:
    with pytest.raises(sqlite3.OperationalError, match="nowhere"), book:
        book.con.execute("SELECT * FROM nowhere")


@pytest.mark.parametrize("read_only", [True, False])
def test_an_older_book_that_lacks_what_a_step_drops_is_left_as_it_is(path: Path, *, read_only: bool) -> None:
    path.write_bytes(gzip.decompress((OLD_BOOKS / "version_1.book.gz").read_bytes()))
    before = _hurt(path, "DROP TRIGGER counter_starts_at_one")
    with pytest.raises(BookProblem, match=r"“counter_starts_at_one”.*restore a backup"):
        Book.open(path, read_only=read_only)
    assert path.read_bytes() == before
    assert list(path.parent.iterdir()) == [path]


@pytest.mark.parametrize("read_only", [True, False])
@pytest.mark.parametrize(
    "statement",
    [
        f"DROP TABLE {migrations.TABLE}",
        f"DELETE FROM {migrations.TABLE}",
        f"DELETE FROM {migrations.TABLE} WHERE name = 'version_2'",
    ],
)
def test_a_book_without_the_record_of_its_steps_is_left_as_it_is(
    book: Book, path: Path, statement: str, *, read_only: bool
) -> None:
    book.close()
    before = _hurt(path, statement)
    with pytest.raises(BookProblem, match="which schema it has"):
        Book.open(path, read_only=read_only)
    assert path.read_bytes() == before
    assert list(path.parent.iterdir()) == [path]


def test_verify_tells_a_table_that_is_gone(book: Book, path: Path) -> None:
    book.close()
    _hurt(path, "DROP TABLE noted")
    with Book.open(path, read_only=True) as hurt:
        assert [(fault.code, fault.text) for fault in verify.verify(hurt.con)] == [
            ("part-missing", "The table “noted” is gone.")
        ]
