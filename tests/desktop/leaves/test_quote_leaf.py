"""The quote leaf on premises the book knows: kept, reopened, refused, put away."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.looking_up import look_up
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.quote.typed_quote import TypedQuoteLeaf
from flueleaf.domain.records.business import Business
from flueleaf.operations import book as books
from flueleaf.operations import pages, quoting
from flueleaf.storage import money

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
LINE = (("text", "Expansion vessel"), ("quantity", "1"), ("unit_price", "118.00"), ("vat_pct", "20"))


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    """A new quote begun by its key on the premises of the worked evening."""
    window.go(Place("premises", "1"))
    typing = Typist(window)
    typing.press(Qt.Key.Key_N, CTRL | SHIFT)
    return typing


def leaf_of(typist: Typist) -> TypedQuoteLeaf:
    assert isinstance(typist.window.leaf, TypedQuoteLeaf), typist.window.notice
    return typist.window.leaf


def field(typist: Typist, name: str) -> Field:
    found = leaf_of(typist).findChild(Field, name)
    assert found is not None
    return found


def type_line(typist: Typist) -> None:
    for key, text in LINE:
        typist.type_at(f"lines.0.{key}", text)


def test_people_are_filled_in_and_the_sum_runs_along(typist: Typist) -> None:
    leaf = leaf_of(typist)
    assert leaf.title.startswith("95 Ropewalk Parade")
    assert typist.here == "lines.0.text"
    type_line(typist)
    leaf.judge()
    found = leaf.findChild(QLabel, "lines.sum")
    assert found is not None
    assert found.text() == "net £118.00 · VAT £23.60 · to pay £141.60"
    assert leaf.left == []


def test_half_a_quote_is_kept_listed_and_reopened_where_it_was_left(typist: Typist) -> None:
    window, key = typist.window, leaf_of(typist).place.key
    typist.write("Expansion ves")
    typist.press(Qt.Key.Key_T, CTRL)
    assert window.leaf is not None
    assert window.leaf.place == TONIGHT
    (row,) = pages.tonight(window.desk.book, window.desk.today()).drafts
    assert (row.kind, row.key) == ("quote", key)
    assert Place("quote", key) in [found.place for found in look_up(window, "")]
    window.go(Place("quote", key))
    assert typist.here == "lines.0.text"
    assert field(typist, "lines.0.text").text() == "Expansion ves"


def test_what_is_missing_is_said_and_gone_to(typist: Typist) -> None:
    typist.press(Qt.Key.Key_Return, CTRL)
    assert "Not sealed" in typist.window.notice
    assert typist.here == "lines.0.text"
    type_line(typist)
    field(typist, "lines.0.vat_pct").set_text("")
    typist.press(Qt.Key.Key_Return, CTRL)
    assert typist.here == "lines.0.vat_pct"
    assert "zero-rated" in field(typist, "lines.0.vat_pct").fault()
    assert money.quotes_of_premises(typist.window.desk.book.con, 1) == []


def test_a_sealed_quote_has_no_way_back_to_its_draft(typist: Typist, qtbot: QtBot) -> None:
    window, key = typist.window, leaf_of(typist).place.key
    type_line(typist)
    typist.press(Qt.Key.Key_Return, CTRL)
    qtbot.waitUntil(lambda: window.leaf is not None and window.leaf.place.leaf == "paper", timeout=60_000)
    (quote,) = pages.premises_page(window.desk.book, 1).quotes
    assert (quote.total, window.leaf.place.key if window.leaf else "") == ("£141.60", quote.number)
    typist.press(Qt.Key.Key_BracketLeft, CTRL)
    assert window.leaf is not None
    assert window.leaf.place == Place("premises", "1")
    window.go(Place("quote", key))
    assert "was sealed" in window.notice
    assert Place("quote", key) not in [place for place, _ in window.lately]


def test_what_the_book_refuses_is_said_and_the_draft_stays(typist: Typist, qtbot: QtBot) -> None:
    type_line(typist)
    leaf = leaf_of(typist)
    leaf.judge()
    books.save_business(typist.window.desk.book, Business(name="", vat="standard"))
    typist.press(Qt.Key.Key_Return, CTRL)
    qtbot.waitUntil(lambda: "Not sealed" in typist.window.notice, timeout=60_000)
    assert leaf.scroll_area.isEnabled()
    assert quoting.load(typist.window.desk.book, leaf.place.key) is not None


def test_a_draft_is_put_away_and_taken_back(typist: Typist) -> None:
    key = leaf_of(typist).place.key
    typist.write("Exp")
    typist.press(Qt.Key.Key_D, CTRL | SHIFT)
    assert typist.window.leaf is not None
    assert typist.window.leaf.place == TONIGHT
    assert quoting.load(typist.window.desk.book, key) is None
    typist.press(Qt.Key.Key_Z, CTRL)
    kept = quoting.load(typist.window.desk.book, key)
    assert kept is not None
    assert kept["lines"][0]["text"] == "Exp"
