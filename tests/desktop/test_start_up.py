"""The window opens light: what only later leaves need is not loaded before the first paint."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

HEAVY = ("matplotlib", "numpy", "fpdf", "PIL", "lxml", "sqlite_utils", "babel", "pypdfium2", "fontTools")
PROGRAM = """
import datetime, sys
from pathlib import Path
from PySide6.QtCore import QSettings, QTimer
from PySide6.QtWidgets import QApplication
from flueleaf.desktop.app import window_on
from flueleaf.operations.book import window_book

app = QApplication([])
window = window_on(app, window_book(Path(sys.argv[1])), QSettings(sys.argv[2], QSettings.Format.IniFormat))
window.show()
painted = window.grab()
assert not painted.isNull() and window.leaf.title == "Tonight"
print("\\n".join(sorted(sys.modules)))
"""


def test_the_first_window_loads_nothing_heavy(book_file: Path, tmp_path: Path) -> None:
    settings = tmp_path / "window.ini"
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": os.pathsep.join(sys.path)}
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(book_file), str(settings)],
        capture_output=True, text=True, timeout=120, check=False, env=environment,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    loaded = {name.partition(".")[0] for name in done.stdout.split()}
    assert "PySide6" in loaded
    assert not loaded & set(HEAVY)
