"""Types into a visit and is killed a second after the last key, as by a power cut.

Run by ``test_killed_visit.py`` as a process of its own; it prints the id of the visit. Argument: the book.
"""

from __future__ import annotations

import datetime as dt
import os
import signal
import sys
from pathlib import Path

from PySide6.QtCore import QSettings, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from tests.desktop.conftest import FakeAnswers
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import book as books

AFTER_MS = 1000  # what the last key wrote is to be on the disk by then


def main() -> None:
    app = QApplication([])
    path = Path(sys.argv[1])
    book = books.writing_book(path)
    desk = Desk(book, ChangeHub(), lambda: dt.date(2026, 11, 25), FakeAnswers())
    settings = QSettings(str(path.with_suffix(".ini")), QSettings.Format.IniFormat)
    window = MainWindow(desk, ThemeKeeper(app, dark=False), settings)
    window.show()
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    window.go(Place("visit", within="1"))
    assert window.leaf is not None
    print(window.leaf.place.key, flush=True)
    typist = Typist(window)
    typist.reach("arrived")
    typist.write("0910")
    typist.enter()
    typist.write("10")  # the cursor stays in the field: nothing but the time since the last key keeps it
    QTimer.singleShot(AFTER_MS, lambda: os.kill(os.getpid(), signal.SIGKILL))
    app.exec()


if __name__ == "__main__":
    main()
