"""Kills the evening over and over, in forks of one warm process, and prints what each left behind.

Run by ``test_killed_evening.py`` as a process of its own: forking needs a process without threads.
Arguments: the folder to work in, ``statements`` or ``moments``, and a seed for the moments.
"""

from __future__ import annotations

import datetime as dt
import itertools
import json
import os
import random
import shutil
import signal
import sqlite3
import sys
import time
from collections.abc import Callable
from pathlib import Path

from flueleaf.domain.records.business import Business
from flueleaf.headless import main as headless
from flueleaf.operations import book as books
from flueleaf.operations import evening
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB
from flueleaf.storage.book import Book

MOMENTS = 50
AGAIN_EVERY = 5  # so often the evening is done once more after a kill that left nothing


def main() -> None:
    folder, way, seed = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
    work = _prepare(folder)
    results = _at_statements(work) if way == "statements" else _at_moments(work, random.Random(seed))
    json.dump(results, sys.stdout)


class _Ground:
    """A book before the evening, the evening's document, and a place to run it again and again."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.before = folder / "before.book"
        self.book = folder / "book.book"
        self.document = DEMO_DB / "evening.json"
        self.out = folder / "out"
        self.turn = itertools.count()

    def fresh(self) -> None:
        for path in self.folder.glob("book.book*"):
            path.unlink()
        shutil.rmtree(self.out, ignore_errors=True)
        shutil.copy(self.before, self.book)

    def run_here(self, on_statement: Callable[[str], None] | None = None) -> None:
        with Book.open(self.book, on_statement=on_statement) as book:
            document = load_json(self.document.read_text(encoding="utf-8"))
            evening.run(book, document, out=self.out, today=_today())


def _today() -> dt.date:
    return dt.date(2026, 11, 25)


def _prepare(folder: Path) -> _Ground:
    ground = _Ground(folder)
    with books.create(ground.before) as book:
        books.save_business(book, Business(name="Ina Fell", address=("1 Shed Row",), vat="standard"))
    ground.fresh()
    ground.run_here()  # warm: everything is imported, fonts are parsed
    return ground


def _at_statements(ground: _Ground) -> list[dict[str, object]]:
    seen: list[str] = []
    ground.fresh()
    ground.run_here(seen.append)
    return [_killed(ground, lambda at=at: _die_at_statement(ground, at)) for at in range(1, len(seen) + 1)]


def _die_at_statement(ground: _Ground, at: int) -> None:
    count = 0

    def on_statement(_: str) -> None:
        nonlocal count
        count += 1
        if count == at:
            os.kill(os.getpid(), signal.SIGKILL)

    ground.run_here(on_statement)


def _at_moments(ground: _Ground, chance: random.Random) -> list[dict[str, object]]:
    ground.fresh()
    began = time.perf_counter()
    _command(ground)
    whole = time.perf_counter() - began
    moments = [chance.uniform(0.0005, whole * 1.1) for _ in range(MOMENTS)]
    return [_killed(ground, lambda after=after: _die_after(ground, after)) for after in moments]


def _die_after(ground: _Ground, seconds: float) -> None:
    signal.signal(signal.SIGALRM, signal.SIG_DFL)  # the default of the alarm ends the process at once
    signal.setitimer(signal.ITIMER_REAL, seconds)
    _command(ground)


def _command(ground: _Ground) -> None:
    sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - the commands' own output
    try:
        arguments = ["evening", str(ground.book), str(ground.document), "--out", str(ground.out)]
        code = headless.run([*arguments, "--today", "2026-11-25"])
    finally:
        sys.stdout.close()
        sys.stdout = sys.__stdout__
    if code:
        raise SystemExit(f"the evening ended with {code}")


def _killed(ground: _Ground, run: Callable[[], None]) -> dict[str, object]:
    """Run in a fork that is killed on its way, and tell what is found afterwards."""
    ground.fresh()
    child = os.fork()
    if child == 0:
        run()
        os._exit(0)
    _, status = os.waitpid(child, 0)
    found = {"killed": os.WIFSIGNALED(status), **_look(ground.book)}
    if not found["papers"] and next(ground.turn) % AGAIN_EVERY == 0:
        ground.run_here()
        found["again"] = _look(ground.book)
    return found


def _look(path: Path) -> dict[str, object]:
    with books.writing_book(path) as book:
        checked = books.verify(book)
        return {
            "faults": checked["faults"],
            "papers": [
                row["number"] for row in _rows(book.con, "SELECT number FROM sealed_paper ORDER BY id")
            ],
            "rows": {
                t: len(_rows(book.con, f"SELECT 1 FROM {t}"))
                for t in ("visit", "work", "slip", "invoice", "due_item", "customer", "counter")
            },
        }


def _rows(con: sqlite3.Connection, sql: str) -> list[sqlite3.Row]:
    return con.execute(sql).fetchall()


if __name__ == "__main__":
    main()
