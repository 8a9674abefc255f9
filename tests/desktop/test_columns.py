"""Widths of the three columns, kept apart from the size of the window."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.columns import SIDES_PX, WIDEST_PX, Columns
from flueleaf.desktop.margin.margin_panel import MarginPanel
from flueleaf.desktop.theme import current

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper


@pytest.mark.parametrize(
    ("finder", "margin", "expected"),
    [(300, 260, (300, 260)), ("wide", None, SIDES_PX), (-5, 99999, (SIDES_PX[0] // 2, 2 * SIDES_PX[1]))],
)
def test_only_usable_widths_are_taken_up(
    qtbot: QtBot,
    keeper: ThemeKeeper,
    tmp_path: Path,
    finder: object,
    margin: object,
    expected: tuple[int, int],
) -> None:
    assert keeper.scale == 1.0
    settings = QSettings(str(tmp_path / "a.ini"), QSettings.Format.IniFormat)
    settings.setValue("window/finder_px", finder)
    settings.setValue("window/margin_px", margin)
    columns = Columns(QWidget(), QWidget(), MarginPanel())
    qtbot.addWidget(columns)
    columns.restore(settings)
    columns.keep(settings)
    assert (settings.value("window/finder_px"), settings.value("window/margin_px")) == expected


def test_the_widest_is_given_up_for_what_stands_beside(qtbot: QtBot, keeper: ThemeKeeper) -> None:
    assert keeper.scale == 1.0
    page = QWidget()
    columns = Columns(QWidget(), page, MarginPanel())
    qtbot.addWidget(columns)
    columns.resize(3840, 900)
    columns.show()
    columns.limit(beside=False)
    columns.set_sizes(3840)
    qtbot.waitUntil(lambda: page.width() < WIDEST_PX)
    columns.limit(beside=True)
    columns.set_sizes(3840)
    qtbot.waitUntil(lambda: page.width() > 3000)


def test_no_line_is_drawn_before_an_empty_margin(qtbot: QtBot, keeper: ThemeKeeper) -> None:
    assert keeper.scale == 1.0
    margin = MarginPanel()
    page = QWidget()
    page.setProperty("ground", "paper")
    columns = Columns(QWidget(), page, margin)
    qtbot.addWidget(columns)
    columns.resize(1400, 300)
    columns.show()

    def drawn() -> bool:
        at = margin.mapTo(columns, margin.rect().topLeft()).x()
        image = columns.grab().toImage()
        paper = current().colour("paper").name()
        return any(image.pixelColor(x, 150).name() != paper for x in range(at - 4, at + 2))

    margin.show_widgets(())
    assert not drawn()
    margin.show_widgets((QWidget(),))
    assert drawn()
