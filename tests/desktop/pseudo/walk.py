"""Goes through every leaf and dialog in the pseudo language; test_pseudo_language runs it as a process.

The language is read when the program starts, so this is no test of the usual run: its name hides it there.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QApplication, QDialog, QLineEdit
from tests.desktop.accessibility.test_every_window import DIALOGS, TOLD
from tests.desktop.conftest import FakeAnswers, show
from tests.desktop.photo.drawn_slips import saved, slip
from tests.desktop.pseudo.spoken import Data, Text, named_by_a_title, not_translated, texts_of
from tests.desktop.test_every_leaf import EVERY_LEAF, opened, paper_number, quote_number, settled, uninvoiced

from flueleaf.desktop.charts.chart_panel import ChartPanel
from flueleaf.desktop.command import native
from flueleaf.desktop.fields.dates import ACCEPTED, read_date
from flueleaf.desktop.help.worked_out import KEY as WORKED_OUT_KEY
from flueleaf.desktop.help.worked_out_dialog import WorkedOutDialog
from flueleaf.desktop.key_sheet_dialog import KeySheetDialog
from flueleaf.desktop.no_book_dialog import NoBookDialog
from flueleaf.desktop.photo.photo_shelf import PhotoShelf
from flueleaf.desktop.place import Place
from flueleaf.desktop.qt_words import OF_KEYS
from flueleaf.desktop.sample.sample_panel import SamplePanel
from flueleaf.desktop.words import LANGUAGE, _
from flueleaf.domain.problems import BookProblem
from flueleaf.operations import book as books
from flueleaf.operations import photos

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.command import Command
    from flueleaf.desktop.window import MainWindow

# What the dialogs of the other walk are given to say is no text of the window.
GIVEN = Data.of_texts(
    "It is open elsewhere.", "logged_run.csv", TOLD.title, TOLD.result, TOLD.source, TOLD.caution,
    *TOLD.formula, *TOLD.steps,
    *(text for given in TOLD.inputs for text in (given.name, given.value)),
).known  # fmt: skip
__all__ = ["paper_number", "quote_number", "uninvoiced"]  # fixtures of the other walk

SIGNED, INVOICE = "the visit of the book", "its invoice"
BEGUN = pytest.mark.parametrize(
    "place", [Place("visit", within="1"), Place("visit", SIGNED), Place("quote", within="1")]
)
FIGURED = pytest.mark.parametrize(
    "place",
    [
        *(Place("appliance", "1"), Place("premises", "1"), Place("visit", SIGNED)),
        *(Place("tonight"), Place("paper", INVOICE), Place("payment", INVOICE)),
    ],
    ids=lambda place: place.leaf,
)
SIZES = pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1024, 700), 2.0)])


@pytest.fixture
def data(window: MainWindow) -> Data:
    return Data.of(window.desk.book)


def test_the_pseudo_language_is_spoken() -> None:
    assert _("Tonight") != "Tonight"


@EVERY_LEAF
def test_every_text_of_a_leaf_is_translated_or_data(
    window: MainWindow, name: str, paper_number: str, data: Data
) -> None:
    opened(window, name, paper_number)
    QApplication.sendPostedEvents()
    found = texts_of(window)
    assert len(found) > 10
    assert not_translated(found, data) == []
    assert named_by_a_title(window) == []


@EVERY_LEAF
def test_the_keys_of_a_leaf_are_translated(
    qtbot: QtBot, window: MainWindow, name: str, paper_number: str, data: Data
) -> None:
    opened(window, name, paper_number)
    sheet = KeySheetDialog(window.commands, window)
    show(qtbot, sheet)
    found = texts_of(sheet)
    assert len(found) > 20
    assert not_translated(found, data) == []
    assert named_by_a_title(sheet) == []


@BEGUN
def test_every_text_of_what_is_begun_here_is_translated(window: MainWindow, place: Place, data: Data) -> None:
    begin(window, place)
    assert not_translated(texts_of(window), data) == []
    assert named_by_a_title(window) == []


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_parts_of_a_visit_have_room_for_longer_texts(
    qtbot: QtBot, window: MainWindow, scale: float
) -> None:
    window.keeper.set_scale(scale)
    window.go(Place("visit", within="1"))
    leaf = window.leaf
    assert leaf is not None
    QApplication.sendPostedEvents()
    assert settled(qtbot, leaf) == []


@SIZES
@EVERY_LEAF
def test_the_longer_texts_are_not_cut_off(
    qtbot: QtBot, window: MainWindow, name: str, paper_number: str, size: tuple[int, int], scale: float
) -> None:
    window.keeper.set_scale(scale)
    window.resize(*size)
    leaf = opened(window, name, paper_number)
    QApplication.sendPostedEvents()
    qtbot.waitUntil(lambda: leaf.scroll_area.viewport().width() > 0, timeout=60_000)
    assert settled(qtbot, leaf) == []


def test_the_keys_are_translated(qtbot: QtBot, window: MainWindow, data: Data) -> None:
    dialog = dialog_of(qtbot, window, "F1")
    assert not_translated(texts_of(dialog), data) == []


@FIGURED
def test_how_figures_were_worked_out_is_translated(
    qtbot: QtBot, window: MainWindow, place: Place, data: Data
) -> None:
    begin(window, place)
    sheet = dialog_of(qtbot, window, WORKED_OUT_KEY)
    assert isinstance(sheet, WorkedOutDialog)
    assert sheet.listed.count() > 0
    for row in range(sheet.listed.count()):
        sheet.listed.setCurrentRow(row)
        assert not_translated(texts_of(sheet), data) == [], sheet.listed.item(row).text()


@pytest.mark.parametrize("kind", sorted(DIALOGS, key=lambda kind: kind.__name__))
def test_every_dialog_is_translated(
    qtbot: QtBot, window: MainWindow, kind: type[QDialog], data: Data
) -> None:
    dialog = DIALOGS[kind](window)
    show(qtbot, dialog)
    texts = texts_of(dialog)
    assert len(texts) > 2
    given = Data(data.known | GIVEN)
    assert not_translated(texts, given) == []
    assert named_by_a_title(dialog) == []
    dialog.close()


def test_why_there_is_no_book_is_translated(
    qtbot: QtBot, window: MainWindow, tmp_path: Path, data: Data
) -> None:
    missing = tmp_path / "missing.book"
    with pytest.raises(BookProblem) as raised:
        books.window_book(missing)
    dialog = NoBookDialog(raised.value.text, window.desk.ask)
    show(qtbot, dialog)
    path = Data.of_texts(str(missing))
    assert not_translated(texts_of(dialog), Data(data.known | path.known)) == []


@pytest.mark.parametrize("name", ["first", "business_form"])
def test_the_sample_beside_the_form_is_translated(
    qtbot: QtBot, window: MainWindow, name: str, data: Data
) -> None:
    leaf = opened(window, name, "")
    (panel,) = leaf.findChildren(SamplePanel)
    qtbot.waitUntil(lambda: not panel.view.image.isNull() and not panel.busy, timeout=60_000)
    assert any(text.widget.endswith("sample.page") for text in texts_of(panel))
    assert not_translated(texts_of(window), data) == []


def test_photographs_of_a_visit_being_typed_are_translated(
    qtbot: QtBot, window: MainWindow, answers: FakeAnswers, tmp_path: Path, data: Data
) -> None:
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    begin(window, Place("visit", within="1"))
    command_of(window, "Ctrl+Shift+F").run()
    look_at_the_photograph(qtbot, window, data)


@pytest.mark.parametrize("kind", sorted(photos.KINDS))
def test_kept_photographs_are_translated(
    qtbot: QtBot, window: MainWindow, tmp_path: Path, kind: photos.PhotoKind, data: Data
) -> None:
    picture = photos.read_photo(saved(tmp_path / "slip.png", slip(200, 300)))
    for minute in (1, 2):
        now = dt.datetime(2026, 11, 25, 9, minute, tzinfo=dt.UTC)
        photos.add(window.desk.book, visit_of(window), picture, kind=kind, now=now)
    begin(window, Place("visit", SIGNED))
    command_of(window, "Ctrl+Shift+H").run()
    look_at_the_photograph(qtbot, window, data)


def test_the_charts_are_translated(qtbot: QtBot, window: MainWindow, data: Data) -> None:
    window.go(Place("appliance", "1"))
    assert window.leaf is not None
    charts = window.leaf.findChildren(ChartPanel)
    assert len(charts) == 2
    for chart in charts:
        window.leaf.scroll_area.ensureWidgetVisible(chart)
        qtbot.waitUntil(
            lambda chart=chart: "drawn" in {text.where for text in texts_of(chart)}, timeout=60_000
        )
        assert not_translated(texts_of(chart), data) == []


def test_qt_speaks_the_language_too(qtbot: QtBot) -> None:
    line = QLineEdit("a")
    qtbot.addWidget(line)
    entries = [text.words for text in texts_of(line) if text.where == "own menu" and text.words]
    assert len(entries) > 8
    assert all(part.startswith("⟦") for part in entries)
    assert native("Ctrl+Shift+F") == "+".join((_("Ctrl"), _("Shift"), "F"))
    assert [native(f"Ctrl+{key}") for key in OF_KEYS[3:]] == [f"{_('Ctrl')}+{_(key)}" for key in OF_KEYS[3:]]


def test_dates_are_typed_in_the_language_too() -> None:
    today = dt.date(2026, 11, 25)
    assert LANGUAGE == "cy"
    assert "26 Tach 2026" in ACCEPTED
    for text in ("26 Tach 2026", "26 tachwedd 2026", "26 Nov 2026"):
        assert read_date(text, today) == dt.date(2026, 11, 26)
    assert read_date(_("today"), today) == read_date("today", today) == today


def test_what_is_found_is_translated(qtbot: QtBot, window: MainWindow, data: Data) -> None:
    line = window.finder.findChild(QLineEdit)
    assert line is not None
    qtbot.keyClicks(line, "a")
    assert not_translated(texts_of(window), data) == []


def test_a_text_that_is_not_translated_is_seen(data: Data) -> None:
    plain = Text("QLabel some", "text", "Nobody translated this")
    assert not_translated([plain, dataclasses.replace(plain, words="⟦sø⟧")], data) == [plain]


def begin(window: MainWindow, place: Place) -> None:
    """Go to a place; the visit and the invoice of the book are found by what they are called here."""
    con = window.desk.book.con
    keys = {SIGNED: visit_of(window), INVOICE: con.execute("SELECT number FROM invoice").fetchone()[0]}
    window.go(Place(place.leaf, str(keys.get(place.key, place.key)), within=place.within))
    assert window.leaf is not None
    assert window.leaf.place.leaf == place.leaf
    QApplication.sendPostedEvents()


def visit_of(window: MainWindow) -> str:
    return str(window.desk.book.con.execute("SELECT visit_id FROM visit").fetchone()[0])


def look_at_the_photograph(qtbot: QtBot, window: MainWindow, data: Data) -> None:
    """Wait until one stands beside the page, then look at all texts, also while it is named."""
    assert window.leaf is not None
    (shelf,) = window.leaf.findChildren(PhotoShelf)
    qtbot.waitUntil(lambda: shelf.panel is not None and not shelf.panel.view.image.isNull(), timeout=60_000)
    panel = shelf.panel
    assert panel is not None
    assert panel.view.accessibleName()
    assert not_translated(texts_of(window), data) == []
    panel.begin_naming()
    assert not_translated(texts_of(window), data) == []
    panel.left.emit()


def dialog_of(qtbot: QtBot, window: MainWindow, key: str) -> QDialog:
    """Run the command with a key and return the dialog it opens."""
    command = command_of(window, key)
    command.run()
    qtbot.waitUntil(lambda: bool(open_dialogs()), timeout=30_000)
    return open_dialogs()[0]


def command_of(window: MainWindow, key: str) -> Command:
    leaf = window.leaf
    assert leaf is not None
    return next(one for one in (*window._commands, *leaf.commands()) if key in one.keys)


def open_dialogs() -> list[QDialog]:
    found = [widget for widget in QApplication.topLevelWidgets() if isinstance(widget, QDialog)]
    return [dialog for dialog in found if dialog.isVisible()]
