"""Opening the window on a book: the last one, a given one, or a fresh copy of the demo."""

from __future__ import annotations

import argparse
import datetime as dt
import shutil
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType
from typing import Any

from PySide6.QtCore import QSettings, QTimer
from PySide6.QtWidgets import QApplication, QDialog

from flueleaf.desktop import print_copies
from flueleaf.desktop.ask import Answers
from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.charts.plotting import plotting
from flueleaf.desktop.demo_book import DemoWaitDialog, demo_file, forget_older, fresh_copy
from flueleaf.desktop.demo_door import program
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.no_book_dialog import another_book
from flueleaf.desktop.place import Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.window import MainWindow
from flueleaf.desktop.words import _
from flueleaf.desktop.worker import Worker
from flueleaf.domain.problems import BookProblem
from flueleaf.operations import book as books
from flueleaf.paths import owner_folder

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]
Another = Callable[[str, float], Path | None]
EXIT_DONE, EXIT_NO_BOOK = 0, 3
LAST_BOOK = "book/last"
FIRST_BOOK = "business.book"


def run(argv: Sequence[str]) -> int:
    """Open the window as the command line says, and return the exit code when it is closed."""
    parser = argparse.ArgumentParser(prog="flueleaf", description="Open the window on a book.")
    parser.add_argument("--book", type=Path, metavar="FILE", help="the book to open, else the last one")
    parser.add_argument("--demo", action="store_true", help="open a fresh copy of the demo book")
    args = parser.parse_args(list(argv))
    return open_window(args.book, demo=args.demo)


def open_window(book_path: Path | None, *, demo: bool = False, another: Another = another_book) -> int:
    """Open the window and stay until it is closed.

    Args:
        book_path: the book; None opens the last one, or makes the first.
        demo: opens a fresh copy of the demo book instead.
        another: told why a book cannot be opened; returns the one to open instead, None to leave it.
    """
    settings = machine_settings()
    scale = _kept_scale(settings)
    while True:
        try:
            path = _demo_copy(dt.date.today(), scale) if demo else book_path or _usual_book(settings)
            if path is None:
                return EXIT_DONE
            book = books.window_book(path)
            break
        except BookProblem as problem:
            _tell_terminal(str(problem))
            if (book_path := another(problem.text, scale)) is None:
                return EXIT_NO_BOOK
            demo = False
    app = _application()
    warming = Worker(app)
    try:
        window = window_on(app, book, settings)
        sys.excepthook = telling(window)
        window.show()
        # After the first paint, so that neither the first chart nor the first change need wait for it.
        QTimer.singleShot(400, plotting().begin)
        QTimer.singleShot(1200, lambda: warming.start(books.warm_up))
        QTimer.singleShot(1600, lambda: print_copies.forget_left_behind(dt.datetime.now(dt.UTC)))
        app.exec()
        if not demo:
            settings.setValue(LAST_BOOK, str(path.resolve()))
    finally:
        sys.excepthook = sys.__excepthook__
        warming.wait()
        book.close()
        print_copies.forget()
        if demo:
            shutil.rmtree(path.parent, ignore_errors=True)
    return EXIT_DONE


def window_on(app: QApplication, book: Any, settings: QSettings) -> MainWindow:
    """Return the window on an open book, not shown yet."""
    app.setApplicationName("Flueleaf")
    app.setDesktopFileName("flueleaf")
    keeper = ThemeKeeper(app, scale=_kept_scale(settings))
    window = MainWindow(Desk(book, ChangeHub(), dt.date.today, Answers()), keeper, settings)
    if not books.business(book).name.strip():
        window.go(Place("first"))
    return window


def machine_settings() -> QSettings:
    """Return what this machine remembers: sizes, text scale, the last book."""
    folder = owner_folder()
    folder.mkdir(parents=True, exist_ok=True)
    return QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)


def _usual_book(settings: QSettings) -> Path:
    last = settings.value(LAST_BOOK)
    if isinstance(last, str) and Path(last).exists():
        return Path(last)
    path = owner_folder() / FIRST_BOOK
    if not path.exists():
        books.create(path).close()
    return path


def _demo_copy(today: dt.date, scale: float) -> Path | None:
    """Return a fresh copy of the demo book, None where somebody closed the window that waits for it.

    Raises:
        BookProblem: it cannot be written.
    """
    try:
        owner_folder().mkdir(parents=True, exist_ok=True)
        if not demo_file(today).exists():
            forget_older(today)
            _tell_terminal("Writing the demo book; once a month this takes half a minute.")
            ThemeKeeper(_application(), scale=scale)
            waiting = DemoWaitDialog(program(), today)
            if waiting.exec() != QDialog.DialogCode.Accepted:
                if waiting.problem:
                    raise BookProblem(waiting.problem)
                return None
        return fresh_copy(today)
    except OSError as error:
        raise BookProblem(_("The demo book cannot be put in place: {why}.", why=error.strerror)) from error


def _application() -> QApplication:
    app = QApplication.instance()
    return app if isinstance(app, QApplication) else QApplication(sys.argv[:1])


def _tell_terminal(text: str) -> None:
    """Write to the terminal, where there is one: a program of windows alone has none on Windows."""
    if sys.stderr is not None:
        sys.stderr.write(f"{text}\n")


def _kept_scale(settings: QSettings) -> float:
    try:
        return float(str(settings.value("window/text_scale", 1.0)))
    except ValueError:
        return 1.0


def telling(window: MainWindow) -> Hook:
    """Return a hook that says something went wrong without closing the window."""

    def tell(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        if sys.stderr is not None:
            traceback.print_exception(kind, fault, trace)
        window.say(
            _(
                "That did not work; it is a fault of the program ({fault}). What was kept is still there.",
                fault=fault,
            )
        )

    return tell
