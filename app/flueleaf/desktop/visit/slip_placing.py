"""Where the parts of the readings grid stand: slips side by side, or below each other on a narrow page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel

from flueleaf.desktop.theme import current
from flueleaf.desktop.visit.reading_field import WIDTH_PX, ReadingField, edge_px, right_inset
from flueleaf.domain.quantities import QUANTITIES

if TYPE_CHECKING:
    from flueleaf.desktop.visit.slip_column import SlipColumn
    from flueleaf.desktop.visit.slips_panel import SlipsPanel

HEAD_PX, LAST_PX, GAPS_PX = 112, 52, 24
STACKED_LAST_COLUMN = 3
GAP_STEPS = 4  # of the grid, between slips below each other
_TOP = Qt.AlignmentFlag.AlignTop
_MIDDLE = Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


def needed_px(panel: SlipsPanel) -> int:
    """Return the width that the slips need side by side."""
    return current().px(HEAD_PX + len(panel.columns) * (WIDTH_PX + LAST_PX + GAPS_PX))


def place(panel: SlipsPanel, grid: QGridLayout, *, stacked: bool) -> None:
    """Set every part of the panel into its grid."""
    grid.setColumnMinimumWidth(0, current().px(HEAD_PX))
    for row in range(grid.rowCount()):  # the gaps of the other way
        grid.setRowMinimumHeight(row, 0)
    last_column = 2 * len(panel.columns) + 1
    for at in range(1, last_column + 1):
        grid.setColumnStretch(at, 0)
    if stacked:  # nothing stands in the columns of the slips side by side, so that these take no room
        last_column = STACKED_LAST_COLUMN
        _below(panel, grid)
    else:
        _beside(panel, grid, last_column)
    grid.setColumnStretch(last_column, 1)
    _reasons(panel, grid, last_column)


def _beside(panel: SlipsPanel, grid: QGridLayout, last_column: int) -> None:
    for n, column in enumerate(panel.columns):
        left = 1 + 2 * n
        grid.addWidget(column.title, 0, left, 1, 2, _TOP)
        grid.addWidget(column.subtitle, 1, left, 1, 2, _TOP)
    row = 2
    for key in panel.keys if panel.columns else ():
        heads = panel.heads[key]
        grid.addWidget(heads[0], row, 0, _MIDDLE)
        heads[0].show()
        for spare in heads[1:]:
            spare.hide()
        for n, column in enumerate(panel.columns):
            if key in column.fields:
                _field(column, key, grid, row, 1 + 2 * n)
        for n, column in enumerate(panel.columns):
            if key in column.fields:
                _message(column.fields[key], grid, row + 1 + n, 1, last_column)
        row += 1 + len(panel.columns)
    _ratios(panel, grid, row)


def _fit_ratio(ratio: QLabel) -> None:
    """Let the decimal point of the computed ratio stand under those of the fields."""
    ratio.setFixedWidth(current().px(WIDTH_PX))
    ratio.setContentsMargins(0, 0, right_inset(QUANTITIES["ratio"].decimals) + edge_px(), 0)


def _ratios(panel: SlipsPanel, grid: QGridLayout, row: int) -> None:
    heads = panel.heads[""]
    if heads:
        grid.addWidget(heads[0], row, 0, _MIDDLE)
        # Elsewhere none is worked out.
        heads[0].setVisible(any("ratio" in column.fields for column in panel.columns))
    for spare in heads[1:]:
        spare.hide()
    for n, column in enumerate(panel.columns):
        _fit_ratio(column.ratio)
        grid.addWidget(column.ratio, row, 1 + 2 * n)
        grid.addWidget(column.verdict, row + 1, 1 + 2 * n, 1, 2)


def _below(panel: SlipsPanel, grid: QGridLayout) -> None:
    row = 0
    for n, column in enumerate(panel.columns):
        if n:
            grid.setRowMinimumHeight(row, current().space(GAP_STEPS))
            row += 1
        grid.addWidget(column.title, row, 0, 1, 2, _TOP)
        grid.addWidget(column.subtitle, row, 1, 1, 2, _MIDDLE)
        row += 1
        for key in panel.keys:
            head = panel.heads[key][n]
            if key not in column.fields:
                head.hide()
                continue
            grid.addWidget(head, row, 0, _MIDDLE)
            head.show()
            _field(column, key, grid, row, 1)
            _message(column.fields[key], grid, row + 1, 0, STACKED_LAST_COLUMN)
            row += 2
        _fit_ratio(column.ratio)
        grid.addWidget(panel.heads[""][n], row, 0, _MIDDLE)
        panel.heads[""][n].setVisible("ratio" in column.fields)  # elsewhere none is worked out
        grid.addWidget(column.ratio, row, 1)
        grid.addWidget(column.verdict, row + 1, 0, 1, 2)
        row += 2


def _field(column: SlipColumn, key: str, grid: QGridLayout, row: int, left: int) -> None:
    grid.addWidget(column.fields[key], row, left)
    column.last[key].setMinimumWidth(current().px(LAST_PX - 8))
    grid.addWidget(column.last[key], row, left + 1, Qt.AlignmentFlag.AlignLeft | _MIDDLE)


def _message(field: ReadingField, grid: QGridLayout, row: int, left: int, right: int) -> None:
    """Set what is wrong with a reading, once something is, under its row, to the right end of the grid."""
    field.put_message(lambda message: grid.addWidget(message, row, left, 1, right - left + 1))


def _reasons(panel: SlipsPanel, grid: QGridLayout, last_column: int) -> None:
    """Set the reasons for what could not be measured under everything; only those asked for are shown."""
    row = grid.rowCount()
    for column in panel.columns:
        grid.addWidget(column.reason_words, row, 0, 1, last_column + 1)
        grid.addWidget(column.reason, row + 1, 0, 1, last_column + 1)
        column.reason_words.setVisible(column.wants_reason)
        column.reason.setVisible(column.wants_reason)
        row += 2
