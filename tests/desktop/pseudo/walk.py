"""Goes through every leaf and dialog in the pseudo language; test_pseudo_language runs it as a process.

The language is read when the program starts, so this is no test of the usual run: its name hides it there.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QApplication, QDialog, QLineEdit
from tests.desktop.conftest import show
from tests.desktop.pseudo.spoken import Data, Text, not_translated, texts_of
from tests.desktop.test_every_leaf import EVERY_LEAF, opened, paper_number, quote_number, settled

from flueleaf.desktop.help.glossary_dialog import GlossaryDialog
from flueleaf.desktop.help.worked_out import KEY as WORKED_OUT_KEY
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.command import Command
    from flueleaf.desktop.window import MainWindow

__all__ = ["paper_number", "quote_number"]  # fixtures of the other walk

SIGNED = "the visit of the book"
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


@pytest.mark.parametrize(
    "place", [Place("visit", within="1"), Place("visit", SIGNED), Place("quote", within="1")]
)
def test_every_text_of_what_is_begun_here_is_translated(window: MainWindow, place: Place, data: Data) -> None:
    key = place.key and str(window.desk.book.con.execute("SELECT visit_id FROM visit").fetchone()[0])
    window.go(Place(place.leaf, key, within=place.within))
    assert window.leaf is not None
    assert window.leaf.place.leaf == place.leaf
    QApplication.sendPostedEvents()
    assert not_translated(texts_of(window), data) == []


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


def test_how_a_figure_was_worked_out_is_translated(qtbot: QtBot, window: MainWindow, data: Data) -> None:
    window.go(Place("appliance", "1"))
    dialog = dialog_of(qtbot, window, WORKED_OUT_KEY)
    assert not_translated(texts_of(dialog), data) == []


def test_the_glossary_is_translated(qtbot: QtBot, window: MainWindow, data: Data) -> None:
    assert window.isVisible()  # the theme is set
    dialog = GlossaryDialog()
    show(qtbot, dialog)
    assert not_translated(texts_of(dialog), data) == []


def test_what_is_found_is_translated(qtbot: QtBot, window: MainWindow, data: Data) -> None:
    line = window.finder.findChild(QLineEdit)
    assert line is not None
    qtbot.keyClicks(line, "a")
    assert not_translated(texts_of(window), data) == []


def test_a_text_that_is_not_translated_is_seen(data: Data) -> None:
    plain = Text("QLabel some", "text", "Nobody translated this")
    assert not_translated([plain, dataclasses.replace(plain, words="⟦sø⟧")], data) == [plain]


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
