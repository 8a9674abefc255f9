"""A slip filled from a logged run, and from values typed while they settle, in the window."""

from __future__ import annotations

import dataclasses
import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton, QWidget
from tests.desktop.conftest import FakeAnswers

from flueleaf.desktop.place import Place
from flueleaf.desktop.settling.live_dialog import LiveDialog
from flueleaf.desktop.settling.logged_run_dialog import LoggedRunDialog
from flueleaf.desktop.settling.run_chart import RunChart
from flueleaf.desktop.visit.slip_column import SlipColumn
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.operations import photos, settling
from flueleaf.paths import DEMO_DB
from flueleaf.storage import attachments

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

RUN = DEMO_DB / "logged_run.csv"


@pytest.fixture
def leaf(window: MainWindow) -> TypedVisitLeaf:
    """A new visit to the premises of the worked evening, nothing typed yet."""
    window.go(Place("visit", within="1"))
    made = window.leaf
    assert isinstance(made, TypedVisitLeaf)
    made.complete()
    return made


@pytest.fixture
def slip(leaf: TypedVisitLeaf) -> SlipColumn:
    """The flue slip at high rate, with the cursor in its first field."""
    combustion = leaf.works[0].combustion
    assert combustion is not None
    column = next(one for one in combustion.slips.columns if one.spot.words == "flue, high rate")
    next(iter(column.fields.values())).control().setFocus()
    return column


def do(leaf: TypedVisitLeaf, key: str) -> None:
    next(command for command in leaf.commands() if key in command.keys).run()


def shown(leaf: TypedVisitLeaf, kind: type[Any]) -> Any:
    return next((one for one in leaf.window().findChildren(kind) if one.isVisible()), None)


def opened(qtbot: QtBot, leaf: TypedVisitLeaf) -> LoggedRunDialog:
    do(leaf, "F3")
    dialog = shown(leaf, LoggedRunDialog)
    assert isinstance(dialog, LoggedRunDialog)
    qtbot.waitUntil(lambda: dialog.page is not None)
    return dialog


def to_co(qtbot: QtBot, leaf: TypedVisitLeaf, slip: SlipColumn) -> None:
    """Go to the CO of the slip, once the window is the active one again."""
    control = slip.fields["co_ppm"].control()
    leaf.window().activateWindow()
    qtbot.waitUntil(leaf.window().isActiveWindow)
    control.setFocus()
    qtbot.waitUntil(control.hasFocus)


def press(dialog: QWidget, name: str) -> None:
    found = dialog.findChild(QPushButton, name)
    assert isinstance(found, QPushButton)
    assert not found.isHidden(), f"{name} is not offered"
    found.click()


def slip_document(leaf: TypedVisitLeaf) -> dict[str, Any]:
    slips = leaf.document()["works"][0].get("slips", ())
    return next((one for one in slips if (one["point"], one["rate"]) == ("flue", "max")), {})


@pytest.mark.usefixtures("slip")
def test_a_run_fills_the_empty_slip_and_is_kept(
    qtbot: QtBot, leaf: TypedVisitLeaf, answers: FakeAnswers
) -> None:
    answers.file = RUN
    dialog = opened(qtbot, leaf)
    press(dialog, "run.fill")
    filled = slip_document(leaf)
    assert (filled["co_ppm"], filled["o2_pct"], filled["co2_pct"]) == ("61", "4.8", "9.1")
    assert filled["settled"] is True
    rows = attachments.of_visit(leaf.desk.book.con, leaf.place.key)
    assert [row.media_type for row in rows] == ["text/csv"]
    assert attachments.body(leaf.desk.book.con, rows[0].id) == RUN.read_bytes()
    assert photos.of_visit(leaf.desk.book, leaf.place.key) == (), "a run is no photograph"
    leaf.undoing.undo()  # type: ignore[union-attr]
    assert "co_ppm" not in slip_document(leaf)


def test_what_is_typed_stays_unless_filled_over(
    qtbot: QtBot, leaf: TypedVisitLeaf, slip: SlipColumn, answers: FakeAnswers
) -> None:
    answers.file = RUN
    slip.fields["co_ppm"].set_text("64")
    dialog = opened(qtbot, leaf)
    assert "CO 64" in dialog.offer.there.text()
    press(dialog, "run.fill")
    assert (slip_document(leaf)["co_ppm"], slip_document(leaf)["o2_pct"]) == ("64", "4.8")
    assert "settled" not in slip_document(leaf), "the 64 is not of this run"
    to_co(qtbot, leaf, slip)
    press(opened(qtbot, leaf), "run.over")
    assert slip_document(leaf)["co_ppm"] == "61"
    assert slip_document(leaf)["settled"] is True


def test_a_run_that_drifts_marks_the_slip(
    qtbot: QtBot, leaf: TypedVisitLeaf, slip: SlipColumn, answers: FakeAnswers, tmp_path: Path
) -> None:
    answers.file = tmp_path / "drifting.csv"
    answers.file.write_text("t,co\n" + "".join(f"{t},{60 + t // 10}\n" for t in range(200)))
    press(opened(qtbot, leaf), "run.fill")
    assert slip_document(leaf)["settled"] is False
    leaf.judge()
    assert leaf.judgement is not None
    assert "not-settled" in {doubt.code for doubt in leaf.judgement.assessments[0].doubts}
    # It stays when a figure is typed over, and goes once settled readings fill the slip.
    slip.fields["co_ppm"].edited.emit("70")
    assert slip_document(leaf)["settled"] is False
    to_co(qtbot, leaf, slip)
    answers.file = RUN
    press(opened(qtbot, leaf), "run.over")
    assert slip_document(leaf)["settled"] is True
    slip.fields["co_ppm"].edited.emit("70")
    assert "settled" not in slip_document(leaf)


