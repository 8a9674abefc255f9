"""The first leaf: three questions by keys alone, all to be skipped, with a sample paper beside them."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QProcess, QSettings, Qt
from tests.desktop.conftest import TODAY, FakeAnswers, show
from tests.desktop.visit.typist import Typist

from flueleaf.desktop import demo_door
from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.demo_book import demo_file
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.leaves.business_form_leaf import BusinessForm
from flueleaf.desktop.leaves.first_leaf import FirstLeaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import book as books
from flueleaf.operations import register

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.storage.book import Book

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ANSWERS = {
    "name": "Jory Quillfeather",
    "address.0": "3 Quay Lane",
    "telephone": "07700 900 362",
    "account_number": "00000000",
    "analyser.name": "Torvane 3",
    "analyser.calibration_due": "31 Oct 2027",
    "analyser.tolerance.co_ppm.abs": "10",
}


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Book]:
    made = books.create(tmp_path / "empty.book")
    yield made
    made.close()


@pytest.fixture
def window(empty: Book, keeper: ThemeKeeper, tmp_path: Path, qtbot: QtBot) -> MainWindow:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    made = MainWindow(Desk(empty, ChangeHub(), lambda: TODAY, FakeAnswers()), keeper, settings)
    show(qtbot, made)
    made.go(Place("first"))
    return made


def first(window: MainWindow) -> FirstLeaf:
    assert isinstance(window.leaf, FirstLeaf)
    return window.leaf


def test_enter_alone_goes_through_the_three_questions(window: MainWindow, empty: Book) -> None:
    typist, leaf = Typist(window), first(window)
    for name in leaf.fields:
        if name == "vat_number":  # asked for only where one is registered
            assert not leaf.fields[name].isVisible()
            continue
        typist.reach(name)
        if name in ANSWERS:
            typist.write(ANSWERS[name])
    typist.reach("form.keep")
    typist.enter()
    business, analysers = books.business(empty), register.choices(empty).instruments
    assert (business.name, business.address, business.account_number) == (
        "Jory Quillfeather", ("3 Quay Lane",), "00000000",
    )  # fmt: skip
    assert (business.vat, business.payment_days) == ("none", 30)
    assert [one.name for one in analysers] == ["Torvane 3"]
    assert analysers[0].tolerance["co_ppm"].abs == Decimal(10)
    assert window.leaf is not None
    assert window.leaf.place.leaf == "tonight"


def test_skipping_keeps_what_is_typed_for_the_next_time(window: MainWindow, empty: Book) -> None:
    typist = Typist(window)
    typist.write("Jory")
    typist.press(Qt.Key.Key_W, CTRL)
    assert window.leaf is not None
    assert window.leaf.place.leaf == "tonight"
    assert books.business(empty).name == ""
    window.go(Place("first"))
    assert first(window).fields["name"].text() == "Jory"


def test_what_was_skipped_is_where_the_notice_says_it_is(window: MainWindow) -> None:
    typist = Typist(window)
    typist.write("Jory")
    typist.press(Qt.Key.Key_W, CTRL)
    assert "“Your business”" in window.notice
    typist.press(Qt.Key.Key_Comma, CTRL)
    assert first(window).fields["name"].text() == "Jory"
    assert window.kept_word == ""
    typist.write("na")
    first(window).leaving()
    assert window.kept_word == "draft kept"
    first(window).keep_all()
    typist.press(Qt.Key.Key_Comma, CTRL)
    assert isinstance(window.leaf, BusinessForm)


def test_answers_without_a_name_are_kept_too(window: MainWindow, empty: Book) -> None:
    leaf = first(window)
    leaf.fields["telephone"].set_text("07700 900 362")
    leaf.fields["analyser.name"].set_text("Torvane 3")
    leaf.keep_all()
    assert books.business(empty).telephone == "07700 900 362"
    window.go(Place("first"))
    assert first(window).fields["analyser.name"].text() == "Torvane 3"
    first(window).keep_all()
    assert len(register.choices(empty).instruments) == 1


def test_an_analyser_that_is_refused_keeps_nothing(window: MainWindow, empty: Book) -> None:
    leaf = first(window)
    leaf.fields["name"].set_text("Jory Quillfeather")
    leaf.fields["analyser.serial"].set_text("TV3-55120")
    leaf.keep_all()
    assert "needed" in leaf.fields["analyser.name"].fault()
    assert leaf.fields["analyser.name"].control().hasFocus()
    assert books.business(empty).name == ""


def test_a_key_goes_from_question_to_question(window: MainWindow) -> None:
    typist = Typist(window)
    seen = [typist.here]
    for _ in range(3):
        typist.press(Qt.Key.Key_Down, CTRL)
        seen.append(typist.here)
    assert seen == ["name", "vat", "analyser.name", "form.keep"]


def test_the_sample_follows_what_is_typed_and_is_no_paper(
    qtbot: QtBot, window: MainWindow, empty: Book
) -> None:
    leaf = first(window)
    qtbot.waitUntil(lambda: not leaf.panel.view.image.isNull() and not leaf.panel.busy, timeout=60_000)
    before = leaf.panel.view.image.copy()
    Typist(window).write("Jory Quillfeather")
    qtbot.waitUntil(lambda: not leaf.panel.busy, timeout=60_000)
    assert leaf.panel.view.image != before
    assert leaf.panel.view.accessibleName() == "sample paper of Jory Quillfeather"
    leaf.panel.which.answer("record")
    invoice = leaf.panel.view.image.copy()
    qtbot.waitUntil(lambda: not leaf.panel.busy, timeout=60_000)
    assert leaf.panel.view.image != invoice
    assert empty.con.execute("SELECT count(*) FROM sealed_paper").fetchone()[0] == 0


def test_the_sample_folds_away_and_a_key_shows_it(window: MainWindow) -> None:
    leaf, typist = first(window), Typist(window)
    assert leaf.panel.isVisible()
    window.resize(1024, 700)
    assert not leaf.panel.isVisible()
    typist.press(Qt.Key.Key_S, CTRL | SHIFT)
    assert leaf.panel.isVisible()
    assert not leaf.scroll_area.isVisible()
    assert typist.here == "sample.paper"
    typist.press(Qt.Key.Key_S, CTRL | SHIFT)
    assert not leaf.panel.isVisible()
    assert typist.here == "name"
    window.resize(1280, 800)
    assert leaf.panel.isVisible()
    typist.press(Qt.Key.Key_S, CTRL | SHIFT)
    assert not leaf.panel.isVisible()
    assert leaf.scroll_area.isVisible()


def test_undo_takes_back_an_answer(window: MainWindow) -> None:
    leaf, typist = first(window), Typist(window)
    typist.write("Jory")
    typist.press(Qt.Key.Key_Z, CTRL)
    assert leaf.fields["name"].text() == ""
    typist.press(Qt.Key.Key_Z, CTRL | SHIFT)
    assert leaf.fields["name"].text() == "Jory"


def test_the_door_to_the_demo_opens_a_second_program(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("FLUELEAF_HOME", str(tmp_path))
    started: list[list[str]] = []

    def start(program: str, arguments: list[str]) -> tuple[bool, int]:
        started.append([program, *arguments])
        return len(started) < 3, 1

    monkeypatch.setattr(QProcess, "startDetached", start)
    typist = Typist(window)
    typist.press(Qt.Key.Key_Y, CTRL | SHIFT)
    assert "is being written" in window.notice
    demo_file(TODAY).touch()
    typist.press(Qt.Key.Key_Y, CTRL | SHIFT)
    assert window.notice == "The demo book opens in a window of its own."
    typist.press(Qt.Key.Key_Y, CTRL | SHIFT)
    assert window.notice == demo_door.FAILED
    assert all(line[1:] == ["-m", "flueleaf", "--demo"] for line in started)
