"""An appliance over its limit is not left in use without a word why: sign-off waits for it."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from tests.desktop.visit.typist import Typist, field, leaf_of

from flueleaf.desktop.place import Place
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import drafting

CTRL = Qt.KeyboardModifier.ControlModifier


def typing(window: MainWindow, evening: dict[str, Any], **changed: Any) -> Typist:
    """The worked evening as a draft, its flue over the limit."""
    (work,) = evening["works"]
    flue = next(slip for slip in work["slips"] if slip["point"] == "flue" and slip["rate"] == "max")
    flue["co_ppm"] = 900
    work |= changed
    drafting.keep(window.desk.book, evening)
    window.go(Place("visit", str(evening["visit_id"])))
    typist = Typist(window)
    leaf_of(typist).judge()
    return typist


def held_up(typist: Typist) -> list[str]:
    return [one.text for one in leaf_of(typist).left if one.holds_up]


def test_left_in_use_over_a_limit_waits_for_a_defect(window: MainWindow, evening: dict[str, Any]) -> None:
    typist = typing(window, evening, outcome="left in use with notes", defects=[])
    assert held_up(typist) == ["left in use over a limit, and no word why"]
    typist.press(Qt.Key.Key_Return, CTRL)
    assert field(typist, "works.0.defects.0.text").message.text() == (
        "Write down what is wrong, as a defect, because a reading is over its limit."
    )
    typist.write("CO over its limit, the maker is asked")
    leaf_of(typist).judge()
    assert not any("no word why" in one for one in held_up(typist))


def test_what_may_be_chosen_instead_is_named(window: MainWindow, evening: dict[str, Any]) -> None:
    typist = typing(window, evening, outcome="left in use")
    assert held_up(typist) == [
        "outcome: “made safe”, “isolated” or “left in use with notes”, because a reading is over its limit"
    ]


def test_out_of_use_waits_for_nothing(window: MainWindow, evening: dict[str, Any]) -> None:
    typist = typing(window, evening, outcome="made safe", defects=[])
    assert held_up(typist) == []
