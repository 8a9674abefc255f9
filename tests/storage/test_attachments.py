"""Photographs: kept once, put away and brought back, and what becomes of them with their draft."""

from __future__ import annotations

import datetime as dt
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from tests.storage.samples import RESULT, UTC, registered

from flueleaf.storage import attachments, drafts, verify, visits
from flueleaf.storage.attachments import Attachment
from flueleaf.storage.book import Book

NOW = dt.datetime(2026, 11, 20, 20, 15, tzinfo=UTC)


def add(book: Book, visit_id: str, data: bytes) -> Attachment:
    with book.writing() as tx:
        return attachments.add(tx, visit_id, data, kind="slip", media_type="image/png", added=NOW)


def bodies(book: Book) -> int:
    return int(book.con.execute("SELECT count(*) FROM attachment_body").fetchone()[0])


def test_what_is_added_comes_back_byte_for_byte(book: Book) -> None:
    one = add(book, "a", b"\x00\xffpicture")
    assert attachments.body(book.con, one.id) == b"\x00\xffpicture"
    assert (one.kind, one.turn, one.note, one.added, one.shown) == ("slip", 0, "", NOW, False)
    with book.writing() as tx:
        attachments.change(tx, one.id, kind="plate", note="left", turn=270)
        attachments.show(tx, "a", one.id)
    (again,) = attachments.of_visit(book.con, "a")
    assert (again.kind, again.turn, again.note, again.shown) == ("plate", 270, "left", True)


def test_the_same_picture_twice_is_kept_once(book: Book) -> None:
    first, second = add(book, "a", b"one"), add(book, "a", b"one")
    assert first == second
    other = add(book, "b", b"one")
    assert other.id != first.id
    assert bodies(book) == 1


def test_photographs_come_in_the_order_they_were_added(book: Book) -> None:
    ids = [add(book, "a", data).id for data in (b"1", b"2", b"3")]
    with book.writing() as tx:
        attachments.put_away(tx, ids[1], NOW)
    assert [one.id for one in attachments.of_visit(book.con, "a")] == [ids[0], ids[2]]
    found = attachments.latest_put_away(book.con, "a")
    assert found is not None
    assert found.id == ids[1]
    assert add(book, "a", b"2").id == ids[1]  # the same file chosen again brings it back
    assert [one.id for one in attachments.of_visit(book.con, "a")] == ids


def test_a_draft_put_away_takes_its_photographs_but_no_others(book: Book) -> None:
    with book.writing() as tx:
        drafts.keep(tx, "visit", "a", "{}")
        drafts.keep(tx, "quote", "b", "{}")
    add(book, "a", b"shared")
    add(book, "a", b"own")
    add(book, "b", b"shared")
    with book.writing() as tx:
        drafts.drop(tx, "visit", "a")
        drafts.drop(tx, "quote", "b")
    assert attachments.of_visit(book.con, "a") == []
    assert len(attachments.of_visit(book.con, "b")) == 1
    assert bodies(book) == 1


def test_a_visit_signed_off_keeps_what_was_not_put_away(book: Book) -> None:
    visit = registered(book)
    with book.writing() as tx:
        drafts.keep(tx, "visit", visit.visit_id, "{}")
    kept, gone = add(book, visit.visit_id, b"kept"), add(book, visit.visit_id, b"gone")
    with book.writing() as tx:
        attachments.put_away(tx, gone.id, NOW)
        visits.add_visit(tx, visit, [RESULT])
        drafts.drop(tx, "visit", visit.visit_id)
    assert attachments.of_visit(book.con, visit.visit_id) == [kept]
    assert bodies(book) == 1
    appliance_id = visit.works[0].appliance.id
    assert appliance_id is not None
    assert attachments.of_appliance(book.con, appliance_id) == [kept]
    assert attachments.of_appliance(book.con, 99) == []
    assert attachments.latest_put_away(book.con, visit.visit_id) is None


def test_what_is_not_there_is_said_so(book: Book) -> None:
    with pytest.raises(LookupError):
        attachments.attachment(book.con, 7)
    with pytest.raises(LookupError):
        attachments.body(book.con, 7)
    with pytest.raises(LookupError), book.writing() as tx:
        attachments.change(tx, 7, turn=90)
    one = add(book, "a", b"x")
    with pytest.raises(sqlite3.IntegrityError), book.writing() as tx:
        attachments.change(tx, one.id, turn=45)


def test_a_damaged_photograph_is_reported(book: Book, path: Path) -> None:
    add(book, "a", b"as it was taken")
    add(book, "a", b"untouched")
    assert verify.verify(book.con) == []
    book.close()
    with closing(sqlite3.connect(path)) as con, con:
        con.execute("UPDATE attachment_body SET bytes = x'00' WHERE bytes = ?", (b"as it was taken",))
    with Book.open(path, read_only=True) as again:
        assert [fault.code for fault in verify.verify(again.con)] == ["photo-damaged"]


def test_a_photograph_without_its_picture_is_reported(book: Book, path: Path) -> None:
    add(book, "a", b"picture")
    book.close()
    with closing(sqlite3.connect(path)) as con, con:
        con.execute("DELETE FROM attachment_body")
    with Book.open(path, read_only=True) as again:
        assert [fault.code for fault in verify.verify(again.con)] == ["row-points-nowhere"]
