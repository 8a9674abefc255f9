"""Drives the real program on the demo book and writes a picture of each leaf: light and dark, 100 and 200 %.

Runs inside `.venv`; see shots.py. With ``--readme`` only the picture of the README is made anew. The leaves
are found by themselves; ``things_shown`` says what a leaf shows where that is not something new.
"""

from __future__ import annotations

import argparse
import datetime as dt
import os
import pkgutil
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEventLoop, QSettings, QTimer
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QDialog

from flueleaf.desktop import leaves
from flueleaf.desktop.ask import Answers
from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.charts.plotting import plotting
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.help.glossary_dialog import GlossaryDialog
from flueleaf.desktop.key_sheet_dialog import KeySheetDialog
from flueleaf.desktop.no_book_dialog import NoBookDialog
from flueleaf.desktop.place import Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.window import MainWindow
from flueleaf.desktop.worker import Worker
from flueleaf.operations import book as books
from flueleaf.operations import drafting, finding, pages
from flueleaf.operations.demo.make import make_demo
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB
from flueleaf.storage import papers
from flueleaf.storage.book import Book

TOP = Path(__file__).resolve().parent.parent
OUT = TOP / "build" / "shots"
README_PICTURE = TOP / "packaging" / "pictures" / "appliance.png"
TODAY = dt.date(2026, 11, 25)
SIGNED_AT = dt.datetime(2026, 11, 25, 20, 15, tzinfo=dt.UTC)
UNINVOICED = "7f0e1d2c-3b4a-4958-8776-655443322110"  # the visit that is signed off without its invoice
SIZE = (1280, 800)
README_SIZE = (1280, 1640)  # tall enough for readings and charts together
LOOKS = tuple((dark, scale) for dark in (False, True) for scale in (1.0, 2.0))
LEAST_MS, LONGEST_MS, LOOK_MS = 300, 20_000, 80  # a chart is drawn a moment after its leaf
SOON_MS = 500
SAME_LOOKS = 4  # so many looks one after the other without a change are rest

DIALOGS: Mapping[str, Callable[[MainWindow], QDialog]] = {
    "keys": lambda window: KeySheetDialog(window.commands, window),
    "glossary": lambda window: GlossaryDialog((), window),
    "no_book": lambda window: NoBookDialog("It is open in another window.", window.desk.ask),
}


def main() -> int:
    """Take the pictures; return 0."""
    parser = argparse.ArgumentParser(prog="shots.py", description="Pictures of each leaf of the demo book.")
    parser.add_argument("--out", type=Path, default=OUT, help="folder for the pictures")
    parser.add_argument("--readme", action="store_true", help="only make the README's picture anew")
    asked = parser.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    asked.out.mkdir(parents=True, exist_ok=True)
    app = QApplication(sys.argv[:1])
    with tempfile.TemporaryDirectory() as folder, demo_book(Path(folder)) as book:
        if asked.readme:
            README_PICTURE.parent.mkdir(exist_ok=True)
            shown = {"appliance": things_shown(book)["appliance"]}
            for _name, image in pictures(book, ThemeKeeper(app, dark=False), shown, README_SIZE):
                image.save(str(README_PICTURE))
            return 0
        number = 0
        for name, image in picture_set(book, app):
            image.save(str(asked.out / f"{name}.png"))
            number += 1
    print(f"{number} pictures are in {asked.out}.")
    return 0


def demo_book(folder: Path) -> Book:
    """Return a demo book of its own, open; it always tells the story up to the same day."""
    path = folder / "demo.book"
    make_demo(path, today=TODAY)
    return books.window_book(path)


def picture_set(book: Book, app: QApplication) -> Iterator[tuple[str, QImage]]:
    """Yield every picture by its name: each leaf and dialog, light and dark, 100 and 200 %."""
    app.setCursorFlashTime(0)  # the cursor of a field stands still
    plotting().begin()
    shown = things_shown(book)
    for dark, scale in LOOKS:
        keeper = ThemeKeeper(app, scale=scale, dark=dark)
        ending = f"{'dark' if dark else 'light'}-{round(scale * 100)}"
        for name, image in pictures(book, keeper, shown, SIZE, dialogs=True):
            yield f"{name}-{ending}", image


def leaf_names() -> list[str]:
    """Return the names of all leaves there are."""
    modules = (module.name for module in pkgutil.iter_modules(leaves.__path__))
    return sorted(name.removesuffix("_leaf") for name in modules if name.endswith("_leaf"))


