"""The book: made whole, opened with plain refusals, written all or nothing."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from tests.storage.samples import CUSTOMER, registered, seal_papers

from flueleaf.domain.problems import BookProblem
from flueleaf.storage import drafts, migrations, register, search, verify
from flueleaf.storage.book import Book, copy_to
from flueleaf.storage.connecting import connect
from flueleaf.storage.problems import problem_of

APP = Path(__file__).parents[2] / "app"
NOBODY = 65534


def pragma(con: sqlite3.Connection, name: str) -> object:
    return con.execute(f"PRAGMA {name}").fetchone()[0]


def test_a_new_book_is_marked_and_set_up(book: Book, path: Path) -> None:
    assert pragma(book.con, "application_id") == migrations.APPLICATION_ID
    assert pragma(book.con, "user_version") == len(migrations.STEPS)
    assert migrations.applied(book.con) == tuple(step.__name__ for step in migrations.STEPS)
    assert pragma(book.con, "foreign_keys") == 1
    assert pragma(book.con, "recursive_triggers") == 1
    assert pragma(book.con, "journal_mode") == "delete"
    assert pragma(book.con, "synchronous") == 3  # EXTRA
    assert pragma(book.con, "busy_timeout") == 0
    assert book.con.isolation_level is None
    assert [entry.name for entry in path.parent.iterdir()] == [path.name]


def test_every_table_is_strict(book: Book) -> None:
    loose = [
        row["name"]
        for row in book.con.execute("PRAGMA table_list")
        if row["type"] == "table" and not row["strict"] and not row["name"].startswith("sqlite_")
    ]
    assert loose == []


def test_every_reference_is_indexed(book: Book) -> None:
    """A reference without index makes every check of it a walk through the table."""
    tables = [r["name"] for r in book.con.execute("PRAGMA table_list") if r["schema"] == "main"]
    without = []
    for table in tables:
        first = {
            book.con.execute(f"PRAGMA index_info('{index['name']}')").fetchone()["name"]
            for index in book.con.execute(f"PRAGMA index_list('{table}')")
        }
        first |= {r["name"] for r in book.con.execute(f"PRAGMA table_info('{table}')") if r["pk"] == 1}
        for reference in book.con.execute(f"PRAGMA foreign_key_list('{table}')"):
            if reference["from"] not in first:
                without.append(f"{table}.{reference['from']}")
    assert without == []


def test_a_file_of_that_name_is_left_as_it_is(path: Path) -> None:
    path.write_text("a letter")
    with pytest.raises(BookProblem, match="already a file"):
        Book.create(path)
    assert path.read_text() == "a letter"
    assert list(path.parent.iterdir()) == [path]


def test_folders_are_made_and_a_file_in_their_place_is_refused(tmp_path: Path) -> None:
    with Book.create(tmp_path / "a" / "b" / "c.book"):
        pass
    (tmp_path / "file").write_text("")
    with pytest.raises(BookProblem, match="No file can be made"):
        Book.create(tmp_path / "file" / "c.book")


@pytest.mark.parametrize("read_only", [True, False])
def test_what_is_no_book_is_refused(tmp_path: Path, read_only: bool) -> None:
    missing, folder, empty, letter, other = (
        tmp_path / n for n in ("missing", "folder", "empty", "letter", "other")
    )
    folder.mkdir()
    empty.touch()
    letter.write_text("Dear customer, " * 100)
    with closing(sqlite3.connect(other)) as con:
        con.execute("CREATE TABLE t (a)")
    for file, words in (
        (missing, "no book at"),
        (folder, "not a file"),
        (empty, "another program made it, or it is empty"),
        (letter, "not an SQLite file"),
        (other, "another program made it"),
    ):
        before = file.read_bytes() if file.is_file() else None
        with pytest.raises(BookProblem, match=words):
            Book.open(file, read_only=read_only)
        assert (file.read_bytes() if file.is_file() else None) == before
    assert not missing.exists()


def test_a_name_with_odd_signs_is_a_name(tmp_path: Path) -> None:
    odd = tmp_path / "Müller? 100% #1 & co.book"
    with Book.create(odd):
        pass
    with Book.open(odd, read_only=True) as again:
        assert drafts.drafts(again.con) == []
    assert [entry.name for entry in tmp_path.iterdir()] == [odd.name]


def test_a_change_is_kept_whole_or_not_at_all(book: Book) -> None:
    with book.writing() as tx:
        register.add_customer(tx, CUSTOMER)
    with pytest.raises(ZeroDivisionError), book.writing() as tx:  # noqa: PT012
        register.add_customer(tx, CUSTOMER)
        tx.table("draft").insert({"kind": "a", "key": "b", "payload": "{}", "updated": ""})
        raise ZeroDivisionError
    assert len(register.customers(book.con)) == 1
    assert drafts.drafts(book.con) == []
    with book.writing() as tx:
        register.add_customer(tx, CUSTOMER)
    assert len(register.customers(book.con)) == 2


def test_a_change_inside_a_change_is_a_fault_of_the_program(book: Book) -> None:
    with book.writing(), pytest.raises(RuntimeError), book.writing():
        pass


@pytest.mark.usefixtures("book")
def test_a_book_opened_for_reading_is_not_written(path: Path) -> None:
    with Book.open(path, read_only=True) as reader:
        with pytest.raises(BookProblem, match="for reading only"), reader.writing():
            pass
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            reader.con.execute("DELETE FROM draft")


def test_reading_neither_makes_nor_alters_a_file(book: Book, path: Path) -> None:
    registered(book)
    seal_papers(book, 2)
    book.close()
    path.chmod(0o444)
    before = path.read_bytes(), path.stat().st_mtime_ns, path.parent.stat().st_mtime_ns
    with Book.open(path, read_only=True) as reader:
        assert verify.verify(reader.con) == []
        assert search.find(reader.con, "ferrow")
        assert search.find(reader.con, "ferroq")
    assert (path.read_bytes(), path.stat().st_mtime_ns, path.parent.stat().st_mtime_ns) == before


def test_a_folder_that_may_not_be_looked_into(guarded: Path) -> None:
    euid = os.geteuid()
    os.seteuid(os.getuid())
    guarded.chmod(0)
    os.seteuid(euid)
    with pytest.raises(BookProblem, match="cannot be read"):
        Book.open(guarded / "a.book", read_only=True)


def test_a_book_locked_by_another_program(book: Book, path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(BookProblem, match="locked"), book.writing():
            pass
        with Book.open(path, read_only=True, busy_ms=0) as reader:
            assert register.customers(reader.con) == []
        other.execute("COMMIT")
        other.execute("BEGIN EXCLUSIVE")
        for read_only in (True, False):
            with pytest.raises(BookProblem, match="locked"):
                Book.open(path, read_only=read_only, busy_ms=0)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            connect(path, "rw", busy_ms=0)
        other.execute("ROLLBACK")
    with book.writing() as tx:
        register.add_customer(tx, CUSTOMER)


def test_a_reader_at_the_moment_of_the_commit_loses_nothing(book: Book, path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT * FROM customer").fetchall()
        with pytest.raises(BookProblem, match="locked"), book.writing() as tx:
            register.add_customer(tx, CUSTOMER)
        reader.execute("COMMIT")
    assert register.customers(book.con) == []
    assert not book.con.in_transaction


def test_a_full_disk_writes_nothing(book: Book) -> None:
    with book.writing() as tx:
        drafts.keep(tx, "visit", "1", '"first"')
    pages = pragma(book.con, "page_count")
    book.con.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(BookProblem, match="disk is full"), book.writing() as tx:  # noqa: PT012
        register.add_customer(tx, CUSTOMER)
        drafts.keep(tx, "visit", "1", '"' + "x" * 200_000 + '"')
    assert register.customers(book.con) == []
    assert [draft.payload for draft in drafts.drafts(book.con)] == ['"first"']
    assert not book.con.in_transaction
    book.con.execute("PRAGMA max_page_count = 1000000")
    with book.writing() as tx:
        drafts.keep(tx, "visit", "1", '"' + "x" * 200_000 + '"')
    assert verify.verify(book.con) == []


def test_a_damaged_book_says_so(book: Book, path: Path) -> None:
    book.close()
    data = bytearray(path.read_bytes())
    data[100:4096] = bytes(b"\xff" * 3996)  # the page that lists the tables
    path.write_bytes(bytes(data))
    with pytest.raises(BookProblem, match="damaged"):
        Book.open(path)


def test_a_fault_of_the_program_is_no_problem_of_the_book(path: Path) -> None:
    with closing(sqlite3.connect(":memory:")) as con:
        with pytest.raises(sqlite3.OperationalError) as caught:
            con.execute("SELECT * FROM nowhere")
        assert problem_of(caught.value, path) is None
    assert problem_of(sqlite3.ProgrammingError("closed"), path) is None
    with Book.create(path) as book, pytest.raises(sqlite3.OperationalError), book.writing() as tx:
        tx.execute("SELECT * FROM nowhere")


@pytest.fixture
def guarded(book: Book, path: Path) -> Iterator[Path]:
    """A folder with a book in it, used by somebody who may not write to it."""
    book.close()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copy(path, folder / "a.book")
        (folder / "a.book").chmod(0o666)
        folder.chmod(0o555)
        root = hasattr(os, "geteuid") and os.geteuid() == 0
        if root:
            os.seteuid(NOBODY)
        try:
            yield folder
        finally:
            if root:
                os.seteuid(0)
            folder.chmod(0o755)


def test_a_read_only_folder_is_named(guarded: Path) -> None:
    with Book.open(guarded / "a.book", read_only=True) as reader:
        assert register.customers(reader.con) == []
    with pytest.raises(BookProblem, match=r"folder .* is read-only"):
        Book.open(guarded / "a.book")
    with pytest.raises(BookProblem, match="No file can be made in the folder"):
        Book.create(guarded / "b.book")
    with (
        Book.open(guarded / "a.book", read_only=True) as reader,
        pytest.raises(BookProblem, match="folder is read-only"),
    ):
        reader.claim_window()
    assert [entry.name for entry in guarded.iterdir()] == ["a.book"]


def test_a_read_only_file_is_named(guarded: Path) -> None:
    euid = os.geteuid()
    os.seteuid(os.getuid())
    guarded.chmod(0o777)
    (guarded / "a.book").chmod(0o444)
    os.seteuid(euid)
    with pytest.raises(BookProblem, match="is read-only: it can be read"):
        Book.open(guarded / "a.book")


def test_a_folder_that_turns_read_only_loses_nothing(guarded: Path) -> None:
    """SQLite finds out only when it makes its journal."""
    guarded_book = guarded / "a.book"
    con = sqlite3.connect(guarded_book, isolation_level=None)
    with Book(guarded_book, con, read_only=False) as late:
        con.row_factory = sqlite3.Row
        with pytest.raises(BookProblem, match="cannot be written"), late.writing() as tx:
            register.add_customer(tx, CUSTOMER)
        assert register.customers(con) == []


def interrupted(book: Book, path: Path, folder: Path) -> Path:
    """Return a copy of a book as a process leaves it that dies in the midst of writing."""
    seal_papers(book, 1)
    book.con.execute("PRAGMA cache_size = 1")  # so that half of the change reaches the file
    left = folder / "left.book"
    with book.writing() as tx:
        for n in range(300):
            drafts.keep(tx, "visit", str(n), '"' + "x" * 3000 + '"')
        shutil.copy(path, left)
        shutil.copy(f"{path}-journal", f"{left}-journal")
    return left


@pytest.mark.parametrize("read_only", [True, False])
def test_a_half_written_change_is_taken_back(book: Book, path: Path, tmp_path: Path, read_only: bool) -> None:
    left = interrupted(book, path, tmp_path)
    assert left.read_bytes().count(b"x" * 3000) > 0
    with Book.open(left, read_only=read_only) as again:
        assert drafts.drafts(again.con) == []
        assert verify.verify(again.con) == []
    assert not Path(f"{left}-journal").exists()


def test_a_copy_holds_what_the_book_holds(book: Book, tmp_path: Path) -> None:
    seal_papers(book, 2)
    copy_to(book.con, tmp_path / "copy.book")
    with Book.open(tmp_path / "copy.book", read_only=True) as copy:
        assert verify.verify(copy.con) == []
        assert list(copy.con.iterdump()) == list(book.con.iterdump())
    with pytest.raises(BookProblem, match="already a file"):
        copy_to(book.con, tmp_path / "copy.book")


def test_a_locked_book_is_not_copied_and_not_waited_for_without_end(book: Book, path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(BookProblem, match="another program is writing"):
            copy_to(book.con, path.with_name("copy.book"))
    assert list(path.parent.glob("*.book")) == [path]


@pytest.mark.usefixtures("book")
def test_opening_and_reading_load_no_heavy_library(path: Path) -> None:
    code = (
        "import sys; from pathlib import Path\n"
        "from flueleaf.storage import business, drafts, money, papers, register\n"
        "from flueleaf.storage import schedule, search, sending, visits\n"
        "from flueleaf.storage.book import Book\n"
        "with Book.open(Path(sys.argv[1])) as book:\n"
        "    business.business(book.con), search.find(book.con, 'x'), register.customers(book.con)\n"
        "print([name for name in ('sqlite_utils', 'numpy', 'fpdf', 'matplotlib') if name in sys.modules])"
    )
    env = {**os.environ, "PYTHONPATH": str(APP)}
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)], env=env, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_closing_twice_is_closing(path: Path) -> None:
    book = Book.create(path)
    book.claim_window()
    book.close()
    book.close()
    assert [entry.name for entry in path.parent.iterdir()] == [path.name]
