from __future__ import annotations

import pkgutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QApplication, QMenu, QWidget

from flueleaf.desktop import leaves
from flueleaf.desktop.command import shown_keys
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.key_sheet_dialog import KeySheetDialog, key_groups
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.window import MainWindow
from flueleaf.operations.changes import Changes, Topic

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

CTRL = Qt.KeyboardModifier.ControlModifier
PREMISES = Place("premises", "1")


def focused(window: MainWindow) -> QWidget:
    widget = QApplication.focusWidget()
    assert widget is not None
    assert window.isAncestorOf(widget)
    return widget


def here(window: MainWindow) -> Place:
    assert window.leaf is not None
    return window.leaf.place


def test_it_opens_on_tonight(window: MainWindow) -> None:
    assert here(window) == TONIGHT
    assert window.windowTitle() == "Tonight – Flueleaf"


def test_found_by_keyboard_and_back_again(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.keyClick(focused(window), Qt.Key.Key_K, CTRL)
    assert window.finder.edit.hasFocus()
    address = window.desk.book.con.execute("SELECT address FROM premises").fetchone()[0].splitlines()[0]
    qtbot.keyClicks(window.finder.edit, address)
    qtbot.keyClick(window.finder.edit, Qt.Key.Key_Return)
    assert here(window) == PREMISES
    focused(window)
    qtbot.keyClick(focused(window), Qt.Key.Key_BracketLeft, CTRL)
    assert here(window) == TONIGHT
    qtbot.keyClick(focused(window), Qt.Key.Key_BracketRight, CTRL)
    assert here(window) == PREMISES
    qtbot.keyClick(focused(window), Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    assert here(window) == TONIGHT


def test_the_finder_finds_actions_too(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.keyClick(focused(window), Qt.Key.Key_K, CTRL)
    qtbot.keyClicks(window.finder.edit, "your business")
    qtbot.keyClick(window.finder.edit, Qt.Key.Key_Return)
    assert here(window).leaf == "business_form"


def test_a_place_that_is_not_there_is_said_and_changes_nothing(window: MainWindow) -> None:
    window.go(Place("paper", "I-1999-0001"))
    assert here(window) == TONIGHT
    assert window.statusBar().findChild(QWidget) is not None
    assert "I-1999-0001" in window.notice


def test_every_action_has_a_key_of_its_own_and_none_needs_alt(window: MainWindow) -> None:
    for place in (TONIGHT, PREMISES, Place("appliance", "1")):
        window.go(place)
        keys = [key for command in window.commands for key in command.keys]
        assert len(keys) == len(set(keys))
        assert all(any("Alt" not in key for key in command.keys) for command in window.commands)


def test_every_action_of_a_menu_shows_its_key(window: MainWindow) -> None:
    window.go(PREMISES)
    menus = [action.menu() for action in window.menuBar().actions()]
    actions = [action for menu in menus if menu is not None for action in menu.actions()]  # type: ignore[attr-defined]
    assert len(actions) == len(window.commands)
    assert all(isinstance(action, QAction) and not action.shortcut().isEmpty() for action in actions)


def test_the_key_sheet(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.keyClick(focused(window), Qt.Key.Key_F1)
    sheet = window.findChild(KeySheetDialog)
    assert sheet is not None
    qtbot.waitUntil(sheet.isVisible, timeout=60_000)
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not window.findChildren(KeySheetDialog), timeout=60_000)


def test_the_margin_folds_away_and_can_be_called(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(1280, 800)
    assert window.margin.isVisible()
    window.resize(1024, 700)
    assert not window.margin.isVisible()
    qtbot.keyClick(focused(window), Qt.Key.Key_M, CTRL)
    assert window.margin.isVisible()
    qtbot.keyClick(focused(window), Qt.Key.Key_M, CTRL)
    assert not window.margin.isVisible()
    window.resize(1280, 800)
    qtbot.keyClick(focused(window), Qt.Key.Key_M, CTRL)
    assert not window.margin.isVisible()


def test_large_text_folds_the_finder_until_it_is_called(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(1280, 800)
    for _ in range(6):
        qtbot.keyClick(focused(window), Qt.Key.Key_Equal, CTRL)
    assert window.keeper.scale == 2.0
    assert not window.finder.isVisible()
    qtbot.keyClick(focused(window), Qt.Key.Key_K, CTRL)
    assert window.finder.isVisible()
    qtbot.keyClick(window.finder.edit, Qt.Key.Key_Escape)
    assert not window.finder.isVisible()
    qtbot.keyClick(focused(window), Qt.Key.Key_0, CTRL)
    assert window.finder.isVisible()


def test_what_stands_beside_the_page_takes_the_finders_room_where_it_is_short(window: MainWindow) -> None:
    window.resize(900, 700)
    assert window.finder.isVisible()
    assert window.leaf is not None
    window.leaf.stand_beside(QWidget())
    assert not window.finder.isVisible()
    window.leaf.stand_beside(None)
    assert window.finder.isVisible()
    window.resize(1400, 700)
    window.leaf.stand_beside(QWidget())
    assert window.finder.isVisible()
    assert window.margin.isVisible()


def test_one_key_goes_round_the_columns(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(1280, 800)
    qtbot.keyClick(focused(window), Qt.Key.Key_F6)
    assert window.margin.hasFocus()
    qtbot.keyClick(focused(window), Qt.Key.Key_F6)
    assert window.finder.edit.hasFocus()
    qtbot.keyClick(focused(window), Qt.Key.Key_F6)
    assert window.leaf is not None
    assert window.leaf.isAncestorOf(focused(window))


def test_the_menus_open_by_a_key(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.keyClick(focused(window), Qt.Key.Key_F10)
    opened = QApplication.activePopupWidget()
    assert isinstance(opened, QMenu)
    assert opened is window.menuBar().actions()[0].menu()
    qtbot.keyClick(opened, Qt.Key.Key_Escape)
    assert QApplication.activePopupWidget() is None


@pytest.mark.parametrize("place", [PREMISES, Place("appliance", "1")])
def test_a_new_visit_goes_to_the_premises_shown(window: MainWindow, place: Place) -> None:
    window.go(place)
    assert window.leaf is not None
    assert window.leaf.premises_key() == "1"


def test_a_change_is_said_and_reloads_the_leaf(window: MainWindow) -> None:
    before = window.leaf
    window.desk.hub.tell(Changes(frozenset({Topic.VISITS}), "The visit is signed off."))
    assert window.notice == "The visit is signed off."
    assert window.leaf is before


def test_kept_is_shown(window: MainWindow) -> None:
    assert window.leaf is not None
    window.leaf.kept.emit(False)
    assert window.kept_word == "…"
    window.leaf.kept.emit(True)
    assert window.kept_word == "kept"


def test_sizes_are_remembered(qtbot: QtBot, desk: Desk, keeper: ThemeKeeper, tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "sizes.ini"), QSettings.Format.IniFormat)
    first = MainWindow(desk, keeper, settings)
    qtbot.addWidget(first)
    first.resize(760, 600)  # the offscreen screen is 800 wide, and a window is kept on its screen
    first.show()
    keeper.set_scale(1.25)
    first.close()
    assert float(str(settings.value("window/text_scale"))) == 1.25
    second = MainWindow(desk, keeper, settings)
    qtbot.addWidget(second)
    assert (second.width(), second.height()) == (760, 600)


def test_a_form_opened_from_an_untouched_visit_still_ends(window: MainWindow) -> None:
    window.go(Place("visit", within="1"))
    window.go(Place("customer_form", "1"))
    assert isinstance(window.leaf, FormLeaf)
    window.leaf.finished.emit()
    assert here(window) == TONIGHT


def test_very_wide_windows_keep_the_columns_together(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(3840, 2160)
    left = window.finder.mapTo(window, window.finder.rect().topLeft()).x()
    right = window.width() - window.margin.mapTo(window, window.margin.rect().topRight()).x()
    assert left > 1000
    assert abs(left - right) < 8
    assert window.leaf is not None
    window.leaf.stand_beside(QWidget())
    qtbot.waitUntil(lambda: window.finder.mapTo(window, window.finder.rect().topLeft()).x() < 100)
    window.leaf.stand_beside(None)
    qtbot.waitUntil(lambda: window.finder.mapTo(window, window.finder.rect().topLeft()).x() > 1000)


def test_widths_of_columns_are_remembered_whatever_the_size_of_the_window(
    desk: Desk, keeper: ThemeKeeper, tmp_path: Path, qtbot: QtBot
) -> None:
    settings = QSettings(str(tmp_path / "sizes.ini"), QSettings.Format.IniFormat)
    settings.setValue("window/finder_px", 300)
    settings.setValue("window/margin_px", "many")
    made = MainWindow(desk, keeper, settings)
    qtbot.addWidget(made)
    made.show()
    made.resize(1500, 800)
    assert (made.finder.width(), made.margin.width()) == (300, 252)
    made.close()
    assert (settings.value("window/finder_px"), settings.value("window/margin_px")) == (300, 252)


def test_no_two_commands_share_a_key_and_none_needs_alt(window: MainWindow) -> None:
    names = sorted(module.name for module in pkgutil.iter_modules(leaves.__path__))
    places = {"premises": "1", "appliance": "1", "paper": "I-2026-0001", "payment": "I-2026-0001"}
    seen = 0
    for name in (each.removesuffix("_leaf") for each in names if each.endswith("_leaf")):
        window.go(Place(name, places.get(name, "1" if name.endswith("_form") else "")))
        if window.leaf is None or window.leaf.place.leaf != name:
            continue
        seen += 1
        keys = [key for command in window.commands for key in command.keys]
        doubled = {key for key in keys if keys.count(key) > 1}
        assert not doubled, name
        for command in window.commands:
            assert command.words
            assert command.keys, command.words
            assert not command.keys[0].startswith("Alt+"), command.words
            assert not QKeySequence(command.keys[0]).isEmpty(), command.words
    assert seen > 8


def test_every_command_stands_in_the_menus_and_on_the_key_sheet(window: MainWindow) -> None:
    window.go(Place("premises", "1"))
    menus = window.menuBar().findChildren(QMenu) + window.findChildren(QMenu)
    shown = {action.text() for menu in menus for action in menu.actions()}
    groups = key_groups(window.commands)
    lines = [line for group in groups.values() for line in group]
    for command in window.commands:
        assert command.words in shown
        assert (command.words, shown_keys(command)) in lines
    assert next(iter(groups)) == "on this leaf"
