"""The commands of a book against the contract: exit codes, keys, order, tampering."""

from __future__ import annotations

import gzip
import json
import random
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from flueleaf.headless.main import run
from flueleaf.operations import book as books
from flueleaf.paths import DEMO_DB

TODAY = "2026-11-25"
OLD_BOOKS = sorted((Path(__file__).parents[1] / "old_books").glob("*.book.gz"))


@pytest.fixture(scope="module")
def told_book(blank_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with the documented evening and another visit like it: four papers."""
    folder = tmp_path_factory.mktemp("told")
    path = Path(shutil.copy(blank_book, folder / "told.book"))
    document = json.loads((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    for visit_id in (document["visit_id"], "00000000-0000-4000-8000-000000000001"):
        file = folder / "evening.json"
        file.write_text(json.dumps(document | {"visit_id": visit_id}), encoding="utf-8")
        assert run(["evening", str(path), str(file), "--out", str(folder / "out"), "--today", TODAY]) == 0
    return path


@pytest.fixture
def own(told_book: Path, tmp_path: Path) -> Path:
    """A copy of it to spoil."""
    return Path(shutil.copy(told_book, tmp_path / "own.book"))


@pytest.mark.slow
def test_make_demo_is_k_times_as_large_and_another_by_seed(call: Any, tmp_path: Path) -> None:
    def made(name: str, *more: str) -> tuple[dict[str, Any], list[str]]:
        summary = call("make-demo", tmp_path / name, "--years", "1", "--today", TODAY, *more).answer
        assert call("verify", tmp_path / name).answer["ok"] is True
        return summary, [paper["fingerprint"] for paper in call("papers", tmp_path / name).answer]

    (once, first), (twice, _), (_, again), (_, other) = (
        made("a"), made("b", "--scale", "2"), made("c"), made("d", "--seed", "2"),
    )  # fmt: skip
    assert twice["premises"] == 2 * once["premises"]
    assert twice["appliances"] == 2 * once["appliances"]
    assert first == again
    assert first != other


@pytest.mark.parametrize("packed", OLD_BOOKS, ids=lambda old: old.name)
def test_a_book_of_an_older_schema_is_read_and_left_as_it_is(call: Any, tmp_path: Path, packed: Path) -> None:
    old = tmp_path / "old.book"
    old.write_bytes(gzip.decompress(packed.read_bytes()))
    before = old.read_bytes()
    assert call("verify", old).answer == {"ok": True, "papers": 2, "faults": []}
    numbers = [paper["number"] for paper in call("papers", old).answer]
    assert numbers == ["R-2026-0001", "R-2026-0002"]
    assert [hit["title"] for hit in call("find", old, "Ferrow").answer][:1] == ["Maud Ferrow"]
    assert call("due", old, "--today", TODAY).code == 0
    assert call("paper", old, numbers[0], "--out", tmp_path / "one.pdf").code == 0
    assert sorted(one.name for one in tmp_path.iterdir()) == ["old.book", "one.pdf"]
    assert old.read_bytes() == before


def test_make_demo_leaves_a_file_alone(call: Any, tmp_path: Path) -> None:
    (tmp_path / "taken").write_bytes(b"mine")
    said = call("make-demo", tmp_path / "taken")
    assert said.code in (2, 3)
    assert said.answer is None
    assert (tmp_path / "taken").read_bytes() == b"mine"


@pytest.mark.parametrize(
    ("arguments", "keys"),
    [
        (["papers"], {"number", "kind", "date", "premises", "customer", "fingerprint", "replaces"}),
        (["find", "boiler"], {"kind", "id", "title", "subtitle"}),
        (
            ["due", "--until", "2028-01-01", "--today", TODAY],
            {"date", "rule", "what", "premises", "customer", "why"},
        ),
    ],
)
def test_lists_have_the_keys_of_the_contract(
    call: Any, told_book: Path, arguments: list[str], keys: set[str]
) -> None:
    rows = call(arguments[0], told_book, *arguments[1:]).answer
    assert rows
    assert all(keys <= row.keys() for row in rows)


def test_find(call: Any, told_book: Path) -> None:
    assert call("find", told_book, "zzqqxx").answer == []
    assert call("find", told_book, "").answer == []
    found = call("find", told_book, "quillstone").answer
    assert len(found) > 2
    assert call("find", told_book, "quillstone", "--most", "2").answer == found[:2]
    paper = call("papers", told_book).answer[0]["number"]
    assert paper in json.dumps(call("find", told_book, paper).answer[0])


@pytest.mark.parametrize(
    "text", ['"', "'", "*", "a AND", "NEAR(", "-", "%", "; drop table visit", "ß\u0301", "x" * 5000]
)
def test_find_takes_any_text(call: Any, told_book: Path, text: str) -> None:
    said = call("find", told_book, text)
    assert (said.code, said.error) == (0, "")
    assert isinstance(said.answer, list)


def test_due_goes_up_to_its_last_day_in_order(call: Any, told_book: Path) -> None:
    rows = call("due", told_book, "--until", "2028-01-01", "--today", TODAY).answer
    dates = [row["date"] for row in rows]
    assert dates == sorted(dates)
    last = dates[-1]
    assert call("due", told_book, "--until", last, "--today", TODAY).answer == rows
    assert call("due", told_book, "--until", "2000-01-01", "--today", TODAY).answer == []


def test_paper_gives_the_same_bytes_each_time(call: Any, told_book: Path, tmp_path: Path) -> None:
    number = call("papers", told_book).answer[0]["number"]
    for name in ("1.pdf", "2.pdf"):
        assert call("paper", told_book, number, "--out", tmp_path / name).code == 0
    assert (tmp_path / "1.pdf").read_bytes() == (tmp_path / "2.pdf").read_bytes()
    assert (tmp_path / "1.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize("number", ["R-2099-0001", "", "r-2026-0001", "../x"])
def test_a_number_that_was_not_given_is_refused(
    call: Any, told_book: Path, tmp_path: Path, number: str
) -> None:
    said = call("paper", told_book, number, "--out", tmp_path / "x.pdf")
    assert (said.code, said.answer) == (2, None)
    assert "accepted:" in said.error
    assert not (tmp_path / "x.pdf").exists()


READING = [["find", "x"], ["due"], ["papers"], ["verify"]]


@pytest.mark.parametrize("command", READING, ids=[row[0] for row in READING])
def test_reading_works_beside_a_window_and_changes_no_byte(call: Any, own: Path, command: list[str]) -> None:
    with books.window_book(own):
        before = own.read_bytes()
        assert call(command[0], own, *command[1:]).code == 0
        assert own.read_bytes() == before


def _not_there(path: Path) -> None:
    path.unlink()


def _no_sqlite(path: Path) -> None:
    path.write_text("a shopping list", encoding="utf-8")


def _empty(path: Path) -> None:
    path.write_bytes(b"")


def _folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def _foreign(path: Path) -> None:
    path.unlink()
    with closing(sqlite3.connect(path)) as con, con:
        con.execute("CREATE TABLE recipe (name TEXT)")


def _newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as con, con:
        con.execute("PRAGMA user_version = 9999")


@pytest.mark.parametrize("spoil", [_not_there, _no_sqlite, _empty, _folder, _foreign, _newer])
@pytest.mark.parametrize("command", READING, ids=[row[0] for row in READING])
def test_a_book_that_cannot_be_used_ends_with_3(
    call: Any, own: Path, spoil: Callable[[Path], None], command: list[str]
) -> None:
    spoil(own)
    there = own.exists()
    said = call(command[0], own, *command[1:])
    assert (said.code, said.answer) == (3, None)
    assert str(own) in said.error
    assert len(said.error.splitlines()) == 1
    assert own.exists() == there


def _behind_the_guards(path: Path, *statements: str) -> None:
    """Change a book as a forger would: the guards off, then on again."""
    with closing(sqlite3.connect(path)) as con, con:
        guards = con.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in guards:
            con.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            con.execute(statement)
        for _, sql in guards:
            con.execute(sql)


LAST_OF_ALL = "(SELECT max(id) FROM sealed_paper)"
FORGERIES = {
    "a PDF": ["UPDATE paper_body SET pdf = CAST(pdf || x'00' AS BLOB) WHERE paper_id = 3"],
    "the facts": ["UPDATE paper_body SET facts = facts || ' ' WHERE paper_id = 3"],
    "a date": ["UPDATE sealed_paper SET date = '2020-01-01' WHERE id = 3"],
    "a number": ["UPDATE sealed_paper SET number = 'R-2020-0777' WHERE id = 3"],
    "a fingerprint": ["UPDATE sealed_paper SET fingerprint = seal WHERE id = 3"],
    "one taken out": ["DELETE FROM paper_body WHERE paper_id = 3", "DELETE FROM sealed_paper WHERE id = 3"],
    "the newest taken off": [
        f"DELETE FROM paper_body WHERE paper_id = {LAST_OF_ALL}",
        f"DELETE FROM sealed_paper WHERE id = {LAST_OF_ALL}",
    ],
    "a counter put back": ["UPDATE counter SET last = last - 1"],
    "a row that points nowhere": ["UPDATE sealed_paper SET customer_id = 99999 WHERE id = 3"],
}  # fmt: skip


@pytest.mark.parametrize("forgery", FORGERIES)
def test_verify_finds_it_and_ends_with_4(call: Any, own: Path, forgery: str) -> None:
    assert call("verify", own).code == 0
    _behind_the_guards(own, *FORGERIES[forgery])
    said = call("verify", own)
    assert said.code == 4
    assert said.answer["ok"] is False
    assert said.answer["faults"]
    assert all({"code", "paper", "text"} == fault.keys() for fault in said.answer["faults"])


def test_a_forged_pdf_is_not_handed_out_as_issued(call: Any, own: Path, tmp_path: Path) -> None:
    third = call("papers", own).answer[2]["number"]
    _behind_the_guards(own, *FORGERIES["a PDF"])
    said = call("paper", own, third, "--out", tmp_path / "forged.pdf")
    assert (said.code, said.answer) == (3, None)
    assert third in said.error
    assert not (tmp_path / "forged.pdf").exists()


def test_a_paper_is_never_put_in_the_place_of_the_book(call: Any, own: Path, tmp_path: Path) -> None:
    before = own.read_bytes()
    (tmp_path / "link.pdf").symlink_to(own)
    number = call("papers", own).answer[0]["number"]
    for out in (own, tmp_path / "link.pdf"):
        said = call("paper", own, number, "--out", out)
        assert (said.code, said.answer) == (2, None)
        assert own.read_bytes() == before


@pytest.mark.parametrize("command", [*READING, ["find", "quillstone"]], ids="-".join)
def test_a_damaged_book_is_told_as_damaged(call: Any, own: Path, command: list[str]) -> None:
    """Bytes turned, pages blanked, the end cut off: an answer, or exit code 3; verify says 4 or 3."""
    whole, dice = own.read_bytes(), random.Random("damage")
    allowed = {3, 4} if command == ["verify"] else {0, 3}
    for turn in range(24):
        spoilt = bytearray(whole)
        if turn % 3 == 0:
            for _ in range(40):
                spoilt[dice.randrange(100, len(spoilt))] ^= dice.randrange(1, 256)
        elif turn % 3 == 1:
            page = 4096 * dice.randrange(1, len(spoilt) // 4096)
            spoilt[page : page + 4096] = bytes(4096)
        else:
            del spoilt[dice.randrange(1, len(spoilt)) :]
        own.write_bytes(spoilt)
        said = call(command[0], own, *command[1:])
        assert said.code in allowed, (turn, said)
        assert (said.answer is None) == (said.code == 3)


def test_verify_of_a_whole_book(call: Any, told_book: Path) -> None:
    answer = call("verify", told_book).answer
    assert answer == {"ok": True, "papers": len(call("papers", told_book).answer), "faults": []}
