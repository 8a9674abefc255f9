"""Photographs stay with a visit that is signed off: there and on the form of its appliance they are seen."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QRegularExpression
from PySide6.QtWidgets import QApplication, QWidget
from tests.desktop.photo.drawn_slips import saved, slip

from flueleaf.desktop.photo.photo_shelf import PhotoShelf
from flueleaf.desktop.place import Place
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import photos

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

NAMES_OF_THE_LINE = QRegularExpression(r"\.photographs$|^photo\.line$")
WORDS = "Show or hide the photograph"


def visit_id_of(window: MainWindow) -> str:
    return str(window.desk.book.con.execute("SELECT visit_id FROM visit").fetchone()[0])


def test_a_signed_visit_and_its_appliance_show_their_photographs(
    window: MainWindow, tmp_path: Path, qtbot: QtBot
) -> None:
    visit_id = visit_id_of(window)
    data = photos.read_photo(saved(tmp_path / "slip.png", slip(200, 300)))
    photos.add(
        window.desk.book, visit_id, data, kind="plate", now=dt.datetime(2026, 11, 25, 9, tzinfo=dt.UTC)
    )
    for place in (Place("visit", visit_id), Place("appliance", "1"), Place("appliance_form", "1")):
        window.go(place)
        assert window.leaf is not None
        texts = [shown.text() for shown in window.leaf.findChildren(QWidget, NAMES_OF_THE_LINE)]  # type: ignore[attr-defined]
        assert texts == ["1 photograph · Ctrl+Shift+H"]
        (shelf,) = window.leaf.findChildren(PhotoShelf)
        assert shelf.panel is None  # it is looked at when it is asked for
        focused = QApplication.focusWidget()
        next(command for command in window.commands if command.words == WORDS).run()
        panel = shelf.panel
        assert panel is not None
        qtbot.waitUntil(lambda panel=panel: not panel.view.image.isNull())
        assert panel.caption.text() == "data plate, added 25\u00a0Nov\u00a02026"
        assert QApplication.focusWidget() is focused


def test_without_photographs_there_is_nothing_to_show(window: MainWindow) -> None:
    places = (Place("visit", visit_id_of(window)), Place("appliance", "1"), Place("appliance_form", "1"))
    for place in places:
        window.go(place)
        assert window.leaf is not None
        lines = window.leaf.findChildren(QWidget, NAMES_OF_THE_LINE)
        assert [line for line in lines if line.isVisible()] == []
        assert WORDS not in [command.words for command in window.commands]
