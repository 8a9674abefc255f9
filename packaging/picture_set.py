"""Drives the real program on the demo book and writes a picture of each leaf: light and dark, 100 and 200 %.

Runs inside `.venv`; see shots.py. With ``--readme`` only the picture of the README is made anew.
"""

from __future__ import annotations

import argparse
import datetime as dt
import os
import shutil
import sys
import tempfile
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEventLoop, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from flueleaf.desktop.ask import Answers
from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.charts.plotting import plotting
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import book as books
from flueleaf.operations import drafting, finding, pages
from flueleaf.operations.demo.make import make_demo
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB
from flueleaf.storage.book import Book

TOP = Path(__file__).resolve().parent.parent
OUT = TOP / "build" / "shots"
README_PICTURE = TOP / "packaging" / "pictures" / "appliance.png"
TODAY = dt.date(2026, 11, 25)
SIZE = (1280, 800)
README_SIZE = (1280, 1640)  # tall enough for readings and charts together
SETTLING_MS = 700  # charts are drawn a moment after their leaf


def main() -> int:
    """Take the pictures; return 0."""
    parser = argparse.ArgumentParser(prog="shots.py", description="Pictures of each leaf of the demo book.")
    parser.add_argument("--out", type=Path, default=OUT, help="folder for the pictures")
    parser.add_argument("--readme", action="store_true", help="only make the README's picture anew")
    asked = parser.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    asked.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, books.window_book(_demo(Path(folder))) as book:
        places = _places(book)
        app = QApplication(sys.argv[:1])
        plotting().begin()
        if asked.readme:
            README_PICTURE.parent.mkdir(exist_ok=True)
            only = {"readme": places["appliance"]}
            _take(book, ThemeKeeper(app, scale=1.0, dark=False), only, asked.out / "picture", README_SIZE)
            shutil.copy(asked.out / "readme-picture.png", README_PICTURE)
            return 0
        for dark in (False, True):
            for scale in (1.0, 2.0):
                keeper = ThemeKeeper(app, scale=scale, dark=dark)
                ending = f"{'dark' if dark else 'light'}-{scale:.0%}".rstrip("%")
                _take(book, keeper, places, asked.out / ending, SIZE)
    print(f"{len(list(asked.out.glob('*.png')))} pictures are in {asked.out}.")
    return 0


def _demo(folder: Path) -> Path:
    """Return a demo book of its own; it always tells the story up to the same day."""
    path = folder / "demo.book"
    make_demo(path, today=TODAY)
    return path


def _places(book: Book) -> dict[str, Place]:
    """Return what is pictured: the leaves of one appliance with a history, and a visit half typed."""
    document: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    del document["works"][0]["close_up"]["air inlet"]
    drafting.keep(book, document)
    appliance = next(
        hit for hit in finding.find(book, "Vantlow Sill Peat Cutters") if hit.kind == "appliance"
    )
    paper = next(hit for hit in finding.find(book, "R-2026-0001") if hit.kind == "paper")
    unpaid = pages.tonight(book, TODAY).owing[0].number
    return {
        "tonight": TONIGHT,
        "premises": Place("premises", "1"),
        "appliance": Place("appliance", str(appliance.id)),
        "visit": Place("visit", str(document["visit_id"])),
        "paper": Place("paper", str(paper.title.split()[-1])),
        "business": Place("business_form", "own"),
        "quote": Place("quote", within="1"),
        "payment": Place("payment", unpaid),
    }


def _take(
    book: Book, keeper: ThemeKeeper, places: dict[str, Place], names: Path, size: tuple[int, int]
) -> None:
    """Take a picture of each place, called ``names`` with the place's name before it."""
    settings = QSettings(str(names.with_suffix(".ini")), QSettings.Format.IniFormat)
    settings.clear()
    window = MainWindow(Desk(book, ChangeHub(), lambda: TODAY, Answers()), keeper, settings)
    window.resize(*size)
    window.show()
    for name, place in places.items():
        window.go(place)
        _settle()
        window.grab().save(str(names.with_name(f"{name}-{names.name}.png")))
    window.close()
    Path(settings.fileName()).unlink(missing_ok=True)
    window.deleteLater()
    _settle()


def _settle() -> None:
    loop = QEventLoop()
    QTimer.singleShot(SETTLING_MS, loop.quit)
    loop.exec()


if __name__ == "__main__":
    sys.exit(main())