def test_columns_are_chosen_once_for_an_analyser(
    qtbot: QtBot, leaf: TypedVisitLeaf, slip: SlipColumn, answers: FakeAnswers, tmp_path: Path
) -> None:
    answers.file = tmp_path / "other.csv"
    answers.file.write_text("Uhr;Wert A;Wert B\n" + "".join(f"{t};60;4,8\n" for t in range(70)))
    dialog = opened(qtbot, leaf)
    assert dialog.form is not None, "columns are asked for"
    for key, name in (("time", "Uhr"), ("co_ppm", "Wert A"), ("o2_pct", "Wert B")):
        dialog.form.fields[key].set_text(name)
    dialog.form.changed.emit()
    qtbot.waitUntil(lambda: dialog.page is not None and dialog.page.settling is not None)
    press(dialog, "run.fill")
    assert (slip_document(leaf)["co_ppm"], slip_document(leaf)["o2_pct"]) == ("60", "4.8")
    known = leaf.works[0].analyser.known()
    if known is not None and known.id is not None:
        columns = settling.columns_known(leaf.desk.book, known.id)
        assert columns == {"time": "Uhr", "co_ppm": "Wert A", "o2_pct": "Wert B"}
    to_co(qtbot, leaf, slip)
    again = opened(qtbot, leaf)
    assert again.form is None, "they are remembered"
    again.reject()


def test_temperatures_come_along_and_do_not_tell_whether_it_settled(
    qtbot: QtBot, leaf: TypedVisitLeaf, slip: SlipColumn, answers: FakeAnswers, tmp_path: Path
) -> None:
    answers.file = tmp_path / "warming.csv"
    rows = "".join(f"{t};60;{40 + t / 10:.1f};13,2\n".replace(".", ",") for t in range(121))
    answers.file.write_text("t;co;T flue;Air [°C]\n" + rows)
    slip.fields["air_c"].set_text("15.0")
    dialog = opened(qtbot, leaf)
    assert "flue gas 43.0\u00a0°C, combustion air 13.2\u00a0°C" in dialog.findChild(RunChart).accessibleName()
    assert "combustion air 15.0" in dialog.offer.there.text()
    press(dialog, "run.fill")
    filled = slip_document(leaf)
    assert (filled["flue_c"], filled["air_c"], filled["settled"]) == ("43.0", "15.0", True)
    slip.fields["flue_c"].edited.emit("43.1")
    assert slip_document(leaf)["settled"] is True
    slip.fields["co_ppm"].edited.emit("61")
    assert "settled" not in slip_document(leaf)


@pytest.mark.usefixtures("slip")
def test_what_is_no_run_is_refused_in_words(
    qtbot: QtBot, leaf: TypedVisitLeaf, answers: FakeAnswers, tmp_path: Path
) -> None:
    answers.file = tmp_path / "letter.csv"
    answers.file.write_text("Dear customer")
    do(leaf, "F3")
    dialog = shown(leaf, LoggedRunDialog)
    qtbot.waitUntil(lambda: "letter.csv" in dialog.words.text())
    assert "accepted" in dialog.words.text()
    dialog.reject()
    assert slip_document(leaf) == {}


def test_without_a_slip_in_focus_it_is_said(leaf: TypedVisitLeaf, qtbot: QtBot) -> None:
    leaf.pieces.arrival.purpose.control().setFocus()
    with qtbot.waitSignal(leaf.said) as told:
        do(leaf, "F3")
    assert told.args == ["Go to the slip first that is to be filled."]
    with qtbot.waitSignal(leaf.said):
        do(leaf, "F5")


@pytest.mark.usefixtures("slip")
def test_values_typed_at_intervals_fill_the_slip(qtbot: QtBot, leaf: TypedVisitLeaf) -> None:
    clock = [dt.datetime(2026, 11, 25, 10, 0, tzinfo=dt.UTC)]
    leaf.desk = dataclasses.replace(leaf.desk, now=lambda: clock[0])
    do(leaf, "F5")
    dialog = shown(leaf, LiveDialog)
    qtbot.waitActive(dialog)
    field = dialog.field.edit

    def read(value: str) -> None:
        field.setFocus()
        qtbot.keyClicks(field, value)
        qtbot.keyClick(field, Qt.Key.Key_Return)
        clock[0] += dt.timedelta(seconds=15)

    for value in ("90", "75", "66"):
        read(value)
    assert dialog.words.text().startswith("Not settled. CO still falls by")
    read("x")
    assert dialog.field.fault(), "what is no number is not taken"
    field.clear()
    for value in ("61", "61", "61", "61", "61", "61"):
        read(value)
    assert dialog.words.text() == "Settled since 1 min 15 s: median 61 ppm."
    press(dialog, "live.fill")
    assert slip_document(leaf)["co_ppm"] == "61"
    assert slip_document(leaf)["settled"] is True
    assert QApplication.activeModalWidget() is None
