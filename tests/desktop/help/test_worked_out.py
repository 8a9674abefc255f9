"""The sheet of explanations: opened by its key on the figure at hand, walked by arrows, closed by Escape."""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel

from flueleaf.desktop.help.worked_out import place_of
from flueleaf.desktop.help.worked_out_dialog import KEY, WorkedOutDialog
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit import walking
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.visit.worked_out_commands import explanations, key_at_hand
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.fields.field import Field


@pytest.fixture
def typed(desk: Desk, keeper: object, qtbot: QtBot) -> TypedVisitLeaf:
    """The worked evening as a draft, CO at high rate close to its limit."""
    assert keeper is not None
    document: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    for slip in document["works"][0]["slips"]:
        if (slip["point"], slip["rate"]) == ("flue", "max"):
            slip["co_ppm"] = "345"
            slip.pop("ratio", None)
    document = {**copy.deepcopy(document), "visit_id": "0b8f7a52-9a2e-4a43-bd0d-1f9b4f8d2a11"}
    leaf = TypedVisitLeaf(desk, Place("visit", document["visit_id"]), document)
    qtbot.addWidget(leaf)
    with qtbot.waitActive(leaf):
        leaf.show()
        leaf.activateWindow()
    leaf.judge()
    return leaf


def _field(leaf: TypedVisitLeaf, key: str) -> Field:
    combustion = leaf.works[0].combustion
    assert combustion is not None
    column = next(c for c in combustion.slips.columns if (c.spot.point, c.spot.rate) == ("flue", "max"))
    return column.fields[key]


def _open(leaf: TypedVisitLeaf) -> WorkedOutDialog:
    next(one for one in leaf.commands() if one.keys == (KEY,)).run()
    sheet = leaf.findChild(WorkedOutDialog)
    assert sheet is not None
    return sheet


def _result(sheet: WorkedOutDialog) -> str:
    found = sheet.page.findChild(QLabel, "worked_out.result")
    assert found is not None
    return found.text()


def test_the_key_opens_the_figure_in_focus_and_escape_gives_the_focus_back(
    typed: TypedVisitLeaf, qtbot: QtBot
) -> None:
    field = _field(typed, "co_ppm")
    walking.go_to(field, typed.scroll_area)
    assert key_at_hand(typed) == "flue.max.1.co_ppm"
    sheet = _open(typed)
    qtbot.waitUntil(sheet.isVisible)
    assert _result(sheet) == "345 ppm: near"
    QTest.keyClick(sheet.listed, Qt.Key.Key_Down)
    assert _result(sheet) != "345 ppm: near"
    QTest.keyClick(sheet.listed, Qt.Key.Key_Escape)
    assert not sheet.isVisible()
    assert QApplication.focusWidget() is field.control()


def test_it_says_what_the_margin_says(typed: TypedVisitLeaf) -> None:
    walking.go_to(_field(typed, "co_ppm"), typed.scroll_area)
    (margin,) = typed.margin_widgets()
    shown = [panel for panel in margin.panels if not panel.isHidden()]  # type: ignore[attr-defined]
    assert shown
    found = explanations(typed)
    for panel in shown:
        value, word = panel._value.text().strip("\u2007"), panel._word._word.text()
        told = [one for one in found if one.result.endswith(f": {word}")]
        number = value.partition(" ")[0].rstrip(",")
        assert any(one.result.startswith(number) for one in told), value


def test_a_click_on_a_verdict_opens_its_explanation(typed: TypedVisitLeaf) -> None:
    walking.go_to(_field(typed, "co_ppm"), typed.scroll_area)
    (margin,) = typed.margin_widgets()
    margin.panels[2].pressed.emit("co2_pct")  # type: ignore[attr-defined]
    sheet = typed.findChild(WorkedOutDialog)
    assert sheet is not None
    assert sheet.listed.currentItem().text().startswith("CO2, flue, high rate")
    sheet.close()


def test_where_nothing_is_typed_it_says_so(desk: Desk, keeper: object, qtbot: QtBot) -> None:
    assert keeper is not None
    bare = {"visit_id": "0b8f7a52-9a2e-4a43-bd0d-1f9b4f8d2a12", "purpose": "service", "works": [{}],
            "customer": {}, "premises": {}, "date": "2026-11-25"}  # fmt: skip
    leaf = TypedVisitLeaf(desk, Place("visit", str(bare["visit_id"])), bare, new=True)
    qtbot.addWidget(leaf)
    with qtbot.waitSignal(leaf.said) as said:
        next(one for one in leaf.commands() if one.keys == (KEY,)).run()
    assert said.args == ["No figure is worked out here yet."]


def test_the_figure_at_hand_is_found_by_its_key(typed: TypedVisitLeaf) -> None:
    found = explanations(typed)
    keys = [one.key for one in found]
    assert keys[place_of(found, "bill.")] == "bill.total"
    assert keys[place_of(found, "supply.")] == "supply.gas_rate"
    assert place_of(found, "nothing") == 0
