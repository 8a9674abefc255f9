"""The visit leaf on premises the book knows: keys, messages, verdicts while typing, sign-off, the draft."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QRadioButton, QWidget
from tests.desktop.photo.drawn_slips import lying_jpeg
from tests.desktop.visit.typist import Typist, field, go, leaf_of

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.visit.signed_visit import SignedVisitLeaf
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.visit.visit_margin import VisitMargin
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import drafting, photos

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.ask import Ask
    from flueleaf.desktop.change_hub import ChangeHub
    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.storage.book import Book

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
# The slips of a repeat visit to the boiler of the worked evening.
SLIPS = (
    ("20.9", "0.0"),
    ("4.9", "9.2", "70", "0.0008", "56", "18"),
    ("5.6", "8.8", "17", "0.0002", "44", "18"),
)


def margin(typist: Typist) -> VisitMargin:
    found = typist.window.margin.findChild(VisitMargin)
    assert isinstance(found, VisitMargin)
    return found


def type_slips(typist: Typist) -> None:
    typist.press(Qt.Key.Key_G, CTRL)
    for n, slip in enumerate(SLIPS):
        assert typist.here == f"works.0.slips.{n}.o2_pct"
        for value in slip:
            typist.write(value)
            typist.enter()
        while typist.here.startswith(f"works.0.slips.{n}."):
            typist.enter()


def test_a_repeat_visit_takes_few_keys(typist: Typist, qtbot: QtBot) -> None:
    typist.presses = 0
    typist.reach("arrived")
    typist.write("0910")
    typist.enter()
    typist.write("1005")
    before = typist.presses
    type_slips(typist)
    slips = typist.presses - before
    for letter in "yyyyy":  # three of combustion, two of the safety checks
        typist.answer(letter)
    typist.press(Qt.Key.Key_PageDown)
    assert typist.here == "works.0.close_up.air inlet"
    typist.answer("y")
    typist.answer("y")
    typist.press(Qt.Key.Key_F8)
    typist.press(Qt.Key.Key_F8)
    typist.reach("works.0.outcome")
    typist.answer("l")
    typist.press(Qt.Key.Key_L, CTRL)
    for value in ("Service", "1", "visit", "78.00", "20"):
        typist.write(value)
        typist.enter()
    typist.press(Qt.Key.Key_PageDown)
    typist.reach("sign_off.customer_name")
    typist.write("Perran Quillstone")
    typist.enter()
    typist.answer("s")
    typist.press(Qt.Key.Key_Return, CTRL)
    qtbot.waitUntil(lambda: isinstance(typist.window.leaf, SignedVisitLeaf), timeout=60_000)
    assert slips <= 17, slips
    assert typist.presses <= 60, typist.presses


def test_a_verdict_changes_with_the_key_that_changes_it(typist: Typist, qtbot: QtBot) -> None:
    for key, value in (("o2_pct", "4.9"), ("co2_pct", "9.2")):
        go(typist, f"works.0.slips.1.{key}")
        typist.write(value)
    co = go(typist, "works.0.slips.1.co_ppm")
    typist.write("34")
    qtbot.waitUntil(lambda: "34 ppm of 350" in margin(typist).panels[0].accessibleName(), timeout=60_000)
    assert ", within the maker’s limit" in margin(typist).panels[0].accessibleName()
    typist.write("9")
    qtbot.waitUntil(
        lambda: ", near the maker’s limit" in margin(typist).panels[0].accessibleName(), timeout=60_000
    )
    typist.press(Qt.Key.Key_Backspace)
    typist.write("0")
    qtbot.waitUntil(
        lambda: "340 ppm of 350, near" in margin(typist).panels[0].accessibleName(), timeout=60_000
    )
    typist.press(Qt.Key.Key_Backspace)
    typist.press(Qt.Key.Key_Backspace)
    typist.write("51")
    qtbot.waitUntil(
        lambda: "351 ppm of 350, over" in margin(typist).panels[0].accessibleName(), timeout=60_000
    )
    assert co.text() == "351"


def test_last_time_stands_beside_the_fields_and_in_the_margin(typist: Typist) -> None:
    go(typist, "works.0.slips.1.co_ppm")
    combustion = leaf_of(typist).works[0].combustion
    assert combustion is not None
    assert combustion.slips.columns[1].last["co_ppm"].text() == "64"
    shown = margin(typist)
    assert any("CO 64 ppm" in text.text() for text in shown._last)


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("works.0.slips.1.o2_pct", "4,8", "did you mean 4.8?"),
        ("works.0.slips.1.co_ppm", "100001", "from 0 to 100,000 ppm"),
        ("works.0.slips.1.flue_c", "warm", "a number from −30 to 600 °C"),
        ("works.0.slips.1.o2_pct", "4.8.1", "with a point for decimals"),
        ("date", "27/11/2027", "lies ahead"),
        ("arrived", "half nine", "no time of day"),
        ("works.0.supply.working_mbar", "2070", "from 0 to 1,000 mbar"),
        ("lines.0.unit_price", "a lot", "cannot be used"),
    ],
)
def test_what_cannot_be_used_is_said_at_the_field_and_stays(
    typist: Typist, name: str, text: str, said: str
) -> None:
    target = go(typist, name)
    typist.focus.selectAll()  # type: ignore[attr-defined]
    typist.write(text)
    typist.enter()
    assert said in target.fault()
    assert target.message.isVisible()
    assert target.text() == text
    assert typist.here != name
    assert any(one.field is target for one in leaf_of(typist).left)


def test_a_unit_after_the_number_is_taken(typist: Typist) -> None:
    target = go(typist, "works.0.slips.1.flue_c")
    typist.write("54 °C")
    typist.enter()
    assert not target.fault()
    assert leaf_of(typist).document()["works"][0]["slips"] == [
        {"point": "flue", "rate": "max", "flue_c": "54 °C"}
    ]


def test_leaving_before_arriving_is_said_at_the_time_of_leaving(typist: Typist, qtbot: QtBot) -> None:
    go(typist, "arrived")
    typist.write("10:00")
    typist.enter()
    typist.write("9:00")
    typist.enter()
    qtbot.waitUntil(
        lambda: "not before the arrival at 10:00" in field(typist, "left").fault(), timeout=60_000
    )
    go(typist, "left")
    typist.focus.selectAll()  # type: ignore[attr-defined]
    typist.write("1100")
    typist.enter()
    qtbot.waitUntil(lambda: not field(typist, "left").fault(), timeout=60_000)


def test_enter_leaves_the_work_lines_at_the_empty_one(typist: Typist) -> None:
    typist.press(Qt.Key.Key_L, CTRL)
    typist.write("Service")
    line = typist.here.removesuffix(".text")
    typist.press(Qt.Key.Key_L, CTRL)
    assert typist.here != f"{line}.text"
    typist.enter()
    assert not typist.here.startswith("lines.")
    go(typist, f"{line}.unit")  # in a line begun Enter goes through the cells
    typist.enter()
    assert typist.here == f"{line}.unit_price"


def test_what_is_missing_of_a_work_line_names_the_line(typist: Typist) -> None:
    typist.press(Qt.Key.Key_L, CTRL)
    go(typist, typist.here.replace("text", "unit"))
    typist.write("h")
    leaf_of(typist).catch_up()
    texts = [one.text for one in leaf_of(typist).left]
    assert "work line 1: what" in texts


def test_sign_off_waits_for_an_opened_point(typist: Typist, qtbot: QtBot) -> None:
    type_slips(typist)
    go(typist, "works.0.close_up.flue")
    typist.answer("y")
    go(typist, "works.0.outcome")
    typist.answer("l")
    go(typist, "sign_off.customer_name")
    typist.write("Perran Quillstone")
    typist.enter()
    typist.answer("s")
    typist.press(Qt.Key.Key_Return, CTRL)
    assert isinstance(typist.window.leaf, TypedVisitLeaf)
    assert typist.here == "works.0.close_up.air inlet"
    assert "air inlet test point" in field(typist, typist.here).fault()
    assert "still open" in typist.window.notice
    typist.answer("y")
    assert typist.window.notice == ""  # it does not hold any more
    go(typist, "works.0.close_up.air inlet")
    typist.answer("s")  # not sure is no confirmation
    typist.press(Qt.Key.Key_Return, CTRL)
    assert typist.here == "works.0.close_up.air inlet"
    typist.answer("y")
    typist.press(Qt.Key.Key_Return, CTRL)
    qtbot.waitUntil(lambda: isinstance(typist.window.leaf, SignedVisitLeaf), timeout=60_000)


def test_nothing_is_prefilled_that_the_engineer_has_to_see(typist: Typist) -> None:
    work = leaf_of(typist).document()["works"][0]
    assert "close_up" not in work
    assert "outcome" not in work
    assert "slips" not in work
    assert "checks" not in work


def test_a_reading_over_its_limit_is_not_left_in_use(typist: Typist, qtbot: QtBot) -> None:
    type_slips(typist)
    go(typist, "works.0.slips.2.co_ppm")
    typist.focus.selectAll()  # type: ignore[attr-defined]
    typist.write("400")
    go(typist, "works.0.outcome")
    typist.answer("l")
    qtbot.waitUntil(lambda: any("over its limit" in one.text for one in leaf_of(typist).left), timeout=60_000)


def test_a_doubt_is_confirmed_and_lapses_with_the_next_figure(typist: Typist, qtbot: QtBot) -> None:
    type_slips(typist)
    go(typist, "works.0.slips.1.o2_pct")
    typist.focus.selectAll()  # type: ignore[attr-defined]
    typist.write("7.5")
    combustion = leaf_of(typist).works[0].combustion
    assert combustion is not None
    qtbot.waitUntil(lambda: bool(combustion.doubts.buttons), timeout=60_000)
    typist.press(Qt.Key.Key_K, CTRL | SHIFT)
    slip = leaf_of(typist).document()["works"][0]["slips"][1]
    assert slip["confirmed"] == ["o2-co2-disagree"]
    typist.press(Qt.Key.Key_Backspace)
    assert "confirmed" not in leaf_of(typist).document()["works"][0]["slips"][1]


def test_confirming_at_the_first_attempt_leaves_the_doubt_about_the_second(
    typist: Typist, qtbot: QtBot
) -> None:
    type_slips(typist)
    go(typist, "works.0.slips.1.co_ppm")
    typist.press(Qt.Key.Key_R, CTRL)
    for value in ("7.5", "9.2"):
        typist.write(value)
        typist.enter()
    combustion = leaf_of(typist).works[0].combustion
    assert combustion is not None
    qtbot.waitUntil(lambda: bool(combustion.doubts.buttons), timeout=60_000)
    told = [one.text() for one in combustion.doubts.findChildren(QLabel)]
    assert any(text.startswith("flue, high rate, attempt 2: ") for text in told), told
    go(typist, "works.0.slips.1.o2_pct")
    typist.press(Qt.Key.Key_K, CTRL | SHIFT)
    assert typist.window.notice == "There is no open doubt here."
    go(typist, "works.0.slips.2.o2_pct")
    typist.press(Qt.Key.Key_K, CTRL | SHIFT)
    slips = leaf_of(typist).document()["works"][0]["slips"]
    assert [slip.get("confirmed") for slip in slips] == [None, None, ["o2-co2-disagree"], None]


def test_a_second_attempt_decides_and_the_first_is_kept(typist: Typist) -> None:
    type_slips(typist)
    go(typist, "works.0.slips.1.co_ppm")
    typist.press(Qt.Key.Key_R, CTRL)
    assert typist.here == "works.0.slips.2.o2_pct"
    typist.write("5.0")
    slips = leaf_of(typist).document()["works"][0]["slips"]
    assert [slip.get("attempt") for slip in slips] == [None, None, "2", None]
    assert [slip["o2_pct"] for slip in slips] == ["20.9", "4.9", "5.0", "5.6"]


def test_a_slip_begun_but_empty_is_there_again_with_the_cursor_in_it(typist: Typist, desk: Desk) -> None:
    type_slips(typist)
    go(typist, "works.0.slips.1.co_ppm")
    typist.press(Qt.Key.Key_R, CTRL)
    assert typist.here == "works.0.slips.2.o2_pct"
    place = leaf_of(typist).place
    typist.window.go(TONIGHT)
    kept = drafting.load(desk.book, place.key)
    assert kept is not None
    assert len(kept["works"][0]["slips"]) == 3  # it is no part of the document
    typist.window.go(place)
    typist.rest()
    combustion = leaf_of(typist).works[0].combustion
    assert combustion is not None
    assert [column.spot.attempt for column in combustion.slips.columns] == [1, 1, 2, 1]
    assert typist.here == "works.0.slips.2.o2_pct"
    assert len(leaf_of(typist).document()["works"][0]["slips"]) == 3
    typist.press(Qt.Key.Key_Z, CTRL)
    assert [column.spot.attempt for column in combustion.slips.columns] == [1, 1, 1]
    typist.window.go(TONIGHT)
    typist.window.go(place)
    typist.rest()
    combustion = leaf_of(typist).works[0].combustion
    assert combustion is not None
    assert [column.spot.attempt for column in combustion.slips.columns] == [1, 1, 1]


def test_what_could_not_be_measured_is_said(typist: Typist, qtbot: QtBot) -> None:
    go(typist, "works.0.slips.2.o2_pct")
    typist.press(Qt.Key.Key_U, CTRL)
    typist.write("no demand for low rate")
    work = leaf_of(typist).document()["works"][0]
    assert work["not_measured"] == [{"point": "flue", "rate": "min", "reason": "no demand for low rate"}]
    qtbot.waitUntil(lambda: not any("low rate" in one.text for one in leaf_of(typist).left), timeout=60_000)


def test_the_draft_comes_back_where_it_was(
    typist: Typist, desk: Desk, keeper: ThemeKeeper, tmp_path: Path, qtbot: QtBot
) -> None:
    go(typist, "works.0.slips.1.o2_pct")
    typist.write("4,8")
    typist.enter()
    typist.write("9.3")
    document = leaf_of(typist).document()
    qtbot.waitUntil(lambda: drafting.load(desk.book, document["visit_id"]) == document, timeout=60_000)
    settings = QSettings(str(tmp_path / "other.ini"), QSettings.Format.IniFormat)
    again = MainWindow(desk, keeper, settings)
    qtbot.addWidget(again)
    with qtbot.waitActive(again):
        again.show()
        again.activateWindow()
    again.go(Place("visit", document["visit_id"]))
    reopened = Typist(again)
    assert leaf_of(reopened).document() == document
    assert reopened.here == "works.0.slips.1.co2_pct"
    assert "did you mean 4.8?" in field(reopened, "works.0.slips.1.o2_pct").fault()


def test_leaving_the_leaf_keeps_what_was_typed_a_moment_before(typist: Typist, desk: Desk) -> None:
    visit_id = leaf_of(typist).document()["visit_id"]
    go(typist, "works.0.slips.0.o2_pct")
    typist.write("20.9")
    typist.press(Qt.Key.Key_T, CTRL)
    kept = drafting.load(desk.book, visit_id)
    assert kept is not None
    assert kept["works"][0]["slips"][0]["o2_pct"] == "20.9"


def test_a_draft_put_away_comes_back_with_its_cursor_and_its_steps(typist: Typist, desk: Desk) -> None:
    place = leaf_of(typist).place
    go(typist, "arrived")
    typist.write("0910")
    go(typist, "works.0.slips.0.o2_pct")
    typist.write("20.9")
    photos.add(desk.book, place.key, lying_jpeg(), kind="slip", now=desk.now())
    typist.press(Qt.Key.Key_D, CTRL | SHIFT)
    window = typist.window
    assert window.leaf is not None
    assert window.leaf.place == TONIGHT
    assert window.notice == "The draft is put away. Ctrl+Z takes it back."
    assert drafting.load(desk.book, place.key) is None
    typist.press(Qt.Key.Key_Z, CTRL)
    assert window.notice == "The draft is back, under what is unfinished."
    window.go(place)
    typist.rest()
    assert typist.here == "works.0.slips.0.o2_pct"
    assert field(typist, "works.0.slips.0.o2_pct").text() == "20.9"
    assert len(photos.of_visit(desk.book, place.key)) == 1
    typist.press(Qt.Key.Key_Z, CTRL)
    assert field(typist, "works.0.slips.0.o2_pct").text() == ""
    typist.press(Qt.Key.Key_Z, CTRL)
    assert field(typist, "arrived").text() == ""


def test_a_visit_being_signed_off_is_not_put_away(typist: Typist, desk: Desk) -> None:
    leaf = leaf_of(typist)
    go(typist, "arrived")
    typist.write("0910")
    leaf.keeper.keep()
    leaf.keeper.stop()  # as from the beginning of a sign-off
    typist.press(Qt.Key.Key_D, CTRL | SHIFT)
    assert drafting.load(desk.book, leaf.place.key) is not None
    assert typist.window.leaf is leaf


def test_a_second_appliance_repeats_nothing(typist: Typist) -> None:
    typist.press(Qt.Key.Key_B, CTRL)
    assert typist.here == "works.1.appliance.kind"
    works = leaf_of(typist).document()["works"]
    assert works[1]["instrument"] == works[0]["instrument"]
    typist.press(Qt.Key.Key_B, CTRL | SHIFT)
    assert len(leaf_of(typist).works) == 1


def test_found_premises_fill_an_empty_visit(window: MainWindow, qtbot: QtBot) -> None:
    window.go(Place("visit"))
    typist = Typist(window)
    assert typist.here == "premises.address"
    typist.write("95 rope")
    typist.press(Qt.Key.Key_Down)
    typist.enter()
    qtbot.waitUntil(lambda: leaf_of(typist).title == "95 Ropewalk Parade, Quarrowby QX2 2EF", timeout=60_000)
    document = leaf_of(typist).document()
    assert document["customer"]["name"] == "Perran Quillstone"
    assert document["works"][0]["appliance"]["serial"] == "CR24-90417"
    qtbot.waitUntil(lambda: typist.here in ("purpose", "date"), timeout=60_000)


def test_a_known_model_brings_plate_and_limits(window: MainWindow, qtbot: QtBot) -> None:
    window.go(Place("visit"))
    typist = Typist(window)
    go(typist, "works.0.appliance.model")
    typist.write("rill")
    typist.press(Qt.Key.Key_Down)
    typist.enter()
    qtbot.waitUntil(
        lambda: leaf_of(typist).document()["works"][0]["appliance"].get("make") == "Calderwyn", timeout=60_000
    )
    plate = leaf_of(typist).document()["works"][0]["appliance"]
    assert plate["model"] == "Rill 24 combi"
    assert plate["limits"]["co2_pct"] == {"max": ["8.8", "9.8"], "min": ["8.3", "9.3"]}
    assert not {"serial", "location", "installed"} & set(plate)


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_every_control_is_named_and_large_enough(typist: Typist, scale: float, qtbot: QtBot) -> None:
    typist.window.keeper.set_scale(scale)
    leaf = leaf_of(typist)
    leaf.pieces.people.fold.open_up()
    leaf.works[0].plate.fold.open_up()
    leaf.works[0].analyser.fold.open_up()
    page = leaf.scroll_area.widget()
    assert page is not None
    qtbot.waitUntil(lambda: page.width() <= leaf.scroll_area.viewport().width(), timeout=60_000)
    found = [
        w for w in leaf.findChildren(QWidget) if isinstance(w, (QLineEdit, QAbstractButton)) and w.isVisible()
    ]
    assert len(found) > 80
    for control in found:
        assert control.accessibleName(), control.objectName()
        assert control.objectName()
        assert min(control.height(), control.width()) >= 24, control.objectName()
        right = control.mapTo(page, control.rect().topRight()).x()
        assert right <= page.width(), control.objectName()
    names = [
        w.accessibleName() for w in found if not isinstance(w, QRadioButton) and "slips" in w.objectName()
    ]
    assert len(names) == len(set(names))


def test_other_clocks_do_not_matter_to_the_day(book: Book, answers: Ask, desk: Desk) -> None:
    """A desk says the instant of issue by itself, with its offset."""
    hub: ChangeHub = desk.hub
    now = Desk(book, hub, dt.date.today, answers).now()
    assert now.tzinfo is not None


def test_no_slip_is_asked_for_before_the_kind_is_said(window: MainWindow) -> None:
    window.go(Place("visit"))
    leaf = leaf_of(Typist(window))
    assert [one.text for one in leaf.left] == [
        "address of the premises",
        "customer",
        "kind",
        "fuel",
        "how signed",
    ]
