"""The procedure beside the slip being typed: what a fork asks for, and why the work went on all the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from tests.desktop.visit.typist import Typist, field, go, leaf_of

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.place import TONIGHT
from flueleaf.desktop.visit.visit_margin import VisitMargin
from flueleaf.desktop.visit.what_is_at_hand import margin_facts

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
GONE_PAST = "works.0.overrides.integrity.reason"


def shown(typist: Typist) -> list[str]:
    margin = typist.window.margin.findChild(VisitMargin)
    assert isinstance(margin, VisitMargin)
    return margin.way


def leak(typist: Typist) -> None:
    """Type an air inlet that tells of a leak."""
    go(typist, "works.0.slips.0.o2_pct")
    typist.write("20.2")
    typist.enter()
    typist.write("0.4")


def test_a_good_slip_needs_no_list_of_steps(typist: Typist) -> None:
    go(typist, "works.0.slips.0.o2_pct")
    typist.write("20.9")
    typist.enter()
    typist.write("0.0")
    typist.rest()
    assert shown(typist) == []


def test_a_leak_says_the_next_step_beside_the_slip(typist: Typist, qtbot: QtBot) -> None:
    leak(typist)
    qtbot.waitUntil(lambda: bool(shown(typist)), timeout=60_000)
    first, now, does = shown(typist)
    assert first == "flue integrity at high rate: beyond its limit"
    assert now == "next: find where the flue leaks"
    assert does.startswith("Do not go on to combustion.")


def test_the_next_attempt_is_told_by_its_number(typist: Typist, qtbot: QtBot) -> None:
    leak(typist)
    typist.press(Qt.Key.Key_R, CTRL)
    typist.write("20.9")
    typist.enter()
    typist.write("0.0")
    line = "flue integrity at high rate, attempt 2: not beyond its limit"
    qtbot.waitUntil(lambda: line in shown(typist), timeout=60_000)
    assert shown(typist)[:2] == [
        "flue integrity at high rate: beyond its limit",
        "find where the flue leaks: done, and measured again",
    ]


def test_a_stage_shows_the_readings_gone_through_and_the_step_that_is_next(
    typist: Typist, qtbot: QtBot
) -> None:
    go(typist, "works.0.outcome")
    qtbot.waitUntil(lambda: bool(shown(typist)), timeout=60_000)
    assert shown(typist)[0] == "next: analyser in fresh air"


def test_a_check_that_fails_leads_to_what_to_do_and_says_it_once(typist: Typist, qtbot: QtBot) -> None:
    go(typist, "works.0.slips.0.o2_pct")
    typist.write("20.9")
    typist.enter()
    typist.write("0.0")
    typist.choose("works.0.checks.case_seal", "n")
    go(typist, "works.0.outcome")
    qtbot.waitUntil(lambda: len(shown(typist)) == 3, timeout=60_000)
    gone, now, does = shown(typist)
    assert (gone, now) == ("case and seals: answered no", "next: put the case right")
    assert does.startswith("Seat it, renew seals and fixings")
    leaf = leaf_of(typist)
    assert leaf.judgement is not None
    assert does in leaf.judgement.assessments[0].next_steps
    assert does not in margin_facts(leaf, leaf.judgement, leaf.past).notes


def reason(typist: Typist) -> Field | None:
    return leaf_of(typist).pieces.field(GONE_PAST)


def test_going_on_past_a_leak_asks_why_and_keeps_it(typist: Typist, qtbot: QtBot) -> None:
    assert reason(typist) is None
    leak(typist)
    qtbot.waitUntil(lambda: reason(typist) is not None, timeout=60_000)
    go(typist, GONE_PAST)
    typist.write("The probe drew room air")
    line = "you went on because: The probe drew room air"
    qtbot.waitUntil(lambda: any(line in one for one in shown(typist)), timeout=60_000)
    (work,) = leaf_of(typist).document()["works"]
    assert work["overrides"] == [{"step": "integrity", "reason": "The probe drew room air"}]


def test_a_line_that_is_not_needed_goes(typist: Typist, qtbot: QtBot) -> None:
    leak(typist)
    qtbot.waitUntil(lambda: reason(typist) is not None, timeout=60_000)
    for key, value in (("o2_pct", "20.9"), ("co2_pct", "0.0")):
        go(typist, f"works.0.slips.0.{key}")
        typist.write(value)
    qtbot.waitUntil(lambda: reason(typist) is None, timeout=60_000)


def test_a_reopened_draft_shows_why_the_work_went_on(typist: Typist, qtbot: QtBot) -> None:
    leak(typist)
    qtbot.waitUntil(lambda: reason(typist) is not None, timeout=60_000)
    go(typist, GONE_PAST)
    typist.write("The probe drew room air")
    place = leaf_of(typist).place
    typist.press(Qt.Key.Key_Home, CTRL)
    typist.window.go(TONIGHT)
    typist.window.go(place)
    typist.rest()
    assert field(typist, GONE_PAST).text() == "The probe drew room air"


def test_a_slip_taken_after_adjusting_says_so_until_it_is_taken_back(typist: Typist, qtbot: QtBot) -> None:
    leak(typist)
    typist.press(Qt.Key.Key_R, CTRL)
    typist.write("20.9")
    typist.press(Qt.Key.Key_U, CTRL | SHIFT)
    line = "flue integrity at high rate, attempt 2, after adjusting: in doubt, or a figure missing"
    qtbot.waitUntil(lambda: line in shown(typist), timeout=60_000)
    (work,) = leaf_of(typist).document()["works"]
    assert [slip.get("adjusted") for slip in work["slips"]] == [None, True]
    combustion = leaf_of(typist).works[0].combustion
    assert combustion is not None
    assert combustion.slips.columns[1].subtitle.text() == "high rate, attempt 2, after adjusting"
    typist.press(Qt.Key.Key_Z, CTRL)
    (work,) = leaf_of(typist).document()["works"]
    assert [slip.get("adjusted") for slip in work["slips"]] == [None, None]
    assert leaf_of(typist).works[0].combustion.slips.columns[1].subtitle.text() == "high rate, attempt 2"


def test_away_from_a_slip_the_key_says_where_to_go(typist: Typist) -> None:
    heard: list[str] = []
    leaf_of(typist).said.connect(heard.append)
    go(typist, "works.0.outcome")
    typist.press(Qt.Key.Key_U, CTRL | SHIFT)
    assert heard == ["Go to the slip first that was taken after adjusting."]


def test_the_line_for_a_reason_comes_and_goes_with_the_figure_and_comes_back_empty(
    typist: Typist, qtbot: QtBot
) -> None:
    leak(typist)
    qtbot.waitUntil(lambda: field(typist, GONE_PAST).isVisible(), timeout=60_000)
    line = field(typist, GONE_PAST)
    go(typist, "works.0.slips.0.co2_pct")
    for digits, wanted in (("0.0", False), ("0.4", True)):
        QTest.keyClick(typist.focus, Qt.Key.Key_A, CTRL)
        typist.write(digits)
        go(typist, "works.0.slips.0.o2_pct")
        QTest.keyClick(typist.focus, Qt.Key.Key_A, CTRL)
        typist.write("20.2" if wanted else "20.9")
        typist.rest()
        there = leaf_of(typist).findChild(Field, GONE_PAST)
        assert (there is not None) == wanted
        go(typist, "works.0.slips.0.co2_pct")
    assert there is line, "a line that was made is shown again"
    assert line.text() == ""
