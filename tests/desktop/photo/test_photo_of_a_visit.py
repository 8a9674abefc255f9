"""A photograph beside the fields of a visit: added, turned, put away, there again, and never in the way."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget
from tests.desktop.conftest import FakeAnswers
from tests.desktop.photo.drawn_slips import saved, slip
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.photo.beside import wait_for_all
from flueleaf.desktop.photo.draft_shelf import DraftShelf
from flueleaf.desktop.photo.photo_line import PhotoLine
from flueleaf.desktop.photo.photo_panel import PhotoPanel
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.plate_part import PlatePart
from flueleaf.desktop.visit.slips_panel import SlipsPanel
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import drafting, photos

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def leaf(window: MainWindow) -> Leaf:
    """A new visit to the premises of the worked evening, nothing typed yet."""
    window.go(Place("visit", within="1"))
    assert window.leaf is not None
    return window.leaf


def shelf_of(leaf: Leaf) -> DraftShelf:
    (found,) = leaf.findChildren(DraftShelf)
    return found


def notes(leaf: Leaf) -> list[str]:
    """The names that the book keeps for the photographs of a leaf."""
    return [photo.note for photo in photos.of_visit(leaf.desk.book, leaf.place.key)]


def lines_of(leaf: Leaf) -> list[PhotoLine]:
    """The lines about photographs that are on the page."""
    return [line for line in leaf.findChildren(PhotoLine) if line.isVisible()]


def part_of(widget: QWidget) -> QWidget | None:
    """The section a widget stands in."""
    while widget is not None and not isinstance(widget, Part):
        widget = widget.parentWidget()
    return widget


def run(window: MainWindow, words: str) -> None:
    next(command for command in window.commands if command.words == words).run()


def settle(qtbot: QtBot, leaf: Leaf, count: int) -> PhotoPanel:
    """Wait until so many photographs are there and the one shown is drawn."""
    shelf = shelf_of(leaf)
    qtbot.waitUntil(lambda: len(shelf.photos) == count and shelf.panel is not None)
    panel = shelf.panel
    assert panel is not None
    qtbot.waitUntil(lambda: not panel.view.image.isNull())
    return panel


def test_a_photograph_stands_beside_the_fields_and_the_keyboard_stays(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    typing_in = QApplication.focusWidget()
    assert typing_in is not None
    answers.file = saved(tmp_path / "slip.jpg")
    run(window, "Photograph beside the fields")
    panel = settle(qtbot, leaf, 1)
    assert QApplication.focusWidget() is typing_in
    assert leaf.isAncestorOf(panel)
    assert panel.mapTo(leaf, panel.rect().topLeft()).x() > 0
    assert panel.caption.text().startswith("slip, added ")
    assert panel.view.accessibleName().startswith("Photograph: slip")
    assert drafting.load(leaf.desk.book, leaf.place.key) is not None
    (photo,) = photos.of_visit(leaf.desk.book, leaf.place.key)
    assert photos.picture(leaf.desk.book, photo.id) == answers.file.read_bytes()


def test_a_quiet_line_says_so_and_is_no_stop_of_the_keyboard(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: bool(lines_of(leaf)))
    lines = lines_of(leaf)
    assert [type(part_of(line)).__name__ for line in lines] == ["CombustionPart"]
    assert [line.text() for line in lines] == ["Photograph beside the fields · Ctrl+Shift+F"]
    typist = Typist(window)
    run(window, "To the readings")
    order = []
    for _ in range(3):
        order.append(typist.here)
        typist.enter()
    assert order == [f"works.0.slips.0.{key}" for key in ("o2_pct", "co2_pct", "co_ppm")]
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    qtbot.mouseClick(lines[0], Qt.MouseButton.LeftButton)
    settle(qtbot, leaf, 1)
    assert lines[0].text() == "1 photograph · Ctrl+Shift+H"
    qtbot.mouseClick(lines[0], Qt.MouseButton.LeftButton)
    assert shelf_of(leaf).panel is None
    assert lines[0].text() == "1 photograph · Ctrl+Shift+H"
    run(window, "Show or hide the photograph")
    run(window, "Put the photograph away")
    assert lines[0].text() == "Photograph beside the fields · Ctrl+Shift+F"


def test_a_plate_that_is_typed_has_the_line_too(window: MainWindow, qtbot: QtBot) -> None:
    window.go(Place("visit"))
    leaf = window.leaf
    assert leaf is not None
    qtbot.waitUntil(lambda: bool(lines_of(leaf)))
    (line,) = lines_of(leaf)
    assert isinstance(part_of(line), PlatePart)
    assert line.text() == "Photograph beside the fields · Ctrl+Shift+F"


def test_it_stands_there_again_when_one_comes_back(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    place = leaf.place
    for number in (1, 2):
        answers.file = saved(tmp_path / f"{number}.png", slip(200, 300, f"SLIP {number}"))
        run(window, "Photograph beside the fields")
        settle(qtbot, leaf, number)
    run(window, "Photograph before")
    run(window, "Turn the photograph")
    first = shelf_of(leaf).photos[0].id
    window.go(TONIGHT)
    window.go(place)
    assert window.leaf is not None
    panel = settle(qtbot, window.leaf, 2)
    assert panel.photo is not None
    assert (panel.photo.id, panel.photo.turn) == (first, 90)
    assert panel.caption.text().endswith("1 of 2")
    qtbot.waitUntil(lambda: panel.view.image.width() > panel.view.image.height())
    run(window, "Show or hide the photograph")
    window.go(TONIGHT)
    window.go(place)
    QApplication.processEvents()
    assert window.leaf is not None
    assert shelf_of(window.leaf).panel is None
    run(window, "Show or hide the photograph")
    assert settle(qtbot, window.leaf, 2).photo is not None


def test_a_picture_is_pasted(window: MainWindow, leaf: Leaf, qtbot: QtBot) -> None:
    QGuiApplication.clipboard().setImage(slip(200, 300))
    run(window, "Paste photograph")
    panel = settle(qtbot, leaf, 1)
    assert panel.photo is not None
    assert panel.photo.media_type == "image/png"
    QGuiApplication.clipboard().setText("no picture")
    run(window, "Paste photograph")
    assert window.notice == "There is no picture on the clipboard."


def test_files_are_dropped_onto_the_leaf(leaf: Leaf, tmp_path: Path, qtbot: QtBot) -> None:
    data = QMimeData()
    files = [saved(tmp_path / f"{n}.png", slip(200, 300, str(n))) for n in (1, 2)]
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in files])
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    none = Qt.KeyboardModifier.NoModifier
    for event in (
        QDragEnterEvent(QPoint(5, 5), copy, data, left, none),
        QDropEvent(QPointF(5, 5), copy, data, left, none),
    ):
        QApplication.sendEvent(leaf, event)
        assert event.isAccepted()
    settle(qtbot, leaf, 2)


def test_what_is_no_picture_is_refused_by_name(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    answers.file = tmp_path / "plan.png"
    answers.file.write_bytes(b"%PDF-1.7")
    run(window, "Photograph beside the fields")
    qtbot.waitUntil(lambda: window.notice.startswith("plan.png is not taken. Accepted: a photograph as JPEG"))
    answers.file.write_bytes(b"\x89PNG\r\n\x1a\n")
    run(window, "Photograph beside the fields")
    qtbot.waitUntil(lambda: window.notice == "That photograph is damaged: it cannot be shown.")
    assert photos.of_visit(leaf.desk.book, leaf.place.key) == ()


def test_one_put_away_is_brought_back(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    run(window, "Photograph beside the fields")
    settle(qtbot, leaf, 1)
    run(window, "Slip, data plate or other photograph")
    run(window, "Put the photograph away")
    assert shelf_of(leaf).panel is None
    assert window.notice == "The photograph is put away."
    for words in ("Next photograph", "Turn the photograph", "Put the photograph away"):
        run(window, words)
        assert window.notice == "There is no photograph here."
    run(window, "Bring the photograph back")
    panel = settle(qtbot, leaf, 1)
    assert panel.caption.text().startswith("data plate, ")
    run(window, "Bring the photograph back")
    assert window.notice == "No photograph was put away here."


def test_the_keyboard_goes_to_the_picture_and_back(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    run(window, "Photograph beside the fields")
    panel = settle(qtbot, leaf, 1)
    typing_in = QApplication.focusWidget()
    run(window, "To the photograph and back")
    assert panel.view.hasFocus()
    qtbot.keyClick(panel.view, Qt.Key.Key_Plus)
    assert panel.view.zoom > 1
    qtbot.keyClick(panel.view, Qt.Key.Key_Escape)
    assert QApplication.focusWidget() is typing_in
    run(window, "To the photograph and back")
    run(window, "Show or hide the photograph")
    assert QApplication.focusWidget() is typing_in


def test_a_photograph_gets_a_name(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    run(window, "Name the photograph")
    assert window.notice == "There is no photograph here."
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    run(window, "Photograph beside the fields")
    panel = settle(qtbot, leaf, 1)
    typing_in = QApplication.focusWidget()
    assert not panel.name.isVisible()
    run(window, "Name the photograph")
    assert panel.name.edit.hasFocus()
    qtbot.keyClicks(panel.name.edit, " after the new seal ")
    qtbot.keyClick(panel.name.edit, Qt.Key.Key_Return)
    assert QApplication.focusWidget() is typing_in
    assert not panel.name.isVisible()
    assert panel.caption.text().startswith("slip: after the new seal, added ")
    assert panel.view.accessibleName().startswith("Photograph: slip: after the new seal")
    run(window, "Name the photograph")
    assert panel.name.text() == "after the new seal"
    qtbot.keyClicks(panel.name.edit, "never mind")
    qtbot.keyClick(panel.name.edit, Qt.Key.Key_Escape)
    assert QApplication.focusWidget() is typing_in
    assert notes(leaf) == ["after the new seal"]


@pytest.mark.parametrize("way", ["Next photograph", "Show or hide the photograph", "tonight", "close"])
def test_a_name_half_typed_is_kept_whichever_way_one_leaves_it(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot, way: str
) -> None:
    for number in (1, 2):
        answers.file = saved(tmp_path / f"{number}.png", slip(200, 300, f"SLIP {number}"))
        run(window, "Photograph beside the fields")
        settle(qtbot, leaf, number)
    typing_in, visit_id = QApplication.focusWidget(), leaf.place.key
    run(window, "Name the photograph")
    qtbot.keyClicks(shelf_of(leaf).panel.name.edit, "low rate")  # type: ignore[union-attr]
    if way == "tonight":
        window.go(TONIGHT)
    elif way == "close":
        window.close()
    else:
        run(window, way)
        assert QApplication.focusWidget() is typing_in
    assert [photo.note for photo in photos.of_visit(window.desk.book, visit_id)] == ["", "low rate"]


def test_a_name_that_cannot_be_printed_is_said_and_not_kept(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    run(window, "Photograph beside the fields")
    panel = settle(qtbot, leaf, 1)
    run(window, "Name the photograph")
    panel.name.edit.setText("low\u202erate")
    qtbot.keyClick(panel.name.edit, Qt.Key.Key_Return)
    assert panel.name.edit.hasFocus()
    assert "cannot be printed" in panel.name.fault()
    run(window, "Show or hide the photograph")
    assert notes(leaf) == [""]


def test_a_leaf_may_go_while_its_picture_is_still_read(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    answers.file = saved(tmp_path / "slip.png", slip(900, 1400))
    visit_id = leaf.place.key
    run(window, "Photograph beside the fields")
    window.go(TONIGHT)
    wait_for_all()
    qtbot.waitUntil(lambda: len(photos.of_visit(window.desk.book, visit_id)) == 1)


def test_typing_goes_on_beside_it(
    window: MainWindow, leaf: Leaf, answers: FakeAnswers, tmp_path: Path, qtbot: QtBot
) -> None:
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    run(window, "Photograph beside the fields")
    settle(qtbot, leaf, 1)
    typist = Typist(window)
    run(window, "To the readings")
    before = QApplication.focusWidget()
    assert before is not None
    qtbot.keyClicks(before, "4.9")
    assert typist.window.leaf is leaf
    assert "4.9" in str(leaf.document())  # type: ignore[attr-defined]


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_words_before_the_readings_are_not_cut_off_beside_it(
    window: MainWindow,
    leaf: Leaf,
    keeper: ThemeKeeper,
    answers: FakeAnswers,
    tmp_path: Path,
    qtbot: QtBot,
    scale: float,
) -> None:
    keeper.set_scale(scale)
    window.resize(1280, 800)
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    run(window, "Photograph beside the fields")
    settle(qtbot, leaf, 1)
    qtbot.waitUntil(lambda: bool(leaf.findChildren(SlipsPanel)))
    (slips,) = leaf.findChildren(SlipsPanel)
    heads = [head for row in slips.heads.values() for head in row]

    def cut_off() -> list[str]:
        return [head.text() for head in heads if head.isVisible() and head.width() < head.sizeHint().width()]

    qtbot.waitUntil(lambda: sum(head.isVisible() for head in heads) > len(slips.heads))  # stacked by now
    qtbot.waitUntil(lambda: cut_off() == [])


def test_a_book_that_takes_nothing_is_said_and_nothing_is_lost(
    window: MainWindow,
    leaf: Leaf,
    answers: FakeAnswers,
    tmp_path: Path,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    answers.file = saved(tmp_path / "slip.png", slip(200, 300))
    run(window, "Photograph beside the fields")
    panel = settle(qtbot, leaf, 1)
    monkeypatch.setattr(leaf.desk.book, "read_only", True)
    for words in ("Turn the photograph", "Put the photograph away", "Bring the photograph back"):
        run(window, words)
        assert "nothing can be written" in window.notice
    assert shelf_of(leaf).panel is panel
    assert panel.photo is not None
    assert panel.photo.turn == 0
