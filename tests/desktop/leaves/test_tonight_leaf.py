"""The work list of the evening, line by line and by keys."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.leaves.tonight_done import done_words
from flueleaf.desktop.leaves.tonight_lists import coming_rows, week_words
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.operations import drafting, issued, pages, sending
from flueleaf.operations.pages import DoneToday, DueRow, TonightPage

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot
    from tests.desktop.conftest import FakeAnswers

    from flueleaf.desktop.window import MainWindow

TODAY = dt.date(2026, 11, 25)  # a Wednesday
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
PAPERS = ["I-2026-0001", "R-2026-0001"]


def texts(window: MainWindow) -> list[str]:
    assert window.leaf is not None
    return [label.text() for label in window.leaf.findChildren(QLabel)]


def panel(window: MainWindow, name: str) -> RowsPanel:
    assert window.leaf is not None
    found = window.leaf.findChild(RowsPanel, f"leaf.tonight.{name}")
    assert found is not None
    return found


def send_all(window: MainWindow) -> None:
    desk = window.desk
    desk.hub.tell(sending.mark_sent(desk.book, sending.unsent(desk.book), at=desk.now()))


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    return Typist(window)


def test_the_sections_stand_in_the_order_of_the_evening(window: MainWindow) -> None:
    leaf = window.leaf
    assert leaf is not None
    names = [section.objectName() for section in leaf.sections]
    assert names == ["section.unfinished", "section.not_sent", "section.who_owes"]
    assert "Every visit is signed off." in texts(window)
    assert [row.cells[2] for row in panel(window, "not_sent").rows_model.rows] == PAPERS
    page = pages.tonight(window.desk.book, window.desk.today())
    owing = [row.cells[-1] for row in panel(window, "who_owes").rows_model.rows]
    assert owing == [row.owing for row in page.owing] != []


def test_a_draft_appears_with_what_it_lacks(window: MainWindow) -> None:
    desk = window.desk
    document = drafting.begin(desk.book, today=desk.today(), premises_id=1)
    desk.hub.tell(drafting.keep(desk.book, document))
    (row,) = panel(window, "unfinished").rows_model.rows
    assert row.place == Place("visit", document["visit_id"])
    (draft,) = pages.tonight(desk.book, desk.today()).drafts
    assert row.cells[2].startswith(", ".join(draft.missing[:2]))
    assert row.cells[2].endswith(f"and {len(draft.missing) - 2} more")


def test_the_cursor_goes_to_what_is_unfinished(window: MainWindow) -> None:
    desk = window.desk
    desk.hub.tell(drafting.keep(desk.book, drafting.begin(desk.book, today=desk.today(), premises_id=1)))
    window.go(TONIGHT)
    assert window.leaf is not None
    assert window.leaf.first_focus() is panel(window, "unfinished")


def test_a_paper_is_saved_for_sending_by_keys(typist: Typist, answers: FakeAnswers, tmp_path: Path) -> None:
    window = typist.window
    panel(window, "not_sent").setFocus()
    answers.save_to = tmp_path / "one.pdf"
    typist.press(Qt.Key.Key_S, CTRL)
    assert answers.save_to.read_bytes() == issued.paper_bytes(window.desk.book, PAPERS[0])
    assert sending.unsent(window.desk.book) == PAPERS[1:]
    assert window.notice == "I-2026-0001 is marked as sent. Ctrl+Z takes it back."
    typist.press(Qt.Key.Key_Z, CTRL)
    assert set(sending.unsent(window.desk.book)) == set(PAPERS)
    assert window.notice == "I-2026-0001 waits to be sent again."
    answers.save_to = tmp_path / "no folder" / "one.pdf"
    typist.press(Qt.Key.Key_S, CTRL)
    assert "one.pdf" in window.notice
    assert set(sending.unsent(window.desk.book)) == set(PAPERS)


def test_a_mark_without_saving_and_the_paper_opened(typist: Typist) -> None:
    window = typist.window
    panel(window, "not_sent").setFocus()
    typist.press(Qt.Key.Key_T, CTRL | SHIFT)
    assert sending.unsent(window.desk.book) == PAPERS[1:]
    panel(window, "not_sent").setFocus()
    typist.press(Qt.Key.Key_Return)
    assert window.leaf is not None
    assert window.leaf.place == Place("paper", PAPERS[1])


def test_all_papers_go_into_a_folder_and_the_marks_can_be_taken_back(
    qtbot: QtBot, typist: Typist, answers: FakeAnswers, tmp_path: Path
) -> None:
    window = typist.window
    panel(window, "not_sent").setFocus()
    answers.into = tmp_path / "out"
    answers.into.mkdir()
    with qtbot.waitSignal(window.desk.hub.changed, timeout=60_000):
        typist.press(Qt.Key.Key_S, CTRL | SHIFT)
    assert sorted(file.stem for file in answers.into.iterdir()) == PAPERS
    assert window.notice == "2 papers are saved and marked as sent. Ctrl+Z takes it back."
    assert sending.unsent(window.desk.book) == []
    typist.press(Qt.Key.Key_Z, CTRL)
    assert set(sending.unsent(window.desk.book)) == set(PAPERS)


def test_a_folder_that_takes_no_file_is_said(
    qtbot: QtBot, typist: Typist, answers: FakeAnswers, tmp_path: Path
) -> None:
    window = typist.window
    answers.into = tmp_path / "no folder"
    with qtbot.waitSignal(window.desk.busy.failed, timeout=60_000):
        typist.press(Qt.Key.Key_S, CTRL | SHIFT)
    assert "no folder" in window.notice
    assert set(sending.unsent(window.desk.book)) == set(PAPERS)


def test_an_owing_line_notes_the_payment_or_opens_the_invoice(typist: Typist) -> None:
    window = typist.window
    panel(window, "who_owes").setFocus()
    typist.press(Qt.Key.Key_O, CTRL)
    assert window.leaf is not None
    assert window.leaf.place == Place("paper", PAPERS[0])
    window.go(TONIGHT)
    panel(window, "who_owes").setFocus()
    typist.press(Qt.Key.Key_Return)
    assert window.leaf.place == Place("payment", PAPERS[0])


def test_a_due_line_begins_the_visit_there(window: MainWindow, typist: Typist) -> None:
    due = window.desk.book.con.execute("SELECT max(due) FROM due_item").fetchone()[0]
    day = dt.date.fromisoformat(due) - dt.timedelta(days=3)
    object.__setattr__(window.desk, "today", lambda: day)
    window.go(Place("business_form", "own"))
    window.go(TONIGHT)
    panel(window, "due").setFocus()
    assert window.leaf is not None
    assert window.leaf.premises_key() == "1"
    typist.press(Qt.Key.Key_N, CTRL)
    assert window.leaf.place.leaf == "visit"
    assert pages.premises_page(window.desk.book, 1).premises.address[0] in window.leaf.title


def test_weeks_are_counted_from_monday() -> None:
    days = {-1: "overdue", 0: "this week", 4: "this week", 5: "next week", 11: "next week", 12: "in 2 weeks"}
    assert {n: week_words(TODAY + dt.timedelta(days=n), TODAY) for n in days} == days
    due = [DueRow(TODAY + dt.timedelta(days=n), "yearly service", "a boiler") for n in (0, 1, 5)]
    assert [row.cells[0] for row in coming_rows(due, TODAY)] == ["this week", "this week", "next week"]


def test_what_is_long_overdue_is_folded_until_it_is_asked_for(window: MainWindow, typist: Typist) -> None:
    due = window.desk.book.con.execute("SELECT max(due) FROM due_item").fetchone()[0]
    late = dt.date.fromisoformat(due) + dt.timedelta(days=100)
    object.__setattr__(window.desk, "today", lambda: late)
    window.go(Place("business_form", "own"))
    window.go(TONIGHT)
    leaf = window.leaf
    assert leaf is not None
    assert leaf.findChild(RowsPanel, "leaf.tonight.due") is None
    typist.press(Qt.Key.Key_O, CTRL | SHIFT)
    assert [row.cells[0] for row in panel(window, "due").rows_model.rows] == ["overdue"]
    typist.press(Qt.Key.Key_O, CTRL | SHIFT)
    assert leaf.findChild(RowsPanel, "leaf.tonight.due") is None


def test_an_evening_written_up_says_what_was_done(window: MainWindow) -> None:
    send_all(window)
    assert "Nothing to write up" in texts(window)
    assert "Every invoice is paid." not in texts(window)
    sealed_on = window.desk.book.con.execute("SELECT issued_at FROM sealed_paper").fetchone()[0][:10]
    object.__setattr__(window.desk, "today", lambda: dt.date.fromisoformat(sealed_on))
    window.go(Place("business_form", "own"))
    window.go(TONIGHT)
    shown = texts(window)
    assert "Today is written up" in shown
    assert {"1", "2", "visit signed off", "papers sealed", "invoiced"} <= set(shown)


def test_each_kind_of_empty_evening_has_its_own_words() -> None:
    done = DoneToday(2, 5, "£240.00")
    owing = (pages.OwingRow("I-1", "Ina Fell", TODAY, TODAY, "£1.00", 0),)
    pages_shown = [
        TonightPage(TODAY, is_new=True),
        TonightPage(TODAY),
        TonightPage(TODAY, done=done),
        TonightPage(TODAY, done=done, owing=owing),
    ]
    said = [done_words(page) for page in pages_shown]
    assert len(set(said)) == len(said)
    assert not any("paid" in sentence or "safe" in sentence for words in said for sentence in words)


def test_an_unfinished_visit_opens_at_what_is_missing(typist: Typist) -> None:
    window = typist.window
    desk = window.desk
    desk.hub.tell(drafting.keep(desk.book, drafting.begin(desk.book, today=desk.today(), premises_id=1)))
    window.go(TONIGHT)
    typist.press(Qt.Key.Key_Return)
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    typist.rest()
    first = next(one.field for one in leaf.left if one.field is not None)
    focused = window.focusWidget()
    assert focused is not None
    assert focused is first or first.isAncestorOf(focused)
    assert not leaf.place.at_missing


def test_without_drafts_the_cursor_goes_to_what_is_to_be_sent(window: MainWindow) -> None:
    assert window.leaf is not None
    assert window.leaf.first_focus() is panel(window, "not_sent")
