"""The program as it is started: on a book, on none, on one that another window has."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QApplication, QDialog
from tests.desktop.conftest import show

from flueleaf.desktop.app import EXIT_NO_BOOK, LAST_BOOK, open_window, run, telling, window_on
from flueleaf.desktop.no_book_dialog import NoBookDialog, another_book
from flueleaf.desktop.place import Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import book as books

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot
    from tests.desktop.conftest import FakeAnswers

PROGRAM = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from flueleaf.desktop.app import run

app = QApplication([])
QTimer.singleShot(0, lambda: QTimer.singleShot(0, app.quit))
sys.exit(run(sys.argv[1:]))
"""


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FLUELEAF_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


def start(home: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {
        **os.environ, "QT_QPA_PLATFORM": "offscreen", "FLUELEAF_HOME": str(home),
        "PYTHONPATH": os.pathsep.join(sys.path),
    }  # fmt: skip
    return subprocess.run(
        [sys.executable, "-c", PROGRAM, *arguments],
        capture_output=True, text=True, timeout=120, check=False, env=environment,
    )  # fmt: skip


def test_a_first_start_makes_a_book_and_the_next_opens_it_again(home: Path) -> None:
    done = start(home)
    assert (done.returncode, done.stdout) == (0, ""), done.stderr
    book = home / "business.book"
    with books.reading(book) as made:
        assert books.business(made).name == ""
    settings = QSettings(str(home / "window.ini"), QSettings.Format.IniFormat)
    assert settings.value(LAST_BOOK) == str(book.resolve())
    assert start(home).returncode == 0


def test_a_book_that_is_not_there(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    missing = home / "nowhere.book"
    assert run(["--book", str(missing)]) == EXIT_NO_BOOK
    assert str(missing) in capsys.readouterr().err


def test_a_file_that_is_no_book(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home.mkdir()
    other = home / "letter.book"
    other.write_text("Dear Mrs Penhallow")
    assert run(["--book", str(other)]) == EXIT_NO_BOOK
    assert "letter.book" in capsys.readouterr().err


def test_another_book_may_be_chosen(home: Path) -> None:
    """The next one is asked for until one opens or none is wanted."""
    home.mkdir()
    letter = home / "letter.book"
    letter.write_text("Dear Mrs Penhallow")
    said: list[str] = []
    answers = iter([home, letter, None])

    def another(problem: str, _scale: float) -> Path | None:
        said.append(problem)
        return next(answers)

    assert open_window(home / "nowhere.book", another=another) == EXIT_NO_BOOK
    assert [name in text for name, text in zip(("nowhere", "not a file", "letter"), said, strict=True)] == [
        True
    ] * 3


def test_the_window_that_says_so(qtbot: QtBot, keeper: ThemeKeeper, answers: FakeAnswers, home: Path) -> None:
    assert keeper.scale == 1.0
    dialog = NoBookDialog("There is no book at nowhere.book.", answers)
    show(qtbot, dialog)
    assert dialog.words.text() == "There is no book at nowhere.book."
    focused = QApplication.focusWidget()
    assert focused is not None
    assert focused.objectName() == "no_book.choose"
    qtbot.keyClick(focused, Qt.Key.Key_Return)
    assert dialog.isVisible()  # the question was left without an answer
    answers.file = home / "other.book"
    qtbot.keyClick(focused, Qt.Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.chosen == answers.file


def test_without_a_screen_nobody_is_asked() -> None:
    assert another_book("There is no book.", 1.0) is None


def test_an_empty_book_asks_three_questions_until_it_has_a_name(
    home: Path, qapp: QApplication, keeper: ThemeKeeper, qtbot: QtBot
) -> None:
    assert keeper.scale == 1.0
    home.mkdir()
    book = books.create(home / "empty.book")
    settings = QSettings(str(home / "window.ini"), QSettings.Format.IniFormat)
    window = window_on(qapp, book, settings)
    show(qtbot, window)
    assert window.leaf is not None
    assert window.leaf.place == Place("first")
    qtbot.keyClicks(QApplication.focusWidget(), "Jory Quillfeather")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert window.leaf.place.leaf == "tonight"
    assert books.business(book).name == "Jory Quillfeather"
    window.close()
    again = window_on(qapp, book, settings)
    qtbot.addWidget(again)
    assert again.leaf is not None
    assert again.leaf.place.leaf == "tonight"
    again.close()
    book.close()


def test_a_fault_of_the_program_is_said_and_the_window_stays(
    window: MainWindow, capsys: pytest.CaptureFixture[str]
) -> None:
    fault = RuntimeError("the ink ran out")
    telling(window)(type(fault), fault, fault.__traceback__)
    assert "the ink ran out" in window.notice
    assert window.isVisible()
    assert "RuntimeError" in capsys.readouterr().err


def test_a_second_window_on_the_same_book_is_refused(home: Path, book_file: Path) -> None:
    first = books.window_book(book_file)
    try:
        done = start(home, "--book", str(book_file))
    finally:
        first.close()
    assert done.returncode == EXIT_NO_BOOK
    assert "already open in another window" in done.stderr
    assert "Traceback" not in done.stderr
