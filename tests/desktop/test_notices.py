"""How long a notice stays, and what takes it away."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from flueleaf.desktop.notices import LEAST_MS, Notices, duration_ms
from flueleaf.desktop.place import Place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.desktop.window import MainWindow


def test_a_longer_text_stays_longer() -> None:
    assert duration_ms("Kept.") == LEAST_MS
    assert duration_ms("x" * 200) == 24_000


def test_a_notice_goes_with_the_leaf_it_is_about(window: MainWindow) -> None:
    assert window.leaf is not None
    window.leaf.said.emit("About this leaf.")
    assert window.notice == "About this leaf."
    window.go(Place("premises", "1"))
    assert window.notice == ""
    window.say("About the book.")
    window.go(Place("tonight"))
    assert window.notice == "About the book."


def test_the_last_notice_can_be_said_again(qtbot: QtBot, window: MainWindow) -> None:
    assert window.leaf is not None
    window.leaf.said.emit("About this leaf.")
    window.go(Place("premises", "1"))
    focused = QApplication.focusWidget()
    assert focused is not None
    qtbot.keyClick(focused, Qt.Key.Key_F2)
    assert window.notice == "About this leaf."


def test_an_undoable_notice_is_undone_once(qtbot: QtBot) -> None:
    room = QWidget()
    qtbot.addWidget(room)
    notices, undone = Notices(room), list[str]()
    assert not notices.undo()
    assert not notices.repeat()
    notices.say_undoable("One.", lambda: undone.append("one"))
    notices.say_undoable("Two.", lambda: undone.append("two"))
    notices.say("Something else.")
    assert notices.undo()
    assert not notices.undo()
    assert undone == ["two"]
    notices.say("")
    assert (notices.text, notices.last) == ("Something else.", "Something else.")


@pytest.mark.parametrize(("size", "scale"), [((800, 600), 1.0), ((1280, 800), 2.0), ((640, 480), 2.0)])
def test_a_long_notice_takes_two_lines_and_is_whole_when_said_again(
    qtbot: QtBot, window: MainWindow, keeper: ThemeKeeper, size: tuple[int, int], scale: float
) -> None:
    keeper.set_scale(scale)
    assert window.leaf is not None
    window.leaf.kept.emit(True)
    window.resize(*size)
    text = "A long sentence that says what happened and what to do about it now. " * 4
    window.say(text)
    line, bar = window.findChild(QLabel, "notice"), window.statusBar()
    assert line is not None
    line_px = QFontMetrics(line.font()).height()
    qtbot.waitUntil(lambda: line.heightForWidth(line.width()) == 2 * line_px and line.height() >= 2 * line_px)
    assert line.text().endswith("…")
    assert text.startswith(line.text().removesuffix("…"))
    assert window.notice == line.accessibleName() == line.toolTip() == text
    (kept,) = (shown for shown in bar.findChildren(QLabel) if shown.text() == "kept")
    assert not line.geometry().intersects(kept.geometry())
    window.say_again()
    qtbot.waitUntil(lambda: line.height() >= line.heightForWidth(line.width()) > 2 * line_px)
    assert line.text() == text
    assert (window.width(), window.height()) == size
    assert bar.height() < size[1]


def test_a_notice_that_fits_is_shown_whole(window: MainWindow) -> None:
    window.say("The photograph is put away.")
    line = window.findChild(QLabel, "notice")
    assert line is not None
    assert line.text() == "The photograph is put away."
