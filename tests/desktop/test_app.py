"""The program as it is started: on a book, on none, on one that another window has."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings

from flueleaf.desktop.app import EXIT_NO_BOOK, LAST_BOOK, run, telling
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import book as books

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
