"""From a quote on the premises leaf to its invoice."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.leaves.invoice_form import NO_VAT_NUMBER
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.domain.money.lines import Line
from flueleaf.operations import bills, pages
from flueleaf.operations import book as books
from flueleaf.storage import money, papers

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier
LINES = (Line("Service", Decimal(1), "each", Decimal("78.00"), vat_pct=Decimal(20)),)
QUOTE = "Q-2026-0001"


def quote(window: MainWindow, day: dt.date) -> None:
    page = pages.premises_page(window.desk.book, 1)
    at = dt.datetime.combine(day, dt.time(19), dt.UTC)
    bills.issue_quote(window.desk.book, page.customer, page.premises, LINES, issued_at=at)


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    """The premises of the worked evening, with an open quote."""
    quote(window, dt.date(2026, 11, 20))
    window.go(Place("premises", "1"))
    return Typist(window)


def test_the_quote_is_listed_and_becomes_its_invoice_by_keys(qtbot: QtBot, typist: Typist) -> None:
    window = typist.window
    assert window.leaf is not None
    panel = window.leaf.findChild(RowsPanel, "leaf.premises.quotes")
    assert panel is not None
    (row,) = panel.rows_model.rows
    assert row.cells == ("20 Nov 2026", QUOTE, "valid until 20 Dec 2026", "£93.60")
    assert row.place == Place("paper", QUOTE)
    typist.press(Qt.Key.Key_I, CTRL)
    assert isinstance(window.leaf, FormLeaf)
    assert window.leaf.fields["performed"].text() == "25 Nov 2026"
    typist.write("24/11/2026")
    with qtbot.waitSignal(window.desk.hub.changed, timeout=60_000):
        typist.press(Qt.Key.Key_Return, CTRL)
    assert window.leaf is not None
    number = window.leaf.place.key
    assert window.leaf.place.leaf == "paper"
    assert money.invoice(window.desk.book.con, number).quote_number == QUOTE
    facts = json.loads(papers.body(window.desk.book.con, number)[0])
    assert (facts["quote_number"], facts["performed"]) == (QUOTE, "2026-11-24")
    typist.press(Qt.Key.Key_BracketLeft, CTRL)
    assert window.leaf.place == Place("premises", "1")
    assert window.leaf.findChild(RowsPanel, "leaf.premises.quotes") is None
    typist.press(Qt.Key.Key_I, CTRL)
    assert window.notice == "There is no open quote for these premises."


def test_a_quote_that_ran_out_says_so_everywhere(window: MainWindow) -> None:
    quote(window, dt.date(2026, 10, 1))
    window.go(Place("premises", "1"))
    assert window.leaf is not None
    panel = window.leaf.findChild(RowsPanel, "leaf.premises.quotes")
    assert panel is not None
    assert panel.rows_model.rows[0].cells[2] == "ran out on 31 Oct 2026"
    button = window.leaf.findChild(QPushButton, f"premises.invoice.{QUOTE}")
    assert button is not None
    button.click()
    assert any("ran out on 31 Oct 2026" in text.text() for text in window.leaf.findChildren(QLabel))
    window.go(Place("paper", QUOTE))
    assert "ran out on 31 Oct 2026" in [text.text() for text in window.margin.findChildren(QLabel)]


def test_a_day_to_come_is_refused_at_the_field(typist: Typist) -> None:
    window = typist.window
    typist.press(Qt.Key.Key_I, CTRL)
    typist.write("26/11/2026")
    typist.press(Qt.Key.Key_Return, CTRL)
    assert isinstance(window.leaf, FormLeaf)
    assert "future" in window.leaf.fields["performed"].fault()
    assert pages.premises_page(window.desk.book, 1).quotes != ()


def test_who_goes_elsewhere_while_it_is_sealed_stays_there(qtbot: QtBot, typist: Typist) -> None:
    window = typist.window
    typist.press(Qt.Key.Key_I, CTRL)
    leaf = window.leaf
    assert isinstance(leaf, FormLeaf)
    with qtbot.waitSignal(window.desk.hub.changed, timeout=60_000):
        leaf.keep_all()
        window.go(TONIGHT)
    assert window.leaf is not None
    assert window.leaf.place == TONIGHT
    assert window.notice.startswith("Sealed: I-2026-")
    window.go_back()
    assert window.leaf.place == Place("premises", "1")


def test_without_the_vat_number_it_is_said_before_anything_is_sealed(window: MainWindow) -> None:
    book = window.desk.book
    quote(window, dt.date(2026, 11, 20))

    def said() -> bool:
        window.go(TONIGHT)
        window.go(Place("quote_invoice", QUOTE))
        assert isinstance(window.leaf, FormLeaf), window.notice
        return any(NO_VAT_NUMBER in one.text() for one in window.leaf.findChildren(QLabel))

    assert not said()
    books.save_business(book, dataclasses.replace(books.business(book), vat_number=" "))
    assert said()
