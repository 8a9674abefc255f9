"""The leaf of a signed visit explains its figures: verdicts, bill, the dates it set."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.help.worked_out_dialog import WorkedOutDialog
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.visit.signed_visit import SignedVisitLeaf
from flueleaf.domain.schedule.due import in_words
from flueleaf.operations import drafting, pages
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.window import MainWindow


@pytest.fixture
def signed(window: MainWindow) -> SignedVisitLeaf:
    """The visit of the worked evening."""
    row = window.desk.book.con.execute("SELECT visit_id FROM visit").fetchone()
    window.go(Place("visit", row["visit_id"]))
    assert isinstance(window.leaf, SignedVisitLeaf)
    return window.leaf


def press_ctrl_h(window: MainWindow) -> WorkedOutDialog:
    QTest.keyClick(window, Qt.Key.Key_H, Qt.KeyboardModifier.ControlModifier)
    sheet = window.findChild(WorkedOutDialog)
    assert sheet is not None, "the signed visit explains nothing"
    return sheet


def texts(sheet: WorkedOutDialog) -> dict[str, list[str]]:
    """Return every text of each explanation by its title, the result second."""
    found = {}
    for row in range(sheet.listed.count()):
        sheet.listed.setCurrentRow(row)
        found[sheet.listed.item(row).text()] = [one.text() for one in sheet.page.findChildren(QLabel)]
    return found


def test_ctrl_h_explains_verdicts_bill_and_dates(window: MainWindow, signed: SignedVisitLeaf) -> None:
    book, today = window.desk.book, window.desk.today()
    kept = drafting.stored_visit(book, signed.place.key)
    (work,), (result,) = kept.visit.works, kept.results
    found = texts(press_ctrl_h(window))
    name = f"{work.appliance.make} {work.appliance.model}, {work.appliance.location}"
    assert found[f"verdict, {name}"][1] == result["verdict"]
    for slip in result["slips"]:
        words = [text for text in found[f"verdict, {name}"] if text.startswith(slip["point"])]
        assert words or not slip["decides"]
    values = {key: value for slip in kept.visit.works[0].slips for key, value in slip.values.items()}
    assert any(f"{values['co_ppm']} ppm: " in lines[1] for lines in found.values())
    number = book.con.execute("SELECT number FROM invoice").fetchone()["number"]
    bill = pages.invoice_page(book, number, today)
    assert found["total of the bill"][1] == bill.payable.with_sign()
    assert found["owing"][1] == bill.owing.with_sign()
    (due,) = pages.appliance_page(book, work.appliance.id or 0).due
    assert found[f"{due.rule}, {name}"][1] == in_words(due.date)
    assert due.why in found[f"{due.rule}, {name}"]


def test_it_opens_on_the_total_of_the_bill_the_keyboard_stands_on(
    window: MainWindow, signed: SignedVisitLeaf
) -> None:
    papers = signed.findChild(RowsPanel)
    assert papers is not None
    papers.setFocus()
    shown = [papers.model().index(row, 1).data() for row in range(papers.model().rowCount())]
    papers.setCurrentIndex(papers.model().index(shown.index("invoice"), 0))
    assert press_ctrl_h(window).listed.currentItem().text() == "total of the bill"


def test_what_was_not_refitted_or_not_measured_is_said(desk: Desk, evening: dict[str, Any]) -> None:
    work = evening["works"][0]
    work |= {"outcome": "isolated", "close_up": {"air inlet": "not sure"}}
    work["slips"] = [slip for slip in work["slips"] if (slip["point"], slip["rate"]) != ("flue", "min")]
    work["not_measured"] = [{"point": "flue", "rate": "min", "reason": "locked out"}]
    evening |= {"visit_id": "00000000-0000-4000-8000-000000000009", "papers": [], "date": "2026-11-21"}
    issued_at = dt.datetime.fromisoformat(evening.pop("issued_at"))
    drafting.sign_off(desk.book, evening, issued_at=issued_at, today=desk.today())
    place = Place("visit", evening["visit_id"])
    leaf = SignedVisitLeaf(desk, place, drafting.stored_visit(desk.book, place.key))
    shown = [one.text() for one in leaf.findChildren(QLabel)]
    assert shown[shown.index("air inlet test point") + 1] == "not sure"
    assert shown[shown.index("flue test point") + 1] == "nothing said of it"
    assert shown[shown.index("not measured") + 1] == "flue, low rate: locked out"
    assert shown[shown.index("refitted") + 1] == "no test point confirmed"


def test_the_leaf_shows_the_date_it_set(signed: SignedVisitLeaf) -> None:
    shown = [one.text() for one in signed.findChildren(QLabel)]
    assert f"yearly service, {long_date(dt.date(2027, 11, 20))}" in shown


def test_a_signed_visit_tells_how_the_procedure_went(window: MainWindow, signed: SignedVisitLeaf) -> None:
    (result,) = drafting.stored_visit(window.desk.book, signed.place.key).results
    assert result["procedure"]["ending"] == "commissioned"
    shown = [one.text() for one in signed.findChildren(QLabel)]
    (told,) = [text for text in shown if text.startswith("flue integrity at high rate")]
    assert told.splitlines() == [
        "flue integrity at high rate: not beyond its limit",
        "combustion at high rate: not beyond its limit",
        "combustion at low rate: not beyond its limit",
        "ended: commissioned",
    ]


def test_a_visit_signed_without_an_invoice_is_invoiced_from_its_leaf(
    qtbot: QtBot, window: MainWindow, signed: SignedVisitLeaf
) -> None:
    ctrl = Qt.KeyboardModifier.ControlModifier
    typist = Typist(window)
    assert signed.findChild(QPushButton, "visit.invoice") is None
    typist.press(Qt.Key.Key_I, ctrl)
    assert window.notice == "This visit was invoiced: its invoice is among its papers."
    document = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"), name="evening.json")
    document |= {"visit_id": "7f0e1d2c-3b4a-4958-8776-655443322110", "papers": ["commissioning record"]}
    now = window.desk.now()
    kept = drafting.sign_off(window.desk.book, document, issued_at=now, today=window.desk.today())
    assert len(kept.papers) == 1
    window.go(Place("visit", "7f0e1d2c-3b4a-4958-8776-655443322110"))
    assert isinstance(window.leaf, SignedVisitLeaf)
    assert window.leaf.findChild(QPushButton, "visit.invoice") is not None
    typist.press(Qt.Key.Key_I, ctrl)
    assert isinstance(window.leaf, FormLeaf)
    assert window.leaf.fields["performed"].text() == "20 Nov 2026"
    with qtbot.waitSignal(window.desk.hub.changed, timeout=60_000):
        typist.press(Qt.Key.Key_Return, ctrl)
    assert window.leaf is not None
    number = window.leaf.place.key
    assert (window.leaf.place.leaf, number) == ("paper", "I-2026-0002")
    window.go(Place("visit", "7f0e1d2c-3b4a-4958-8776-655443322110"))
    assert isinstance(window.leaf, SignedVisitLeaf)
    panel = window.leaf.findChild(RowsPanel)
    assert panel is not None
    assert [row.place for row in panel.rows_model.rows][-1] == Place("paper", number)
    assert window.leaf.findChild(QPushButton, "visit.invoice") is None
