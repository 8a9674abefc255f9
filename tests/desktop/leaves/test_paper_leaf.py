from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton

from flueleaf.desktop import print_copies
from flueleaf.desktop.leaves.paper_leaf import PaperLeaf
from flueleaf.desktop.place import Place
from flueleaf.operations import issued, sending

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot
    from tests.desktop.conftest import FakeAnswers

    from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def leaf(window: MainWindow, qtbot: QtBot) -> PaperLeaf:
    number = next(paper.number for paper in issued.papers(window.desk.book) if paper.number.startswith("I"))
    window.go(Place("paper", number))
    assert isinstance(window.leaf, PaperLeaf)
    shown = window.leaf
    qtbot.waitUntil(lambda: all(not page.pixmap().isNull() for page in shown.pages), timeout=60_000)
    return shown


def test_the_pages_are_drawn(leaf: PaperLeaf) -> None:
    image = leaf.pages[0].pixmap().toImage()
    wide, high = image.width(), image.height()
    greys = {image.pixelColor(x, y).lightness() for x in range(0, wide, 3) for y in range(0, high, 3)}
    assert min(greys) < 60
    assert image.pixelColor(2, 2).lightness() > 250


def test_keys_look_closer(qtbot: QtBot, leaf: PaperLeaf) -> None:
    before = leaf.pages[0].width()
    focused = QApplication.focusWidget()
    assert focused is not None
    qtbot.keyClick(focused, Qt.Key.Key_Up, CTRL)
    qtbot.waitUntil(lambda: leaf.pages[0].width() > before, timeout=60_000)
    assert leaf.zoom == 1.25
    qtbot.keyClick(focused, Qt.Key.Key_Down, CTRL)
    qtbot.keyClick(focused, Qt.Key.Key_Down, CTRL)
    qtbot.waitUntil(lambda: leaf.pages[0].width() < before, timeout=60_000)


def test_a_page_is_seen_whole_in_a_narrow_window(qtbot: QtBot, leaf: PaperLeaf) -> None:
    before = leaf.pages[0].width()
    assert before > leaf.scroll_area.viewport().width() * 0.8  # what room there is, is taken
    leaf.setFixedWidth(before)  # narrower than page and edges

    def whole() -> bool:
        page = leaf.pages[0]
        right = page.mapTo(leaf.scroll_area.viewport(), page.rect().topRight()).x()
        return page.width() < before and right < leaf.scroll_area.viewport().width()

    qtbot.waitUntil(whole, timeout=60_000)
    leaf.nearer()
    qtbot.waitUntil(leaf.scroll_area.horizontalScrollBar().isVisible, timeout=60_000)


def test_a_copy_is_the_issued_file(
    qtbot: QtBot, window: MainWindow, leaf: PaperLeaf, answers: FakeAnswers, tmp_path: Path
) -> None:
    answers.save_to = tmp_path / "copy.pdf"
    focused = QApplication.focusWidget()
    assert focused is not None
    qtbot.keyClick(focused, Qt.Key.Key_S, CTRL)
    assert answers.save_to.read_bytes() == issued.paper_bytes(window.desk.book, leaf.place.key)
    assert str(answers.save_to) in window.notice


def test_a_full_disk_is_said_when_a_copy_is_wanted_for_printing(
    window: MainWindow, leaf: PaperLeaf, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(**_how: str) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(tempfile, "mkdtemp", full)
    next(one for one in leaf.commands() if one.words == "Open to print").run()
    assert "Save it as PDF on another disk" in window.notice


def test_a_copy_that_cannot_be_written_is_said(
    window: MainWindow, leaf: PaperLeaf, answers: FakeAnswers, tmp_path: Path
) -> None:
    answers.save_to = tmp_path / "no folder" / "copy.pdf"
    next(command for command in leaf.commands() if command.words == "Save as PDF").run()
    assert "could not be written" in window.notice


def test_printing_hands_the_file_to_the_system(
    window: MainWindow, leaf: PaperLeaf, answers: FakeAnswers
) -> None:
    answers.can_show = False
    next(command for command in leaf.commands() if command.words == "Open to print").run()
    assert answers.shown[0].read_bytes() == issued.paper_bytes(window.desk.book, leaf.place.key)
    assert "No program shows PDF files here" in window.notice


def test_opened_to_print_is_not_sent_until_you_say_so(
    window: MainWindow, leaf: PaperLeaf, answers: FakeAnswers
) -> None:
    next(command for command in leaf.commands() if command.words == "Open to print").run()
    assert answers.shown[0].parent.name.startswith(print_copies.PREFIX)
    assert not sending.is_sent(window.desk.book, leaf.place.key)
    assert window.notice == "Opened to be printed. Once it is on its way, Ctrl+Shift+T marks it as sent."
    leaf._mark()
    next(command for command in leaf.commands() if command.words == "Open to print").run()
    assert window.notice == "Opened to be printed."
    print_copies.forget()
    assert not answers.shown[0].exists()


def test_a_paper_is_marked_as_sent_and_the_mark_taken_back(
    qtbot: QtBot, window: MainWindow, leaf: PaperLeaf
) -> None:
    book, number = window.desk.book, leaf.place.key
    button = leaf.findChild(QPushButton, "paper.sent")
    assert button is not None
    assert button.text() == "Mark as sent"
    focused = QApplication.focusWidget()
    assert focused is not None
    qtbot.keyClick(focused, Qt.Key.Key_T, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert sending.is_sent(book, number)
    again = leaf.findChildren(QPushButton, "paper.sent")[-1]
    assert again.text() == "Mark as not sent"
    assert any("marked as sent" in text.text() for text in window.margin.findChildren(QLabel))
    again.click()
    assert not sending.is_sent(book, number)
    assert window.notice == f"{number} waits to be sent again."


def test_a_paper_that_is_not_the_one_issued_is_not_shown_as_issued(window: MainWindow) -> None:
    con = window.desk.book.con
    for (name,) in con.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        con.execute(f"DROP TRIGGER {name}")
    con.execute("UPDATE paper_body SET pdf = CAST(pdf || x'00' AS BLOB)")
    before = window.leaf
    number = issued.papers(window.desk.book)[0].number
    window.go(Place("paper", number))
    assert window.leaf is before
    assert f"The PDF of {number} in the book" in window.notice
    assert "not the one that was issued" in window.notice
