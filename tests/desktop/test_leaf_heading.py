"""The word at the right end of a heading gives way to the title and never widens the page."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.window import MainWindow

CORNER = "12 Quarry Steps, Port Ellery, QX3 7TB"


def test_the_corner_stands_beside_the_title_only_where_both_have_room(
    window: MainWindow, qtbot: QtBot
) -> None:
    leaf = Leaf(window.desk, Place("visit"))
    qtbot.addWidget(leaf)
    leaf.set_heading("A visit to Isolde Quennell", "service", CORNER)
    corner = next(one for one in leaf.findChildren(QLabel) if one.text() == CORNER)
    title = next(one for one in leaf.findChildren(QLabel) if one.text() == leaf.title)
    leaf.resize(1200, 400)
    leaf.show()
    qtbot.waitUntil(lambda: corner.x() > title.x())
    beside = QWidget()
    beside.setMinimumWidth(800)
    leaf.stand_beside(beside)  # the page becomes narrower, the leaf does not
    qtbot.waitUntil(lambda: corner.x() == title.x() and corner.y() > title.geometry().bottom())
    page = leaf.scroll_area.widget()
    assert page is not None
    assert page.minimumSizeHint().width() < corner.fontMetrics().horizontalAdvance(CORNER)
