"""Distances noted in steps follow the text scale; others stay what they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from flueleaf.desktop import spacing
from flueleaf.desktop.flow_layout import FlowLayout
from flueleaf.desktop.leaves.business_form_leaf import BusinessForm
from flueleaf.desktop.place import Place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.desktop.window import MainWindow


def test_what_was_noted_follows_the_scale(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    page, bar = QWidget(), QWidget()
    qtbot.addWidget(page)
    column, grid = QVBoxLayout(page), QGridLayout()
    column.addLayout(grid)
    column.addWidget(bar)
    flow = FlowLayout(bar, gap_steps=2)
    spacing.set_gap(column, 1.5)
    spacing.set_gaps(grid, 4, 0.5)
    spacing.set_margins(column, 1, 2, 3, 4)
    spacing.set_margins(bar, 0, 0, 0, 2)
    keeper.set_scale(2.0)
    spacing.follow()
    assert column.spacing() == 12
    assert (grid.horizontalSpacing(), grid.verticalSpacing()) == (32, 4)
    margins = column.contentsMargins()
    assert (margins.left(), margins.top(), margins.right(), margins.bottom()) == (8, 16, 24, 32)
    assert bar.contentsMargins().bottom() == 16
    assert flow.spacing() == 16


@pytest.mark.usefixtures("qtbot")
def test_a_leaf_made_larger_while_open_is_as_one_opened_so(window: MainWindow, keeper: ThemeKeeper) -> None:
    def gaps() -> list[int]:
        assert isinstance(window.leaf, BusinessForm)
        return [
            layout.spacing()
            for widget in window.leaf.findChildren(QWidget)
            if (layout := widget.layout()) is not None
        ]

    window.go(Place("business_form", "own"))
    small = gaps()
    keeper.set_scale(2.0)
    grown = gaps()
    window.go(Place("tonight"))
    window.go(Place("business_form", "own"))
    assert grown == gaps()
    assert grown != small
