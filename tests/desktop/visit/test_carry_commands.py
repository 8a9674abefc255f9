"""Same as last visit: earlier answers of checks, marked until they are given again; never a reading."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from tests.desktop.visit.typist import Typist, leaf_of

from flueleaf.desktop.command import native
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit import walking
from flueleaf.desktop.visit.checks_block import CheckLine
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from flueleaf.storage.book import Book

CTRL = Qt.KeyboardModifier.ControlModifier


def stage(typist: Typist, key: str) -> StagePart:
    return next(part for part in leaf_of(typist).works[0].stages if part.stage.key == key)


def line(typist: Typist, key: str) -> CheckLine:
    lines = (line for part in leaf_of(typist).works[0].stages for line in part.checks.lines)
    return next(one for one in lines if one.check.key == key)


def checks(typist: Typist) -> dict[str, dict[str, Any]]:
    return {check["key"]: check for check in leaf_of(typist).document()["works"][0].get("checks", ())}


def take_over(typist: Typist, key: str) -> None:
    walking.go_to(line(typist, key).field, leaf_of(typist).scroll_area)
    typist.press(Qt.Key.Key_J, CTRL)


def last_day(book: Book) -> str:
    return str(book.con.execute("SELECT date FROM visit").fetchone()[0])


def test_the_checks_of_the_stage_are_taken_over_and_marked(typist: Typist, book: Book) -> None:
    take_over(typist, "inhibitor")
    found = checks(typist)
    assert found["inhibitor"] == {"key": "inhibitor", "answer": "yes", "as_on": last_day(book)}
    assert all(check["as_on"] == last_day(book) for check in found.values())
    assert not set(found) - {one.key for one in stage(typist, "work done").checks.lines}
    shown = line(typist, "inhibitor")
    assert shown.mark.text().startswith("as on ")
    assert shown.mark.isVisibleTo(leaf_of(typist))
    assert f"{len(found)} answers are taken over from the visit of" in typist.window.notice


def test_the_mark_goes_with_the_key_that_answers_again(typist: Typist) -> None:
    take_over(typist, "inhibitor")
    typist.answer("y")
    assert checks(typist)["inhibitor"] == {"key": "inhibitor", "answer": "yes"}
    assert not line(typist, "inhibitor").mark.isVisibleTo(leaf_of(typist))
    assert "as_on" in checks(typist)["system_pressure"]


def test_what_is_answered_already_stays(typist: Typist) -> None:
    walking.go_to(line(typist, "inhibitor").field, leaf_of(typist).scroll_area)
    typist.answer("n")
    take_over(typist, "system_pressure")
    assert checks(typist)["inhibitor"] == {"key": "inhibitor", "answer": "no"}


@pytest.mark.parametrize(
    "key", ["case_refitted", "responsible_told", "readings_settled", "co_alarm", "gas_tight"]
)
def test_no_test_and_no_confirmation_of_the_day_is_taken_over(typist: Typist, key: str) -> None:
    take_over(typist, key)
    assert key not in checks(typist)
    work = leaf_of(typist).document()["works"][0]
    assert not {"slips", "close_up", "outcome", "supply"} & set(work)
    assert "answered anew at every visit" in typist.window.notice


def test_a_note_typed_before_its_answer_is_kept_and_waits_for_it(typist: Typist, book: Book) -> None:
    inhibitor = line(typist, "inhibitor")
    walking.go_to(inhibitor.field, leaf_of(typist).scroll_area)
    typist.press(Qt.Key.Key_Period, CTRL)
    typist.write("topped up")
    expected = {"key": "inhibitor", "note": "topped up"}
    assert checks(typist)["inhibitor"] == expected
    assert inhibitor.field in [one.field for one in leaf_of(typist).left if one.holds_up]
    place = leaf_of(typist).place
    typist.press(Qt.Key.Key_T, CTRL)
    typist.window.go(place)
    assert checks(typist)["inhibitor"] == expected, "not before its stage is made"
    typist.rest()
    assert checks(typist)["inhibitor"] == expected
    assert line(typist, "inhibitor").note.isVisibleTo(leaf_of(typist))
    take_over(typist, "inhibitor")
    assert checks(typist)["inhibitor"]["note"] == "topped up"
    assert checks(typist)["inhibitor"]["as_on"] == last_day(book)


def test_the_mark_is_there_again_when_the_draft_is_reopened(typist: Typist, book: Book) -> None:
    take_over(typist, "inhibitor")
    leaf = leaf_of(typist)
    document = leaf.document()
    assert leaf.leaving()
    assert drafting.load(book, document["visit_id"]) == document
    typist.press(Qt.Key.Key_T, CTRL)
    typist.window.go(Place("visit", document["visit_id"]))
    typist.rest()
    assert line(typist, "inhibitor").mark.text().startswith("as on ")
    faults = drafting.judge(document, drafting.Past(), today=typist.window.desk.today()).faults
    assert not [fault for fault in faults if "checks" in fault.where]


def test_one_undo_takes_all_of_it_back(typist: Typist) -> None:
    before = leaf_of(typist).document()
    take_over(typist, "inhibitor")
    assert leaf_of(typist).document() != before
    typist.press(Qt.Key.Key_Z, CTRL)
    assert leaf_of(typist).document() == before
    assert not line(typist, "inhibitor").mark.isVisibleTo(leaf_of(typist))


def test_what_the_plate_lacks_comes_from_the_book(typist: Typist) -> None:
    leaf = leaf_of(typist)
    plate = leaf.works[0].plate
    limit = plate.locate("limits.co_ppm")
    assert limit is not None
    kept = limit.text()
    assert kept
    walking.go_to(limit, leaf.scroll_area)
    limit.control().selectAll()  # type: ignore[attr-defined]
    typist.press(Qt.Key.Key_Delete)
    assert "co_ppm" not in plate.read()["limits"]
    typist.press(Qt.Key.Key_J, CTRL)
    assert plate.read()["limits"]["co_ppm"] == kept
    assert "1 answer is taken over" in typist.window.notice


def test_elsewhere_it_says_where_to_go(typist: Typist) -> None:
    walking.go_to(leaf_of(typist).pieces.arrival.purpose, leaf_of(typist).scroll_area)
    typist.press(Qt.Key.Key_J, CTRL)
    assert "Go to the plate or to the checks" in typist.window.notice


def notes(typist: Typist) -> dict[str, str]:
    return {note["key"]: note["text"] for note in leaf_of(typist).document()["works"][0].get("notes", ())}


def test_what_is_built_in_is_taken_over_with_the_checks_and_nothing_found_or_done(typist: Typist) -> None:
    take_over(typist, "inhibitor")
    assert notes(typist) == {
        "inhibitor_name": "Torvane Keepwell",
        "inhibitor_date": "2026-11-20",
        "condensate_to": "a waste inside",
    }
    assert "3 notes are as they were then." in typist.window.notice
    assert stage(typist, "work done").notes.fold.folded
    typist.press(Qt.Key.Key_J, CTRL)
    assert "notes are as they were" not in typist.window.notice


def test_what_was_found_is_written_beside_its_check_by_the_key_the_stage_names(typist: Typist) -> None:
    said = [one.text() for one in stage(typist, "work done").findChildren(QLabel)]
    assert any(native("Ctrl+.") in text for text in said)
    shown = line(typist, "inhibitor")
    walking.go_to(shown.field, leaf_of(typist).scroll_area)
    typist.press(Qt.Key.Key_Period, CTRL)
    assert typist.focus is shown.note.edit
    typist.write("topped up")
    typist.press(Qt.Key.Key_Backtab)
    assert shown.read() == {"key": "inhibitor", "note": "topped up"}


def test_away_from_a_check_the_key_says_where_to_go(typist: Typist) -> None:
    walking.go_to(leaf_of(typist).pieces.arrival.purpose, leaf_of(typist).scroll_area)
    typist.press(Qt.Key.Key_Period, CTRL)
    assert "Go to the check it is about first" in typist.window.notice
