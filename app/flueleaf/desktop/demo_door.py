"""The door to the demo book: a second window of the program, in a process of its own, on a fresh copy."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QProcess

from flueleaf.desktop.demo_book import demo_file
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.words import _

WORDS = _("Look round in the demo book")
KEY = "Ctrl+Shift+Y"
WHY = _("Some years of visits of an invented trader, in a window of its own. It leaves your book alone.")
FAILED = _("The demo book could not be opened in a window of its own. Start it by hand: flueleaf --demo.")


def program() -> tuple[str, list[str]]:
    """Return the program that runs now, and the arguments it begins with, to start it a second time."""
    if getattr(sys, "frozen", False):
        return sys.executable, []
    here = Path(sys.executable)
    windowed = here.with_name("pythonw.exe")  # on Windows the other would open a console beside the window
    return str(windowed if windowed.exists() else here), ["-m", "flueleaf"]


def open_demo(desk: Desk) -> str:
    """Start the second window and return what to say of it; this window waits for nothing."""
    path, arguments = program()
    started = QProcess.startDetached(path, [*arguments, "--demo"])
    if not (started[0] if isinstance(started, tuple) else started):
        return FAILED
    if demo_file(desk.today()).exists():
        return _("The demo book opens in a window of its own.")
    return _("The demo book is being written in a window of its own; once a month this takes half a minute.")
