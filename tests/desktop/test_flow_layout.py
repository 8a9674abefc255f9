from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QLabel, QWidget
from tests.desktop.conftest import show

from flueleaf.desktop.flow_layout import FlowLayout

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_a_hidden_widget_leaves_no_gap(qtbot: QtBot) -> None:
    bar, hidden, shown = QWidget(), QLabel("hidden"), QLabel("shown")
    bar.setMinimumWidth(400)
    flow = FlowLayout(bar, gap_steps=2)
    for one in (hidden, shown):
        flow.addWidget(one)
    hidden.hide()
    show(qtbot, bar)
    assert shown.x() == 0
    assert flow.sizeHint().width() == shown.sizeHint().width()
    hidden.show()
    qtbot.waitUntil(lambda: shown.x() == hidden.width() + 8, timeout=60_000)
