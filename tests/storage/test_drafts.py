"""Drafts are kept in place of their earlier state."""

from __future__ import annotations

import datetime as dt
import sqlite3

import pytest
from tests.storage.samples import UTC

from flueleaf.storage import drafts
from flueleaf.storage.book import Book

AT = dt.datetime(2026, 11, 20, 20, 15, tzinfo=UTC)


def test_a_draft_is_kept_changed_and_dropped(book: Book) -> None:
    with book.writing() as tx:
        drafts.keep(tx, "visit", "a", '{"n":1}', at=AT)
        drafts.keep(tx, "quote", "a", "[]", at=AT + dt.timedelta(seconds=1))
        drafts.keep(tx, "visit", "a", '{"n":2}', at=AT + dt.timedelta(seconds=2))
    newest = drafts.Draft("visit", "a", '{"n":2}', AT + dt.timedelta(seconds=2))
    assert drafts.draft(book.con, "visit", "a") == newest
    assert [draft.kind for draft in drafts.drafts(book.con)] == ["visit", "quote"]
    with book.writing() as tx:
        drafts.drop(tx, "visit", "a")
        drafts.drop(tx, "visit", "never there")
    assert drafts.draft(book.con, "visit", "a") is None
    assert len(drafts.drafts(book.con)) == 1


def test_the_moment_is_now_unless_told(book: Book) -> None:
    before = dt.datetime.now(UTC)
    with book.writing() as tx:
        drafts.keep(tx, "visit", "a", "{}")
    assert before <= drafts.drafts(book.con)[0].updated <= dt.datetime.now(UTC)


def test_what_is_no_json_is_refused(book: Book) -> None:
    with pytest.raises(sqlite3.IntegrityError), book.writing() as tx:
        drafts.keep(tx, "visit", "a", "{")
    assert drafts.drafts(book.con) == []


def test_a_draft_takes_another_kind_with_all_it_has(book: Book) -> None:
    with book.writing() as tx:
        drafts.keep(tx, "visit", "a", '{"n":1}', at=AT)
        assert drafts.set_kind(tx, "visit", "a", "away:visit")
        assert not drafts.set_kind(tx, "visit", "a", "away:visit")
    assert drafts.drafts(book.con) == [drafts.Draft("away:visit", "a", '{"n":1}', AT)]


def test_a_draft_never_takes_the_place_of_another(book: Book) -> None:
    with book.writing() as tx:
        drafts.keep(tx, "visit", "a", '{"n":1}', at=AT)
        drafts.keep(tx, "away:visit", "a", '{"n":2}', at=AT)
    with pytest.raises(sqlite3.IntegrityError), book.writing() as tx:
        drafts.set_kind(tx, "away:visit", "a", "visit")
    assert {one.kind: one.payload for one in drafts.drafts(book.con)} == {
        "visit": '{"n":1}',
        "away:visit": '{"n":2}',
    }
