"""A window killed a second after the last key has lost nothing: neither text nor cursor."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from flueleaf.operations import book as books
from flueleaf.operations import drafting

ROOT = Path(__file__).resolve().parents[3]


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no such signal")
def test_text_and_cursor_are_there_after_a_kill(book_file: Path, tmp_path: Path) -> None:
    path = tmp_path / "killed.book"
    shutil.copyfile(book_file, path)
    done = subprocess.run(
        [sys.executable, str(Path(__file__).with_name("killed.py")), str(path)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": f"{ROOT / 'app'}{os.pathsep}{ROOT}"},
    )
    assert done.returncode == -signal.SIGKILL, done.stderr[-2000:]
    visit_id = done.stdout.strip()
    with books.writing_book(path) as book:
        kept = drafting.load(book, visit_id)
        assert kept is not None
        assert (kept["arrived"], kept["left"]) == ("09:10", "10")
        assert drafting.left_at(book, visit_id) == "left"
