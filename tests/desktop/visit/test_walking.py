"""Wherever a key leads, the cursor is in view."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, Qt
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier


def in_view(typist: Typist) -> bool:
    leaf = typist.window.leaf
    assert leaf is not None
    port = leaf.scroll_area.viewport()
    at = QRect(typist.focus.mapTo(port, QPoint()), typist.focus.size())
    return port.rect().contains(at)


def test_the_cursor_is_in_view_after_every_jump(qtbot: QtBot, window: MainWindow) -> None:
    window.go(Place("visit", within="1"))
    typist = Typist(window)
    typist.press(Qt.Key.Key_B, CTRL)
    assert typist.here == "works.1.appliance.kind"
    qtbot.waitUntil(lambda: in_view(typist), timeout=60_000)
    for key in (Qt.Key.Key_L, Qt.Key.Key_1, Qt.Key.Key_G, Qt.Key.Key_2, Qt.Key.Key_L):
        typist.press(key, CTRL)
        qtbot.waitUntil(lambda: in_view(typist), timeout=60_000)


def test_page_down_leaves_what_is_complete_folded(window: MainWindow) -> None:
    window.go(Place("visit", within="1"))
    typist = Typist(window)
    assert typist.here == "purpose"
    typist.press(Qt.Key.Key_PageDown)
    assert typist.here == "works.0.plate.open"
    typist.press(Qt.Key.Key_PageDown)
    assert typist.here == "works.0.analyser.open"
    typist.press(Qt.Key.Key_PageUp)
    typist.press(Qt.Key.Key_Space)
    assert typist.here == "works.0.appliance.kind"


def test_a_refused_date_is_listed_as_dates_are_shown(window: MainWindow) -> None:
    window.go(Place("visit", within="1"))
    typist = Typist(window)
    typist.reach("date")
    typist.write("27/11/2027")
    typist.enter()
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    (line,) = [one.text for one in leaf.left if one.text.startswith("date")]
    assert line == "date: “27/11/2027” cannot be used"


def test_readings_of_an_appliance_without_a_kind_are_not_to_be_had(window: MainWindow) -> None:
    window.go(Place("visit"))
    typist = Typist(window)
    for key in (Qt.Key.Key_G, Qt.Key.Key_R, Qt.Key.Key_U):
        window.say("")
        typist.press(key, CTRL)
        assert "kind of appliance" in window.notice
