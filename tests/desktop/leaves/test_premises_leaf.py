from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.operations import pages

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

PLACE = Place("premises", "1")
CTRL = Qt.KeyboardModifier.ControlModifier


def open_list(qtbot: QtBot, window: MainWindow, title: str) -> Place:
    """Tab to a list and press Enter on its first row."""
    for _ in range(40):
        focused = QApplication.focusWidget()
        assert focused is not None
        if focused.objectName() == f"leaf.{PLACE.leaf}.{title}":
            qtbot.keyClick(focused, Qt.Key.Key_Return)
            assert window.leaf is not None
            return window.leaf.place
        qtbot.keyClick(focused, Qt.Key.Key_Tab)
    raise AssertionError(f"Tab never came to {title}")


def test_the_appliance_is_opened_by_keyboard(qtbot: QtBot, window: MainWindow) -> None:
    window.go(PLACE)
    assert open_list(qtbot, window, "appliances") == Place("appliance", "1")


def test_a_paper_is_opened_by_keyboard(qtbot: QtBot, window: MainWindow) -> None:
    window.go(PLACE)
    newest = pages.premises_page(window.desk.book, 1).papers[0].number
    assert open_list(qtbot, window, "papers") == Place("paper", newest)


def test_it_says_who_where_and_the_last_verdict(window: MainWindow) -> None:
    window.go(PLACE)
    assert window.leaf is not None
    page = pages.premises_page(window.desk.book, 1)
    assert page.premises.address[0] in window.leaf.title
    table = window.leaf.findChild(RowsPanel, "leaf.premises.appliances")
    assert table is not None
    assert table.rows_model.rows[0].cells[-1] == page.appliances[0].last_verdict != ""


@pytest.mark.parametrize("where", ["responsible", "name"])
def test_what_is_edited_shows_at_once(qtbot: QtBot, window: MainWindow, where: str) -> None:
    window.go(PLACE)
    focused = QApplication.focusWidget()
    assert focused is not None
    shift = Qt.KeyboardModifier.ShiftModifier
    qtbot.keyClick(focused, Qt.Key.Key_E, CTRL if where == "responsible" else CTRL | shift)
    assert window.leaf is not None
    field = window.leaf.findChild(object, f"{where}.edit")
    field.selectAll()
    qtbot.keyClicks(field, "Nesta Quenderby")
    qtbot.keyClick(field, Qt.Key.Key_Return, CTRL)
    assert window.leaf.place == PLACE
    page = pages.premises_page(window.desk.book, 1)
    assert (page.premises.responsible if where == "responsible" else page.customer.name) == "Nesta Quenderby"
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_BracketLeft, CTRL)
    assert window.leaf.place == TONIGHT
