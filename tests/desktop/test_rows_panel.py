from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QModelIndex, Qt

from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.rows_table_model import Column, Row, RowsTableModel

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper

COLUMNS = (Column("date", "date"), Column("purpose", stretch=True), Column("CO ppm", "figure"),
           Column("verdict", "verdict"))  # fmt: skip
ROWS = (
    Row(("26 Nov 2026", "service", "61", "within"), Place("visit", "a")),
    Row(("24 Nov 2025", "breakdown", "412.5", "over"), Place("visit", "b")),
)


def shown(qtbot: QtBot, rows: tuple[Row, ...] = ROWS, *, width: int = 600) -> RowsPanel:
    panel = RowsPanel("premises.visits", "visits", COLUMNS, rows)
    qtbot.addWidget(panel)
    panel.resize(width, panel.height())
    with qtbot.waitActive(panel):
        panel.show()
        panel.activateWindow()
    return panel


def test_the_model_keeps_the_rules(qtmodeltester: ModelTester) -> None:
    model = RowsTableModel(COLUMNS, ROWS)
    qtmodeltester.check(model)
    model.set_rows(ROWS[:1])
    qtmodeltester.check(model)
    assert model.data(QModelIndex()) is None
    assert model.data(model.index(0, 3), Qt.ItemDataRole.AccessibleTextRole) == "verdict within"


@pytest.mark.usefixtures("keeper")
def test_arrows_and_enter_open_a_row(qtbot: QtBot) -> None:
    panel = shown(qtbot)
    panel.setFocus()
    opened: list[Place] = []
    panel.opened.connect(opened.append)
    qtbot.keyClick(panel, Qt.Key.Key_Return)
    qtbot.keyClick(panel, Qt.Key.Key_Down)
    qtbot.keyClick(panel, Qt.Key.Key_Enter)
    assert opened == [Place("visit", "a"), Place("visit", "b")]


@pytest.mark.usefixtures("keeper")
def test_a_click_opens_a_row(qtbot: QtBot) -> None:
    panel = shown(qtbot)
    where = panel.visualRect(panel.model().index(1, 1)).center()
    with qtbot.waitSignal(panel.opened) as opened:
        qtbot.mouseClick(panel.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert opened.args == [Place("visit", "b")]


@pytest.mark.usefixtures("keeper")
def test_a_table_that_leads_nowhere_takes_no_keyboard(qtbot: QtBot) -> None:
    panel = shown(qtbot, (Row(("", "O2, %", "4.8", "")),))
    assert panel.focusPolicy() == Qt.FocusPolicy.NoFocus
    panel.set_rows(ROWS)
    assert panel.focusPolicy() == Qt.FocusPolicy.StrongFocus


def test_rows_take_two_lines_where_one_is_too_narrow(qtbot: QtBot, keeper: ThemeKeeper) -> None:
    panel = shown(qtbot)
    wide = panel.height()
    panel.resize(260, panel.height())
    assert panel.height() > wide
    assert panel.columnSpan(0, 0) == len(COLUMNS)
    panel.resize(600, panel.height())
    assert panel.height() == wide
    assert panel.columnSpan(0, 0) == 1
    keeper.set_scale(2.0)
    qtbot.waitUntil(lambda: panel.height() >= 1.8 * wide, timeout=60_000)


@pytest.mark.usefixtures("keeper")
def test_a_row_of_two_lines_is_never_wider_than_the_list(qtbot: QtBot) -> None:
    long = Row(("26 Nov 2026", "service", "61", "x" * 80), Place("visit", "a"))
    panel = shown(qtbot, (long,), width=260)
    assert panel.columnSpan(0, 0) == len(COLUMNS)
    assert panel.visualRect(panel.model().index(0, 0)).width() <= panel.viewport().width()
    panel.resize(2000, panel.height())
    assert panel.columnWidth(3) > 400


@pytest.mark.usefixtures("keeper")
def test_figures_stand_under_each_other_at_the_point(qtbot: QtBot) -> None:
    panel = shown(qtbot, (Row(("", "", "61", "")), Row(("", "", "61.25", ""))))
    column = panel.grab().toImage()
    left, width = panel.columnViewportPosition(2), panel.columnWidth(2)

    def first_ink(row: int) -> int:
        box = panel.visualRect(panel.model().index(row, 2))
        top = panel.viewport().y() + box.top() + 4
        return next(
            x
            for x in range(left, left + width)
            if any(column.pixelColor(x, y).lightness() < 100 for y in range(top, top + box.height() - 10))
        )

    assert first_ink(0) == first_ink(1)


@pytest.mark.usefixtures("keeper")
def test_a_group_is_painted_once_but_heard_in_every_row(qtbot: QtBot) -> None:
    def left_ink(rows: Sequence[Row], row: int) -> bool:
        panel = RowsPanel("due", "due", (Column("when", "group"), Column("what", stretch=True)), rows)
        qtbot.addWidget(panel)
        panel.resize(600, panel.height())
        panel.show()
        box = panel.visualRect(panel.model().index(row, 0)).adjusted(2, 4, -2, -4)
        image = panel.viewport().grab(box).toImage()
        pixels = {image.pixel(x, y) for x in range(image.width()) for y in range(image.height())}
        heard = panel.model().data(panel.model().index(row, 0), Qt.ItemDataRole.AccessibleTextRole)
        assert heard == f"when {rows[row].cells[0]}"
        return len(pixels) > 1

    same = (Row(("this week", "a")), Row(("this week", "b")))
    other = (Row(("this week", "a")), Row(("next week", "b")))
    assert [left_ink(same, 0), left_ink(same, 1), left_ink(other, 1)] == [True, False, True]


@pytest.mark.usefixtures("keeper")
def test_titles_can_be_heard_without_being_seen(qtbot: QtBot) -> None:
    with_heads = RowsPanel("a", "a", COLUMNS, ROWS)
    without = RowsPanel("b", "b", COLUMNS, ROWS, heads=False)
    for panel in (with_heads, without):
        qtbot.addWidget(panel)
        panel.resize(900, panel.height())
        panel.show()
    assert with_heads.horizontalHeader().isVisible()
    assert not without.horizontalHeader().isVisible()
    model = without.model()
    assert model.data(model.index(0, 3), Qt.ItemDataRole.AccessibleTextRole) == "verdict within"
