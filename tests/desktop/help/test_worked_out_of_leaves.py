"""Every leaf that shows figures explains them, and says nothing else than it shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QLabel

from flueleaf.desktop.help.worked_out_dialog import KEY, WorkedOutDialog
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.domain.schedule.due import in_words
from flueleaf.operations import pages
from flueleaf.operations.pages import InvoicePage

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


def _sheet(window: MainWindow, place: Place) -> WorkedOutDialog:
    window.go(place)
    assert window.leaf is not None
    next(one for one in window.leaf.commands() if one.keys == (KEY,)).run()
    sheet = window.findChild(WorkedOutDialog)
    assert sheet is not None, f"{place.leaf} explains nothing"
    return sheet


def _results(sheet: WorkedOutDialog) -> dict[str, str]:
    found = {}
    for row in range(sheet.listed.count()):
        sheet.listed.setCurrentRow(row)
        result = sheet.page.findChild(QLabel, "worked_out.result")
        assert result is not None
        found[sheet.listed.item(row).text()] = result.text()
    return found


def _invoice(window: MainWindow) -> InvoicePage:
    con = window.desk.book.con
    number = con.execute("SELECT number FROM invoice").fetchone()["number"]
    return pages.invoice_page(window.desk.book, number, window.desk.today())


def test_the_invoice(window: MainWindow) -> None:
    bill = _invoice(window)
    found = _results(_sheet(window, Place("paper", bill.number)))
    assert found["owing"] == bill.owing.with_sign()
    assert found["days overdue"] == str(bill.overdue_days)
    assert found["total of the bill"] == bill.payable.with_sign()


def test_tonight(window: MainWindow) -> None:
    bill = _invoice(window)
    found = _results(_sheet(window, TONIGHT))
    assert found[f"{bill.number}: owing"] == bill.owing.with_sign()


def test_the_appliance(window: MainWindow) -> None:
    con = window.desk.book.con
    number = con.execute("SELECT id FROM appliance").fetchone()["id"]
    page = pages.appliance_page(window.desk.book, number)
    found = _results(_sheet(window, Place("appliance", str(number))))
    shown = {f"{judged.value_text}" for row in page.last for judged in row.judged if judged.value_text}
    assert shown
    for value in shown:
        assert any(result.startswith(value) for result in found.values()), value
    words = {judged.verdict for row in page.last for judged in row.judged}
    assert words <= {result.rpartition(": ")[2] for result in found.values()}


def test_the_premises(window: MainWindow) -> None:
    con = window.desk.book.con
    number = con.execute("SELECT id FROM premises").fetchone()["id"]
    page = pages.premises_page(window.desk.book, number)
    assert page.due
    found = _results(_sheet(window, Place("premises", str(number))))
    assert set(found.values()) == {in_words(row.date) for row in page.due}
