"""How long a notice stays, and what takes it away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from flueleaf.desktop.notices import LEAST_MS, Notices, duration_ms
from flueleaf.desktop.place import Place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

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


def test_a_long_notice_is_shown_whole_and_widens_nothing(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(800, 600)
    window.say("A long sentence that says what happened and what to do about it now. " * 3)
    line = window.findChild(QLabel, "notice")
    assert line is not None
    qtbot.waitUntil(lambda: line.height() >= line.heightForWidth(line.width()))
    assert (window.width(), window.height()) == (800, 600)
    assert window.statusBar().height() < 200