def things_shown(book: Book) -> Mapping[str, Sequence[Place]]:
    """Return what is pictured: for each picture the places of which the first that opens is shown."""
    document: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    del document["works"][0]["close_up"]["air inlet"]
    drafting.keep(book, document)
    uninvoiced = _uninvoiced(book)
    found = finding.find(book, "Vantlow Sill Peat Cutters")
    appliance = next(str(hit.id) for hit in found if hit.kind == "appliance")
    quotes = [paper.number for paper in papers.all_papers(book.con) if paper.number.startswith("Q-")]
    of_record = {name: [Place(name, "1")] for name in ("premises", "customer_form", "premises_form")}
    return {name: [Place(name)] for name in leaf_names()} | {
        **of_record,
        "appliance": [Place("appliance", appliance)],
        "appliance_form": [Place("appliance_form", appliance)],
        "visit": [Place("visit", str(document["visit_id"]))],
        "visit_new": [Place("visit", within="1")],
        "visit_signed": [Place("visit", pages.premises_page(book, 1).visits[0].visit_id)],
        "paper": [Place("paper", "R-2026-0001")],
        "business_form": [Place("business_form", "own")],
        "limits": [Place("limits", "own")],
        "limit_form": [Place("limit_form", "oil_firing.flue_smoke")],
        "quote": [Place("quote", within="1")],
        "quote_invoice": [Place("quote_invoice", number) for number in reversed(quotes)],
        "visit_invoice": [Place("visit_invoice", uninvoiced)],
        "payment": [Place("payment", pages.tonight(book, TODAY).owing[0].number)],
    }


def _uninvoiced(book: Book) -> str:
    """Sign off a visit without its invoice, at premises of its own; the demo book has none; return its id."""
    document: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    document |= {
        "visit_id": UNINVOICED,
        "papers": ["commissioning record"],
        "premises": {"address": ["2 Dock Street"], "postcode": "QX1 1AA"},
    }
    drafting.sign_off(book, document, issued_at=SIGNED_AT, today=TODAY)
    return UNINVOICED


def pictures(
    book: Book,
    keeper: ThemeKeeper,
    shown: Mapping[str, Sequence[Place]],
    size: tuple[int, int],
    *,
    dialogs: bool = False,
) -> Iterator[tuple[str, QImage]]:
    """Yield a picture of each thing in a window of a size in pixels, and of the dialogs."""
    with tempfile.TemporaryDirectory() as folder:
        settings = QSettings(str(Path(folder) / "window.ini"), QSettings.Format.IniFormat)
        window = MainWindow(Desk(book, ChangeHub(), lambda: TODAY, Answers()), keeper, settings)
        window.resize(*size)
        window.show()
        window.activateWindow()
        for name, places in sorted(shown.items()):
            _open(window, places)
            yield name, _at_rest(window)
        for name, make in DIALOGS.items() if dialogs else ():
            dialog = make(window)
            dialog.show()
            yield name, _at_rest(dialog)
            dialog.close()
        window.close()
        window.deleteLater()
        _wait(LOOK_MS)


def _open(window: MainWindow, places: Sequence[Place]) -> None:
    for place in places:
        window.go(place)
        if window.leaf is not None and window.leaf.place.leaf == place.leaf:
            return
    raise LookupError(f"none of {places} opens: {window.notice}")


def _at_rest(window: MainWindow | QDialog) -> QImage:
    """Return the picture of a window once nothing changes any more."""
    _wait(LEAST_MS)
    image, same = window.grab().toImage(), 0
    for _ in range(LONGEST_MS // LOOK_MS):
        _wait(LOOK_MS)
        later = window.grab().toImage()
        same = same + 1 if later == image and not _busy(window) else 0
        image = later
        if same == SAME_LOOKS:
            break
    return image


def _busy(window: MainWindow | QDialog) -> bool:
    """Tell whether something is drawn beside the window, or will be in a moment."""
    drawing = any(worker.busy for worker in window.findChildren(Worker))
    timers = window.findChildren(QTimer)
    return drawing or any(t.isActive() and t.isSingleShot() and t.interval() <= SOON_MS for t in timers)


def _wait(for_ms: int) -> None:
    loop = QEventLoop()
    QTimer.singleShot(for_ms, loop.quit)
    loop.exec()


if __name__ == "__main__":
    sys.exit(main())
