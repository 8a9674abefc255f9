"""The runs kept with a visit are looked at again on its leaf once it is signed off."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.settling.logged_run_dialog import LoggedRunDialog
from flueleaf.desktop.visit.signed_visit import SignedVisitLeaf
from flueleaf.operations import settling
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

RUN = (DEMO_DB / "logged_run.csv").read_bytes()
NOON = dt.datetime(2026, 11, 20, 12, 0, tzinfo=dt.UTC)


@pytest.fixture
def visit_id(window: MainWindow) -> str:
    """Of the worked evening, signed off in the book of the window."""
    row = window.desk.book.con.execute("SELECT visit_id FROM visit").fetchone()
    return str(row["visit_id"])


def signed(window: MainWindow, visit_id: str) -> SignedVisitLeaf:
    window.go(TONIGHT)
    window.go(Place("visit", visit_id))
    assert isinstance(window.leaf, SignedVisitLeaf)
    return window.leaf


def looked_at(window: MainWindow, qtbot: QtBot) -> LoggedRunDialog:
    dialog = window.findChild(LoggedRunDialog)
    assert isinstance(dialog, LoggedRunDialog)
    qtbot.waitUntil(lambda: dialog.page is not None)
    return dialog


def test_without_a_run_nothing_leads_to_one(window: MainWindow, visit_id: str) -> None:
    leaf = signed(window, visit_id)
    assert leaf.runs.runs == ()
    assert [command for command in leaf.commands() if "F3" in command.keys] == []


def test_f3_shows_the_run_with_its_window_and_fills_nothing(
    window: MainWindow, visit_id: str, qtbot: QtBot
) -> None:
    settling.keep_run(window.desk.book, visit_id, RUN, name="run-7.csv, flue, high rate", now=NOON)
    signed(window, visit_id)
    QTest.keyClick(window, Qt.Key.Key_F3)
    dialog = looked_at(window, qtbot)
    assert "run-7.csv, flue, high rate" in dialog.accessibleName()
    assert dialog.page is not None
    assert dialog.page.settling is not None
    assert dialog.page.settling.settled
    assert dialog.offer.fill.isHidden()
    assert dialog.offer.over.isHidden()
    close = dialog.findChild(QPushButton, "run.close")
    assert isinstance(close, QPushButton)
    qtbot.waitUntil(close.hasFocus)
    QTest.keyClick(close, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_each_run_has_its_button(window: MainWindow, visit_id: str, qtbot: QtBot) -> None:
    for name in ("first.csv, flue, high rate", ""):
        settling.keep_run(window.desk.book, visit_id, RUN + name.encode(), name=name, now=NOON)
    leaf = signed(window, visit_id)
    first, second = (leaf.findChild(QPushButton, f"visit.runs.{n}") for n in range(2))
    assert isinstance(first, QPushButton)
    assert isinstance(second, QPushButton)
    assert first.text() == "Logged run: first.csv, flue, high rate"
    assert second.text() == "Logged run: without a name"
    second.click()
    assert "without a name" in looked_at(window, qtbot).accessibleName()
