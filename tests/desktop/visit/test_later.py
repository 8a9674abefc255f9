"""A visit is made piece by piece: keys typed ahead go to their fields, and it is read whole all the time."""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from tests.desktop.visit.typist import Typist, come_to_rest, type_evening

from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.later import Later
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.visit.visit_margin import VisitMargin
from flueleaf.desktop.visit.walking import field_of
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.theme import ThemeKeeper

CTRL = Qt.KeyboardModifier.ControlModifier


class HastyTypist(Typist):
    """Types on without waiting for what is still being made."""

    def rest(self) -> None:
        """Let the event loop turn once."""
        QTest.qWait(0)


@pytest.fixture
def window(bare_desk: Desk, keeper: ThemeKeeper, tmp_path: Path, qtbot: QtBot) -> MainWindow:
    made = MainWindow(bare_desk, keeper, QSettings(str(tmp_path / "w.ini"), QSettings.Format.IniFormat))
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def leaf_of(window: MainWindow) -> TypedVisitLeaf:
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    return leaf


def kept(desk: Desk, evening: dict[str, Any], *, at: str = "") -> str:
    """Keep the worked evening as a draft; returns its id."""
    begun = drafting.begin(desk.book, today=desk.today())
    document = {**copy.deepcopy(evening), "visit_id": begun["visit_id"]}
    drafting.keep(desk.book, document, at=at)
    return str(begun["visit_id"])


def test_pieces_are_made_in_order_and_all_at_once_when_asked() -> None:
    made: list[str] = []
    later = Later()

    def piece(name: str, *, again: int = 0) -> Any:
        def make() -> bool:
            made.append(name)
            return made.count(name) <= again

        return make

    later.put("b", [piece("b")])
    later.put("a", [piece("a", again=1)], first=True)
    later.put("c", [piece("never")])
    later.put("c", [piece("c")])
    assert (later.busy, later.waits("a"), made) == (True, True, [])
    later.step()
    later.complete()
    assert made == ["a", "a", "b", "c"]
    assert not later.busy


def test_keys_typed_ahead_make_the_same_document(window: MainWindow, evening: dict[str, Any]) -> None:
    window.go(Place("visit"))
    hasty = HastyTypist(window)
    type_evening(hasty, evening)
    typed = leaf_of(window).document()
    window.go(Place("visit"))
    type_evening(Typist(window), evening)
    again = leaf_of(window).document()
    assert len(typed["works"][0]["checks"]) > 20
    assert typed["works"] == again["works"]
    assert typed["lines"] == again["lines"]


def test_it_is_read_whole_while_it_is_made(window: MainWindow, evening: dict[str, Any]) -> None:
    window.go(Place("visit", kept(window.desk, evening)))
    leaf = leaf_of(window)
    seen = [leaf.document()]
    while not leaf.whole:
        QTest.qWait(0)
        seen.append(leaf.document())
    come_to_rest(window)
    assert len(seen) > 5
    assert [document for document in seen if document != leaf.document()] == []
    assert leaf.judgement is not None


def test_the_cursor_comes_back_into_what_is_made_last(window: MainWindow, evening: dict[str, Any]) -> None:
    window.go(Place("visit", kept(window.desk, evening, at="works.0.outcome")))
    come_to_rest(window)
    typist = HastyTypist(window)
    assert typist.here == "works.0.outcome"
    typist.answer("i")
    assert leaf_of(window).document()["works"][0]["outcome"] == "isolated"


def test_a_key_typed_at_once_goes_where_the_cursor_was(window: MainWindow, evening: dict[str, Any]) -> None:
    window.go(Place("visit", kept(window.desk, evening, at="works.0.outcome")))
    leaf, typist = leaf_of(window), HastyTypist(window)
    assert leaf.hasFocus()
    assert leaf.cursor_at() == "works.0.outcome"
    QTest.keyPress(leaf, Qt.Key.Key_Control)
    QTest.keyRelease(leaf, Qt.Key.Key_Control)
    assert leaf.hasFocus(), "a key pressed before another one types nothing"
    typist.answer("i")
    assert typist.here.startswith("works.0.outcome")
    assert leaf.document()["works"][0]["outcome"] == "isolated"
    assert leaf.document()["purpose"] == evening["purpose"]


def test_tab_at_once_goes_on_from_where_the_cursor_was(window: MainWindow, evening: dict[str, Any]) -> None:
    window.go(Place("visit", kept(window.desk, evening, at="sign_off.customer_name")))
    typist = HastyTypist(window)
    typist.press(Qt.Key.Key_Tab)
    assert typist.here == "sign_off.customer"


@pytest.mark.parametrize("key", [Qt.Key.Key_F8, Qt.Key.Key_1, Qt.Key.Key_2])
def test_what_is_left_is_that_of_the_stages_there_are(
    window: MainWindow, evening: dict[str, Any], key: Qt.Key
) -> None:
    del evening["works"][0]["outcome"]
    window.go(Place("visit", kept(window.desk, evening)))
    come_to_rest(window)
    leaf = leaf_of(window)
    gone = leaf.left[0]
    kind = leaf.pieces.field("works.0.appliance.kind")
    assert kind is not None
    kind.set_text("oil boiler")
    leaf.works[0].plate.kind_changed.emit()
    QTest.qWait(0)
    assert not leaf.whole
    QTest.qWait(0)
    leaf.go_to_left(gone)  # as a click on the margin does before it is drawn anew
    QTest.keyClick(window, key, Qt.KeyboardModifier.NoModifier if key == Qt.Key.Key_F8 else CTRL)
    assert leaf.whole
    focused = field_of(QApplication.focusWidget())
    assert focused in [one.field for one in leaf.left]


