"""Enter presses a button, and passes by one that wants to be pressed deliberately."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget
from tests.desktop.conftest import show

from flueleaf.desktop.buttons import button

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.mark.parametrize(("deliberate", "by_enter"), [(False, 1), (True, 0)])
def test_enter_and_space(qtbot: QtBot, deliberate: bool, by_enter: int) -> None:
    pressed: list[str] = []
    page = QWidget()
    column = QVBoxLayout(page)
    made = button("Checked", "checked", lambda: pressed.append("x"), deliberate=deliberate)
    after = QLineEdit()
    column.addWidget(made)
    column.addWidget(after)
    show(qtbot, page)
    made.setFocus()
    qtbot.keyClick(made, Qt.Key.Key_Return)
    assert len(pressed) == by_enter
    assert after.hasFocus() == deliberate
    made.setFocus()
    qtbot.keyClick(made, Qt.Key.Key_Space)
    assert len(pressed) == by_enter + 1
