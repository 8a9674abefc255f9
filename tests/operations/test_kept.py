"""A draft put away comes back whole, until the next one is put away; then it is gone with all of it."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest

from flueleaf.domain.problems import UserProblem
from flueleaf.operations import kept, pages, photos, undo_steps
from flueleaf.storage.book import Book

NOW = dt.datetime(2026, 11, 20, 21, tzinfo=dt.UTC)
JPEG = b"\xff\xd8\xff\xe0 a slip"
KIND = "visit"


def _draft(book: Book, key: str) -> None:
    document = {"visit_id": key, "arrived": "09:10", "works": [{"slips": [{"o2_pct": Decimal("20.90")}]}]}
    kept.keep(book, KIND, key, document, {kept.AT: "works.0.slips.0.o2_pct", kept.QUOTE: "Q-2026-0001"})
    undo_steps.keep(book, key, {"at": 2}, [({"at": 1}, "arrived")], [])
    photos.add(book, key, JPEG + key.encode(), kind="slip", now=NOW)


def _rows(book: Book) -> dict[str, list[tuple[object, ...]]]:
    return {
        table: [tuple(row) for row in book.con.execute(f"SELECT * FROM {table} ORDER BY 1, 2")]
        for table in ("draft", "attachment", "attachment_body")
    }


def test_it_comes_back_to_the_last_byte(book: Book) -> None:
    _draft(book, "one")
    before = _rows(book)
    changes = kept.put_away(book, KIND, "one")
    assert kept.load(book, KIND, "one") is None
    assert pages.tonight(book, NOW.date()).drafts == ()
    assert changes.take_back is not None
    back = changes.take_back(book, NOW)
    assert back.topics == changes.topics
    assert _rows(book) == before
    assert kept.beside(book, KIND, "one", kept.AT) == "works.0.slips.0.o2_pct"
    assert undo_steps.load(book, "one") == ({"at": 2}, [({"at": 1}, "arrived")], [])


def test_the_next_one_put_away_takes_its_place(book: Book) -> None:
    _draft(book, "one")
    _draft(book, "two")
    first = kept.put_away(book, KIND, "one")
    second = kept.put_away(book, KIND, "two")
    assert first.take_back is not None
    assert second.take_back is not None
    with pytest.raises(UserProblem, match="not in the book any more"):
        first.take_back(book, NOW)
    assert photos.of_visit(book, "one") == ()
    assert undo_steps.load(book, "one") is None
    second.take_back(book, NOW)
    assert kept.load(book, KIND, "two") is not None
    assert len(photos.of_visit(book, "two")) == 1
    assert book.con.execute("SELECT count(*) FROM attachment_body").fetchone()[0] == 1


def test_where_nothing_was_kept_there_is_nothing_to_bring_back(book: Book) -> None:
    assert kept.put_away(book, KIND, "never typed").take_back is None


def test_a_leaf_nobody_typed_in_leaves_the_one_put_away_before(book: Book) -> None:
    _draft(book, "one")
    before = _rows(book)
    first = kept.put_away(book, KIND, "one")
    assert kept.put_away(book, KIND, "never typed").take_back is None
    assert first.take_back is not None
    first.take_back(book, NOW)
    assert _rows(book) == before


def test_one_begun_anew_is_not_overwritten_by_the_one_put_away(book: Book) -> None:
    _draft(book, "one")
    first = kept.put_away(book, KIND, "one")
    kept.keep(book, KIND, "one", {"visit_id": "one", "arrived": "10:00"})
    assert first.take_back is not None
    with pytest.raises(UserProblem, match="begun anew"):
        first.take_back(book, NOW)
    assert kept.load(book, KIND, "one") == {"visit_id": "one", "arrived": "10:00"}
    again = kept.put_away(book, KIND, "one")
    assert again.take_back is not None
    again.take_back(book, NOW)
    assert kept.load(book, KIND, "one") == {"visit_id": "one", "arrived": "10:00"}
    assert len(photos.of_visit(book, "one")) == 1
