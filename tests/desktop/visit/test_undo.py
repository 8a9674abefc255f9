"""Taking back and bringing back on the visit leaf, by keyboard, in the real window."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QLineEdit
from tests.desktop.visit.typist import Typist, go, leaf_of

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import drafting, kept, undo_steps

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.theme import ThemeKeeper

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def undo(typist: Typist) -> None:
    typist.press(Qt.Key.Key_Z, CTRL)


def redo(typist: Typist) -> None:
    typist.press(Qt.Key.Key_Z, CTRL | SHIFT)


def text_here(typist: Typist) -> str:
    edit = typist.focus
    assert isinstance(edit, QLineEdit)
    return edit.text()


def test_two_fields_are_taken_back_and_one_brought_back(typist: Typist, desk: Desk) -> None:
    go(typist, "arrived")
    typist.write("0910")
    typist.enter()
    typist.write("1005")
    before = leaf_of(typist)
    undo(typist)
    assert (typist.here, text_here(typist)) == ("left", "")
    undo(typist)
    assert (typist.here, text_here(typist)) == ("arrived", "")
    assert "arrived" not in leaf_of(typist).document()
    redo(typist)
    assert (typist.here, text_here(typist)) == ("arrived", "09:10")
    typist.press(Qt.Key.Key_Y, CTRL)
    assert (typist.here, text_here(typist)) == ("left", "1005")
    assert leaf_of(typist) is before
    leaf_of(typist).leaving()
    kept = drafting.load(desk.book, leaf_of(typist).place.key)
    assert kept is not None
    assert (kept["arrived"], kept["left"]) == ("09:10", "1005")


def test_the_next_key_goes_on_behind_what_was_brought_back(typist: Typist) -> None:
    go(typist, "works.0.slips.1.co_ppm")
    typist.write("34")
    typist.enter()
    undo(typist)
    redo(typist)
    typist.write("9")
    assert text_here(typist) == "349"


def test_a_field_left_and_typed_in_again_is_two_steps(typist: Typist) -> None:
    name = "works.0.slips.1.o2_pct"
    go(typist, name)
    typist.write("4")
    typist.enter()
    go(typist, name)
    typist.press(Qt.Key.Key_End)
    typist.write(".9")
    undo(typist)
    assert (typist.here, text_here(typist)) == (name, "4")


def test_an_answer_given_by_its_letter_is_taken_back(typist: Typist) -> None:
    go(typist, "works.0.outcome")
    typist.answer("l")
    undo(typist)
    assert "outcome" not in leaf_of(typist).document()["works"][0]
    assert typist.here == "works.0.outcome"
    redo(typist)
    assert leaf_of(typist).document()["works"][0]["outcome"] == "left in use"


def test_an_appliance_left_out_comes_back_with_everything_typed(typist: Typist) -> None:
    typist.press(Qt.Key.Key_B, CTRL)
    assert typist.here == "works.1.appliance.kind"
    go(typist, "works.1.appliance.location")
    typist.write("attic")
    go(typist, "works.0.slips.1.co_ppm")
    typist.write("17")
    before = leaf_of(typist).document()
    typist.press(Qt.Key.Key_B, CTRL | SHIFT)
    assert [work["appliance"].get("location") for work in leaf_of(typist).document()["works"]] == ["attic"]
    assert "Ctrl+Z brings it back" in typist.window.notice
    undo(typist)
    assert leaf_of(typist).document() == before
    assert typist.here == "works.0.slips.1.co_ppm"
    redo(typist)
    assert len(leaf_of(typist).works) == 1
    undo(typist)
    undo(typist)
    assert "slips" not in leaf_of(typist).document()["works"][0]


def test_an_attempt_begun_is_taken_back(typist: Typist) -> None:
    go(typist, "works.0.slips.1.co_ppm")
    typist.write("70")
    typist.press(Qt.Key.Key_R, CTRL)
    assert typist.here == "works.0.slips.2.o2_pct"
    combustion = leaf_of(typist).works[0].combustion
    assert combustion is not None
    assert len(combustion.slips.columns) == 4
    undo(typist)
    assert len(combustion.slips.columns) == 3
    assert (typist.here, text_here(typist)) == ("works.0.slips.1.co_ppm", "70")
    redo(typist)
    assert len(combustion.slips.columns) == 4


def test_what_is_folded_away_opens_where_it_changes(typist: Typist) -> None:
    plate = leaf_of(typist).works[0].plate
    go(typist, "works.0.appliance.location")
    typist.press(Qt.Key.Key_A, CTRL)
    typist.write("attic")
    go(typist, "arrived")
    plate.fold.fold()
    undo(typist)
    assert not plate.fold.folded
    assert typist.here == "works.0.appliance.location"
    assert leaf_of(typist).document()["works"][0]["appliance"]["location"] != "attic"


def test_premises_picked_by_mistake_are_taken_back(window: MainWindow, qtbot: QtBot) -> None:
    window.go(Place("visit"))
    typist = Typist(window)
    typist.write("95 rope")
    typist.press(Qt.Key.Key_Down)
    typist.enter()
    qtbot.waitUntil(lambda: bool(leaf_of(typist).document()["customer"].get("name")), timeout=60_000)
    qtbot.waitUntil(lambda: typist.here != "premises.address", timeout=60_000)
    undo(typist)
    document = leaf_of(typist).document()
    assert document["premises"] == {"address": ["95 rope"]}
    assert document["customer"] == {}
    assert [work["appliance"] for work in document["works"]] == [{}]
    assert typist.here == "premises.address"
    redo(typist)
    assert leaf_of(typist).document()["works"][0]["appliance"]["serial"] == "CR24-90417"


def test_steps_outlive_closing_and_go_with_the_draft(
    typist: Typist, desk: Desk, keeper: ThemeKeeper, tmp_path: Path, qtbot: QtBot
) -> None:
    key = leaf_of(typist).place.key
    go(typist, "arrived")
    typist.write("0910")
    typist.enter()
    typist.write("1005")
    undo(typist)
    typist.window.close()
    again = MainWindow(desk, keeper, QSettings(str(tmp_path / "b.ini"), QSettings.Format.IniFormat))
    qtbot.addWidget(again)
    with qtbot.waitActive(again):
        again.show()
        again.activateWindow()
    again.go(Place("visit", key))
    typist = Typist(again)
    redo(typist)
    assert (typist.here, text_here(typist)) == ("left", "1005")
    undo(typist)
    undo(typist)
    assert (typist.here, text_here(typist)) == ("arrived", "")
    again.go(TONIGHT)
    assert undo_steps.load(desk.book, key) is not None
    kept.discard(desk.book, drafting.KIND, key)
    assert undo_steps.load(desk.book, key) is None


def test_what_was_typed_since_the_steps_were_kept_is_a_step_too(typist: Typist, desk: Desk) -> None:
    key = leaf_of(typist).place.key
    go(typist, "arrived")
    typist.write("0910")
    typist.press(Qt.Key.Key_T, CTRL)
    document = drafting.load(desk.book, key)
    assert document is not None
    drafting.keep(desk.book, {**document, "left": "10:05"})  # as a process that was killed leaves it
    typist.window.go(Place("visit", key))
    undo(typist)
    assert "left" not in leaf_of(typist).document()
    undo(typist)
    assert "arrived" not in leaf_of(typist).document()


def test_nothing_to_take_back_is_said(typist: Typist) -> None:
    undo(typist)
    assert typist.window.notice == "There is nothing to take back here."