def test_who_goes_elsewhere_meanwhile_stays_there(window: MainWindow, evening: dict[str, Any]) -> None:
    window.go(Place("visit", kept(window.desk, evening, at="sign_off.customer")))
    leaf = leaf_of(window)
    leaf.pieces.arrival.purpose.control().setFocus(Qt.FocusReason.MouseFocusReason)
    come_to_rest(window)
    assert HastyTypist(window).here == "purpose"


def test_a_cursor_that_stood_in_what_is_gone_begins_at_the_top(
    window: MainWindow, evening: dict[str, Any]
) -> None:
    window.go(Place("visit", kept(window.desk, evening, at="works.7.outcome")))
    come_to_rest(window)
    assert HastyTypist(window).here == "purpose"


def test_an_appliance_is_added_piece_by_piece(window: MainWindow, evening: dict[str, Any]) -> None:
    second = copy.deepcopy(evening["works"][0])
    second["appliance"] |= {"serial": "QZ-2", "location": "loft"}
    begun = {key: value for key, value in evening.items() if key != "issued_at"}
    both = {**begun, "works": [*begun["works"], second]}
    drafting.sign_off(window.desk.book, both, issued_at=window.desk.now(), today=window.desk.today())
    window.go(Place("visit", kept(window.desk, begun)))
    come_to_rest(window)
    leaf = leaf_of(window)
    QTest.keyClick(window, Qt.Key.Key_B, CTRL)
    assert not leaf.whole
    assert len(leaf.works[1].stages) < len(leaf.works[0].stages)
    read = leaf.document()["works"][1]
    assert read["appliance"]["location"] == "loft"
    come_to_rest(window)
    assert leaf.whole
    assert HastyTypist(window).here.startswith("works.1.")
    assert leaf.document()["works"][1]["appliance"] == read["appliance"]
    assert leaf.judgement is not None
    assert len(leaf.judgement.assessments) == 2
    QTest.keyClick(window, Qt.Key.Key_Z, CTRL)
    assert len(leaf.document()["works"]) == 1
    QTest.keyClick(window, Qt.Key.Key_Y, CTRL)
    come_to_rest(window)
    assert leaf.document()["works"][1]["appliance"] == read["appliance"]


def test_a_command_has_the_whole_leaf(window: MainWindow, evening: dict[str, Any]) -> None:
    window.go(Place("visit", kept(window.desk, evening)))
    assert not leaf_of(window).whole
    QTest.keyClick(window, Qt.Key.Key_L, CTRL)
    assert leaf_of(window).whole
    assert HastyTypist(window).here == f"lines.{len(evening['lines'])}.text"


@pytest.mark.parametrize("made", [False, True])
def test_what_was_taken_out_stays_out_when_the_purpose_changes(
    window: MainWindow, evening: dict[str, Any], made: bool
) -> None:
    window.go(Place("visit", kept(window.desk, evening)))
    leaf = leaf_of(window)
    names = ("works.0.slips.0.o2_pct", "works.0.supply.working_mbar", "works.0.outcome")
    for name in names:
        field = leaf.pieces.field(name)
        assert field is not None
        field.set_text("")
    if made:
        leaf.complete()
    before = leaf.document()["works"][0]
    assert "outcome" not in before
    assert "o2_pct" not in before["slips"][0]
    for purpose in ("breakdown", evening["purpose"]):
        leaf.pieces.arrival.purpose.set_text(purpose)
        leaf.judge()
    after = leaf.document()["works"][0]
    assert after == before


def test_a_key_typed_at_once_goes_to_what_is_missing(window: MainWindow, evening: dict[str, Any]) -> None:
    del evening["works"][0]["slips"][1]["o2_pct"], evening["works"][0]["outcome"]
    window.go(Place("visit", kept(window.desk, evening), at_missing=True))
    leaf, typist = leaf_of(window), HastyTypist(window)
    assert leaf.hasFocus()
    typist.write("i")
    assert typist.here.startswith("works.0.outcome")
    assert leaf.document()["works"][0]["outcome"] == "isolated"
    assert leaf.document()["purpose"] == evening["purpose"]


def test_without_a_key_the_cursor_goes_there_by_itself(window: MainWindow, evening: dict[str, Any]) -> None:
    del evening["works"][0]["outcome"]
    window.go(Place("visit", kept(window.desk, evening), at_missing=True))
    come_to_rest(window)
    assert HastyTypist(window).here == "works.0.outcome"


def test_the_margin_says_nothing_before_the_judgement(window: MainWindow, evening: dict[str, Any]) -> None:
    window.go(Place("visit", kept(window.desk, evening)))
    margin = window.findChild(VisitMargin)
    assert isinstance(margin, VisitMargin)
    assert (leaf_of(window).judgement, margin.isVisible()) == (None, False)
    come_to_rest(window)
    assert leaf_of(window).judgement is not None
    assert margin.isVisible()
