"""The order field by its keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from tests.desktop.conftest import show

from flueleaf.desktop.fields.order_field import OrderField

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper

CTRL = Qt.KeyboardModifier.ControlModifier
WORDS = {"o2": "O2", "co": "CO", "flue": "flue gas", "no": "NO"}


@pytest.fixture
def field(keeper: ThemeKeeper, qtbot: QtBot) -> OrderField:
    assert keeper.scale == 1.0
    made = OrderField("order", "printed in this order", WORDS, ("o2", "co", "flue"))
    show(qtbot, made)
    made.control().setFocus()
    return made


def test_the_usual_order_is_no_text(field: OrderField) -> None:
    assert field.text() == ""
    assert field.keys() == ("o2", "co", "flue")


def test_ctrl_with_an_arrow_moves_a_line_and_keeps_it_at_hand(field: OrderField) -> None:
    heard: list[str] = []
    field.edited.connect(heard.append)
    QTest.keyClick(field.list, Qt.Key.Key_Down)
    QTest.keyClick(field.list, Qt.Key.Key_Up, CTRL)
    assert field.text() == "co,o2,flue"
    assert field.list.currentRow() == 0
    QTest.keyClick(field.list, Qt.Key.Key_Up, CTRL)
    QTest.keyClick(field.list, Qt.Key.Key_Down, CTRL)
    assert field.text() == ""
    assert heard == ["co,o2,flue", ""]


def test_a_blank_leaves_out_and_takes_in_and_delete_leaves_out(field: OrderField) -> None:
    QTest.keyClick(field.list, Qt.Key.Key_Space)
    assert field.text() == "co,flue"
    assert "not printed" in field.list.item(0).text()
    QTest.keyClick(field.list, Qt.Key.Key_Space)
    assert field.keys() == ("o2", "co", "flue")
    QTest.keyClick(field.list, Qt.Key.Key_Delete)
    QTest.keyClick(field.list, Qt.Key.Key_Delete)
    assert field.text() == "co,flue"


def test_the_last_one_cannot_be_left_out(field: OrderField) -> None:
    field.set_text("co")
    QTest.keyClick(field.list, Qt.Key.Key_Delete)
    assert field.text() == "co"


def test_what_is_not_known_is_passed_over(field: OrderField) -> None:
    field.set_text("no, soot, o2, no")
    assert field.keys() == ("no", "o2")
    assert field.list.count() == len(WORDS)


def test_enter_goes_on(field: OrderField) -> None:
    heard: list[bool] = []
    field.entered.connect(lambda: heard.append(True))
    QTest.keyClick(field.list, Qt.Key.Key_Return)
    assert heard == [True]
