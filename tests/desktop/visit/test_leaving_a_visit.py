"""Going away from a visit: in the middle of a word, with a busy book, for a name still missing."""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from tests.desktop.visit.typist import Typist, come_to_rest

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.domain.records.business import Business
from flueleaf.operations import book as books
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.leaf import Leaf
    from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    """The window on a new visit to the premises of the worked evening, the time of arrival half typed."""
    window.go(Place("visit", within="1"))
    typing = Typist(window)
    typing.reach("arrived")
    typing.write("09")
    return typing


def leaf_of(window: MainWindow) -> Leaf:
    assert window.leaf is not None
    return window.leaf


def test_tonight_lists_what_was_half_typed_a_moment_before(typist: Typist) -> None:
    typist.press(Qt.Key.Key_T, CTRL)
    assert leaf_of(typist.window).place == TONIGHT
    assert any("95 Ropewalk Parade" in row for row in texts(typist.window))


def texts(window: MainWindow) -> list[str]:
    return [label.text() for label in window.margin.findChildren(QLabel)]


def test_what_cannot_be_kept_holds_the_window_once(typist: Typist, desk: Desk) -> None:
    window = typist.window
    with sqlite3.connect(desk.book.path) as other:
        desk.book.con.execute("PRAGMA busy_timeout = 0")
        other.execute("BEGIN IMMEDIATE")
        window.close()
        assert window.isVisible()
        assert "Not kept yet" in window.notice
        assert "once more" in window.notice
        window.go(TONIGHT)
        assert leaf_of(window).place == TONIGHT
        other.execute("ROLLBACK")
    other.close()


def test_a_window_that_could_keep_after_all_closes(typist: Typist, desk: Desk) -> None:
    window = typist.window
    with sqlite3.connect(desk.book.path) as other:
        desk.book.con.execute("PRAGMA busy_timeout = 0")
        other.execute("BEGIN IMMEDIATE")
        window.close()
        other.execute("ROLLBACK")
    other.close()
    window.close()
    assert not window.isVisible()
    kept = drafting.load(desk.book, leaf_of(window).place.key)
    assert kept is not None
    assert kept["arrived"] == "09"


def test_putting_away_from_the_finder_asks_twice_too(typist: Typist, desk: Desk) -> None:
    window = typist.window
    visit_id = leaf_of(window).place.key
    for _ in range(2):
        typist.press(Qt.Key.Key_K, CTRL)
        typist.write("put this draft away")
        typist.enter()
    assert drafting.load(desk.book, visit_id) is None
    assert leaf_of(window).place == TONIGHT


def test_no_paper_without_a_name_and_the_way_to_it(window: MainWindow, desk: Desk) -> None:
    books.save_business(desk.book, Business(name=""))
    window.go(Place("visit", within="1"))
    visit = leaf_of(window)
    assert isinstance(visit, TypedVisitLeaf)
    come_to_rest(window)
    (unnamed,) = [left for left in visit.left if left.place is not None]
    assert unnamed.holds_up
    visit.go_to_left(unnamed)
    typist = Typist(window)
    assert typist.here == "name"
    typist.write("Jory Quillfeather")
    typist.press(Qt.Key.Key_Return, CTRL)
    again = leaf_of(window)
    assert isinstance(again, TypedVisitLeaf)
    assert not [left for left in again.left if left.place is not None]


def test_a_way_back_that_is_held_up_loses_no_step(typist: Typist, desk: Desk) -> None:
    window = typist.window
    visit = leaf_of(window).place
    for place in (Place("premises", "1"), visit):
        window.go(place)
        typist.rest()
    typist.reach("left")
    typist.write("10")
    with sqlite3.connect(desk.book.path) as other:
        desk.book.con.execute("PRAGMA busy_timeout = 0")
        other.execute("BEGIN IMMEDIATE")
        window.go_back()
        assert leaf_of(window).place == visit
        other.execute("ROLLBACK")
    other.close()
    window.go_back()
    assert leaf_of(window).place == Place("premises", "1")
