"""A small real book, a desk on it, and the window, all offscreen."""

from __future__ import annotations

import datetime as dt
import gc
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QCoreApplication, QEvent, QSettings
from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.theme import ThemeKeeper, current
from flueleaf.desktop.window import MainWindow
from flueleaf.domain.records.business import Business
from flueleaf.operations import book as books
from flueleaf.operations import evening
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)


def pytest_configure(config: pytest.Config) -> None:
    """Leave out what the offscreen platform says it cannot do."""
    config.addinivalue_line("qt_log_ignore", "This plugin does not support")


class FakeAnswers:
    """Answers given beforehand; what was asked is noted."""

    def __init__(self) -> None:
        self.save_to: Path | None = None
        self.file: Path | None = None
        self.into: Path | None = None
        self.shown: list[Path] = []
        self.can_show = True

    def save_as(self, parent: QWidget, title: str, suggested: Path) -> Path | None:
        assert parent is not None
        assert title
        assert suggested.suffix == ".pdf"
        return self.save_to

    def open_file(self, parent: QWidget, title: str, pattern: str) -> Path | None:
        assert parent is not None
        assert title
        assert "*" in pattern
        return self.file

    def folder(self, parent: QWidget, title: str, suggested: Path) -> Path | None:
        assert parent is not None
        assert title
        assert suggested
        return self.into

    def show_outside(self, path: Path) -> bool:
        self.shown.append(path)
        return self.can_show


@pytest.fixture(scope="session")
def book_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with the worked evening in it: one visit, its record and its invoice."""
    folder = tmp_path_factory.mktemp("book")
    book = books.create(folder / "small.book")
    owner = Business(name="Jory Quillfeather", vat="standard", vat_number="GB999999973")
    books.save_business(book, owner)
    document = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"), name="evening.json")
    evening.run(book, document, out=folder / "papers", today=TODAY)
    book.close()
    return folder / "small.book"


@pytest.fixture
def book(book_file: Path, tmp_path: Path) -> Iterator[Book]:
    """A copy of the small book, open for writing."""
    copy = tmp_path / "copy.book"
    shutil.copyfile(book_file, copy)
    opened = books.writing_book(copy)
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def session_keeper(qapp: QApplication) -> ThemeKeeper:
    return ThemeKeeper(qapp, dark=False)


@pytest.fixture
def keeper(session_keeper: ThemeKeeper) -> Iterator[ThemeKeeper]:
    """The theme, light and at 100 % again for every test; widgets of the last test are not styled anew."""
    yield session_keeper
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()  # the window collects between events only, and no event comes between two tests
    if current().palette.dark:
        session_keeper.set_dark(False)
    if session_keeper.scale != 1.0:
        session_keeper.set_scale(1.0)


@pytest.fixture
def answers() -> FakeAnswers:
    return FakeAnswers()


@pytest.fixture
def desk(book: Book, answers: FakeAnswers) -> Desk:
    return Desk(book, ChangeHub(), lambda: TODAY, answers)


@pytest.fixture
def window(desk: Desk, keeper: ThemeKeeper, tmp_path: Path, qtbot: QtBot) -> MainWindow:
    """The window on the small book, shown and active."""
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    made = MainWindow(desk, keeper, settings)
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def show(qtbot: QtBot, widget: QWidget) -> None:
    """Show a widget and wait until it takes keys."""
    qtbot.addWidget(widget)
    with qtbot.waitActive(widget):
        widget.show()
        widget.activateWindow()
