"""At most one window on a book."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from flueleaf.domain.problems import BookProblem
from flueleaf.storage.book import Book
from flueleaf.storage.window_lock import WindowLock

APP = Path(__file__).parents[2] / "app"
HOLDER = """
import sys
from pathlib import Path
from flueleaf.storage.window_lock import WindowLock
lock = WindowLock(Path(sys.argv[1]))
print("held", flush=True)
sys.stdin.read()
"""


def test_a_second_window_is_refused_and_reading_is_not(book: Book, path: Path) -> None:
    book.claim_window()
    book.claim_window()
    with Book.open(path) as second, pytest.raises(BookProblem, match="already open in another window"):
        second.claim_window()
    with Book.open(path, read_only=True) as reader:
        assert reader.con.execute("SELECT count(*) FROM visit").fetchone()[0] == 0
    book.close()
    with Book.open(path) as third:
        third.claim_window()


def test_the_same_book_by_another_name_is_the_same_book(book: Book, path: Path) -> None:
    other = path.with_name("link.book")
    other.symlink_to(path)
    book.claim_window()
    with Book.open(other) as second, pytest.raises(BookProblem, match="another window"):
        second.claim_window()


def test_the_claim_ends_with_the_process(path: Path) -> None:
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(path)],
        env={**os.environ, "PYTHONPATH": str(APP)},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    with holder:
        assert holder.stdout is not None
        assert holder.stdout.readline().strip() == b"held"
        with pytest.raises(BookProblem, match="another window"):
            WindowLock(path)
        holder.kill()
    WindowLock(path).release()


def test_releasing_twice_is_releasing(path: Path) -> None:
    lock = WindowLock(path)
    lock.release()
    lock.release()
    assert not lock.path.exists()


def test_a_file_taken_away_between_opening_and_locking_is_claimed_anew(path: Path) -> None:
    class Raced(WindowLock):
        rounds = 0

        def _still_there(self, handle: int) -> bool:
            self.rounds += 1
            if self.rounds == 1:
                self.path.unlink()
            if self.rounds == 2:
                self.path.unlink()
                self.path.touch()
            return super()._still_there(handle)

    lock = Raced(path)
    assert lock.rounds == 3
    with pytest.raises(BookProblem):
        WindowLock(path)
    lock.release()
