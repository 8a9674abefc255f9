"""Taking back and bringing back on the quote leaf, by keyboard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.quote.typed_quote import TypedQuoteLeaf
from flueleaf.desktop.visit import walking

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def leaf_of(typist: Typist) -> TypedQuoteLeaf:
    leaf = typist.window.leaf
    assert isinstance(leaf, TypedQuoteLeaf)
    return leaf


def test_lines_are_taken_back_also_after_reopening(window: MainWindow) -> None:
    window.go(Place("quote", within="1"))
    typist = Typist(window)
    for text in ("Flush", "1", "job", "120"):
        typist.write(text)
        typist.enter()
    whole = leaf_of(typist).document()
    typist.press(Qt.Key.Key_Z, CTRL)
    assert typist.here == "lines.0.unit_price"
    typist.press(Qt.Key.Key_Z, CTRL)
    assert typist.here == "lines.0.unit"
    assert leaf_of(typist).document()["lines"] == [{"text": "Flush", "quantity": "1"}]
    place = leaf_of(typist).place
    window.go(TONIGHT)
    window.go(place)
    typist.press(Qt.Key.Key_Z, CTRL | SHIFT)
    typist.press(Qt.Key.Key_Z, CTRL | SHIFT)
    assert leaf_of(typist).document() == whole
    for _ in range(4):
        typist.press(Qt.Key.Key_Z, CTRL)
    assert leaf_of(typist).document()["lines"] == []
    assert typist.here == "lines.0.text"
    typist.press(Qt.Key.Key_Z, CTRL)
    assert window.notice == "There is nothing to take back here."


def test_a_rate_carried_on_belongs_to_the_key_that_began_the_line(window: MainWindow) -> None:
    window.go(Place("quote", within="1"))
    typist = Typist(window)
    for text in ("Flush", "1", "job", "120", "20"):
        typist.write(text)
        typist.enter()
    leaf = leaf_of(typist)
    before = leaf.document()["lines"]
    walking.go_to(leaf.lines.charged.rows[1].form.fields[0], leaf.scroll_area)
    typist.write("V")
    with_rate = [*before, {"text": "V", "vat_pct": "20"}]
    assert leaf.document()["lines"] == with_rate
    typist.press(Qt.Key.Key_Z, CTRL)
    assert leaf.document()["lines"] == before
    typist.press(Qt.Key.Key_Z, CTRL | SHIFT)
    assert leaf.document()["lines"] == with_rate
