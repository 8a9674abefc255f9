"""The window that waits for the demo book: it lives while another process writes, and can be closed."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QDialog
from tests.desktop.conftest import TODAY

from flueleaf.desktop.demo_book import DemoWaitDialog, demo_file, forget_older, fresh_copy

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper

# Stand in for the program: they are given the same arguments, "make-demo FILE --today DAY".
WRITES = "import pathlib, sys; pathlib.Path(sys.argv[2]).write_text(sys.argv[4])"
REFUSES = "import sys; sys.exit('There is no room on the disk.')"
HANGS = "import sys; print('begun', flush=True); sys.stdin.read()"


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, keeper: ThemeKeeper) -> Path:
    assert keeper.scale == 1.0
    monkeypatch.setenv("FLUELEAF_HOME", str(tmp_path))
    return tmp_path


def waiting(qtbot: QtBot, program: str) -> DemoWaitDialog:
    made = DemoWaitDialog((sys.executable, ["-c", program]), TODAY)
    qtbot.addWidget(made)
    made.show()
    return made


def test_it_goes_once_the_book_is_written(qtbot: QtBot) -> None:
    dialog = waiting(qtbot, WRITES)
    with qtbot.waitSignal(dialog.accepted, timeout=60_000):
        assert dialog.isVisible()
    assert fresh_copy(TODAY).read_text() == TODAY.isoformat()


def test_what_stands_in_the_way_is_handed_on(qtbot: QtBot) -> None:
    dialog = waiting(qtbot, REFUSES)
    with qtbot.waitSignal(dialog.rejected, timeout=60_000):
        pass
    assert dialog.problem == "There is no room on the disk."


def test_a_program_that_does_not_start(qtbot: QtBot, home: Path) -> None:
    dialog = DemoWaitDialog((str(home / "nothing"), []), TODAY)
    qtbot.addWidget(dialog)
    qtbot.waitUntil(lambda: bool(dialog.problem), timeout=60_000)
    assert dialog.result() == QDialog.DialogCode.Rejected


def test_closing_it_stops_the_writing(qtbot: QtBot) -> None:
    dialog = waiting(qtbot, HANGS)
    dialog.close()
    assert dialog.problem == ""
    assert not demo_file(TODAY).exists()
    assert dialog.result() == QDialog.DialogCode.Rejected


def test_books_of_months_gone_by_are_removed(home: Path) -> None:
    older = home / "demo-0.0.1-2026-10.book"
    for path in (older, demo_file(TODAY), home / "business.book"):
        path.touch()
    forget_older(TODAY)
    assert not older.exists()
    assert demo_file(TODAY).exists()
    assert (home / "business.book").exists()
