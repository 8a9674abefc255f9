"""What belongs to the premises is answered once in a visit, and held by every appliance."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from tests.desktop.visit.typist import Typist, come_to_rest

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit import walking
from flueleaf.desktop.visit.checks_block import CheckLine
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import drafting
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

TIGHT = "gas_tight"


def two_boilers(desk: Desk, *answers: dict[str, str]) -> dict[str, Any]:
    """A visit to the known boiler and its twin, with some answers about tightness."""
    document = drafting.begin(desk.book, today=desk.today(), premises_id=1)
    work = document["works"][0]
    twin = {**work, "appliance": {**work["appliance"], "serial": "CR24-90418", "location": "loft"}}
    document["works"] = [{**work}, twin]
    for one, answer in zip(document["works"], answers, strict=False):
        if answer:
            one["checks"] = [{"key": TIGHT, **answer}]
    return document


def opened(window: MainWindow, document: dict[str, Any]) -> TypedVisitLeaf:
    drafting.keep(window.desk.book, document)
    window.go(Place("visit", document["visit_id"]))
    come_to_rest(window)
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    return leaf


def line(leaf: TypedVisitLeaf, number: int, key: str = TIGHT) -> CheckLine:
    return next(
        one for part in leaf.works[number].stages for one in part.checks.lines if one.check.key == key
    )


def tight(leaf: TypedVisitLeaf) -> list[str]:
    works = leaf.document()["works"]
    return [next((c["answer"] for c in work.get("checks", ()) if c["key"] == TIGHT), "") for work in works]


def answer(leaf: TypedVisitLeaf, typist: Typist, number: int, letter: str) -> None:
    walking.go_to(line(leaf, number).field, leaf.scroll_area)
    typist.answer(letter)


def quiet_line(leaf: TypedVisitLeaf, stage: str = "gas supply") -> str:
    part = next(part for part in leaf.works[1].stages if part.stage.key == stage)
    shown = part.premises
    return f"{shown.words.text()}\n{shown.against.text()}" if shown.isVisibleTo(leaf) else ""


def test_one_answer_is_held_by_every_appliance(window: MainWindow) -> None:
    leaf, typist = opened(window, two_boilers(window.desk)), Typist(window)
    assert line(leaf, 0).field.isVisibleTo(leaf)
    assert not line(leaf, 1).field.isVisibleTo(leaf)
    assert "is asked at Calderwyn Rill 24 combi, kitchen" in quiet_line(leaf)
    answer(leaf, typist, 0, "y")
    assert tight(leaf) == ["yes", "yes"]
    assert "1 check of the premises is answered at Calderwyn Rill 24 combi, kitchen" in quiet_line(leaf)
    assert line(leaf, 1, "working_pressure").field.isVisibleTo(leaf)


def test_a_no_counts_at_every_appliance_with_its_note(window: MainWindow) -> None:
    leaf, typist = opened(window, two_boilers(window.desk)), Typist(window)
    answer(leaf, typist, 0, "n")
    typist.write("drop of 6 mbar")
    works = leaf.document()["works"]
    for work in works:
        found = next(check for check in work["checks"] if check["key"] == TIGHT)
        assert (found["answer"], found["note"]) == ("no", "drop of 6 mbar")
    assert "answered “no” there: Did the tightness test hold" in quiet_line(leaf)
    visit = read_visit(
        {**leaf.document(), "works": [{**work, "outcome": "isolated"} for work in works]},
        choices=choices(),
        today=window.desk.today(),
        typed=True,
    )
    assert [work.checks[0].answer for work in visit.works] == ["no", "no"]


def test_tightness_and_standing_pressure_are_typed_once(window: MainWindow) -> None:
    leaf, typist = opened(window, two_boilers(window.desk)), Typist(window)
    field = leaf.works[0].locate("supply.standing_mbar")
    assert field is not None
    walking.go_to(field, leaf.scroll_area)
    typist.write("21.3")
    assert [work["supply"]["standing_mbar"] for work in leaf.document()["works"]] == ["21.3", "21.3"]
    assert leaf.works[1].locate("supply.standing_mbar") is field
    working = leaf.works[1].locate("supply.working_mbar")
    assert working is not None
    assert working.isVisibleTo(leaf)


def test_a_key_opens_them_for_this_appliance_alone(window: MainWindow) -> None:
    leaf, typist = opened(window, two_boilers(window.desk)), Typist(window)
    answer(leaf, typist, 0, "y")
    walking.go_to(line(leaf, 1, "working_pressure").field, leaf.scroll_area)
    typist.press(Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert typist.here == "works.1.supply.tightness.let-by"
    answer(leaf, typist, 1, "n")
    assert tight(leaf) == ["yes", "no"]
    assert "apart" in quiet_line(leaf)
    answer(leaf, typist, 0, "a")
    assert tight(leaf) == ["not applicable", "no"]
    turn = leaf.works[1].findChild(QPushButton, "works.1.gas_supply.premises")
    assert isinstance(turn, QPushButton)
    assert turn.text() == "As there"
    turn.click()
    assert tight(leaf) == ["not applicable", "not applicable"]


@pytest.mark.parametrize(
    ("answers", "kept"),
    [
        (({"answer": "yes"}, {"answer": "no"}), ["yes", "no"]),
        (({}, {"answer": "yes"}), ["", "yes"]),
        (({"answer": "yes"}, {"answer": "yes", "note": "own meter"}), ["yes", "yes"]),
    ],
)
def test_a_draft_answered_differently_keeps_its_own(
    window: MainWindow, answers: tuple[dict[str, str], ...], kept: list[str]
) -> None:
    document = two_boilers(window.desk, *answers)
    leaf = opened(window, document)
    assert tight(leaf) == kept
    assert line(leaf, 1).field.isVisibleTo(leaf)
    assert leaf.document()["works"] == document["works"]


def test_an_appliance_added_later_holds_what_was_answered(window: MainWindow, qtbot: QtBot) -> None:
    leaf, typist = (
        opened(window, two_boilers(window.desk, {"answer": "no"}, {"answer": "no"})),
        Typist(window),
    )
    leaf.change_works([*leaf.document()["works"], leaf.document()["works"][0] | {"checks": []}])
    typist.rest()
    assert tight(leaf) == ["no", "no", "no"]
    qtbot.waitUntil(lambda: not line(leaf, 2).field.isVisibleTo(leaf), timeout=60_000)
    answer(leaf, typist, 0, "y")
    assert tight(leaf) == ["yes", "yes", "yes"]


def test_without_the_first_appliance_the_next_one_asks(window: MainWindow) -> None:
    leaf, typist = opened(window, two_boilers(window.desk)), Typist(window)
    answer(leaf, typist, 0, "y")
    leaf.change_works(leaf.document()["works"][1:])
    assert tight(leaf) == ["yes"]
    assert line(leaf, 0).field.isVisibleTo(leaf)


def test_undo_takes_the_answer_back_at_every_appliance(window: MainWindow) -> None:
    leaf, typist = opened(window, two_boilers(window.desk)), Typist(window)
    answer(leaf, typist, 0, "y")
    typist.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert tight(leaf) == ["", ""]
    answer(leaf, typist, 0, "n")
    assert tight(leaf) == ["no", "no"]
    assert not line(leaf, 1).field.isVisibleTo(leaf)
