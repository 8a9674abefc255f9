"""A payment from the list of who owes, or from the invoice, to the book: by keys, in parts, refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.help.worked_out_dialog import WorkedOutDialog
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.operations import pages
from flueleaf.storage import money

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
INVOICE = "I-2026-0001"  # of the worked evening, £1,632.58


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    """The form of a payment, opened by its key from tonight's leaf."""
    typing = Typist(window)
    typing.press(Qt.Key.Key_M, CTRL | SHIFT)
    return typing


def form(window: MainWindow) -> FormLeaf:
    assert isinstance(window.leaf, FormLeaf), window.notice
    return window.leaf


def owing(window: MainWindow) -> list[str]:
    return [row.owing for row in pages.tonight(window.desk.book, window.desk.today()).owing]


def margin(window: MainWindow) -> list[str]:
    return [text.text() for text in window.margin.findChildren(QLabel)]


def test_a_part_is_paid_then_the_rest_by_keys(typist: Typist) -> None:
    window = typist.window
    assert form(window).place == Place("payment", INVOICE)
    assert form(window).fields["amount"].text() == "1632.58"
    typist.type_at("amount", "1000")
    typist.choose("way", "t")
    typist.press(Qt.Key.Key_Return, CTRL)
    assert window.leaf is not None
    assert window.leaf.place == TONIGHT
    panel = window.leaf.findChild(RowsPanel, "leaf.tonight.who_owes")
    assert panel is not None
    assert [row.cells[-1] for row in panel.rows_model.rows] == ["£632.58"]
    assert window.notice == f"£1,000.00 towards {INVOICE} is kept. Ctrl+Z takes it back."

    window.go(Place("paper", INVOICE))
    assert {"to pay £1,632.58", "paid £1,000.00", "owing £632.58", "due 20 Dec 2026"} <= set(margin(window))
    typist.press(Qt.Key.Key_M, CTRL | SHIFT)
    typist.choose("way", "c")
    typist.press(Qt.Key.Key_Return, CTRL)
    assert window.leaf.place == Place("paper", INVOICE)
    assert "nothing is owing" in margin(window)
    assert owing(window) == []
    assert not any("payment" in command.words for command in window.leaf.commands())


def test_a_payment_noted_by_mistake_is_taken_back_by_a_counter_entry(typist: Typist) -> None:
    window = typist.window
    typist.type_at("amount", "1000")
    typist.choose("way", "t")
    typist.press(Qt.Key.Key_Return, CTRL)
    typist.press(Qt.Key.Key_Z, CTRL)
    assert owing(window) == ["£1,632.58"]
    assert "is taken back" in window.notice
    noted = [one.amount.pence for one in money.payments(window.desk.book.con, INVOICE)]
    assert noted == [100_000, -100_000]
    typist.press(Qt.Key.Key_Z, CTRL)  # there is nothing more to take back
    assert owing(window) == ["£1,632.58"]


def test_the_invoice_it_was_noted_from_follows(typist: Typist) -> None:
    window = typist.window
    typist.press(Qt.Key.Key_W, CTRL)
    window.go(Place("paper", INVOICE))
    typist.press(Qt.Key.Key_M, CTRL | SHIFT)
    typist.choose("way", "c")
    typist.press(Qt.Key.Key_Return, CTRL)
    assert "nothing is owing" in margin(window)
    typist.press(Qt.Key.Key_Z, CTRL)
    assert "nothing is owing" not in margin(window)
    assert "owing £1,632.58" in margin(window)


@pytest.mark.parametrize(
    ("name", "text", "word"),
    [
        ("amount", "0", "0.01"),
        ("amount", "1632.59", "owing"),
        ("amount", "12,50", "did you mean 12.50"),
        ("amount", "", "needed"),
        ("date", "26/11/2026", "lies ahead"),
        ("way", "", "cheque"),
    ],
)
def test_what_cannot_be_is_said_at_the_field(typist: Typist, name: str, text: str, word: str) -> None:
    window = typist.window
    leaf = form(window)
    leaf.fields["way"].set_text("card")
    leaf.fields[name].set_text(text)
    typist.press(Qt.Key.Key_Return, CTRL)
    assert window.leaf is leaf
    assert word in leaf.fields[name].fault()
    assert owing(window) == ["£1,632.58"]


def test_nothing_is_asked_for_where_nothing_is_owing(typist: Typist) -> None:
    window = typist.window
    form(window).fields["way"].set_text("cash")
    typist.press(Qt.Key.Key_Return, CTRL)
    typist.press(Qt.Key.Key_M, CTRL | SHIFT)
    assert window.notice == "Nobody owes anything."
    window.go(Place("payment", INVOICE))
    assert window.notice == f"Nothing is owing on invoice {INVOICE}."
    assert "Payment" not in " ".join(title for _, title in window.lately)


def test_what_is_owing_says_how_it_came_about(typist: Typist) -> None:
    typist.press(Qt.Key.Key_H, CTRL)
    sheet = typist.window.findChild(WorkedOutDialog)
    assert sheet is not None
    found = sheet.page.findChild(QLabel, "worked_out.result")
    assert found is not None
    assert found.text() == "£1,632.58"
    sheet.close()


def test_what_is_chosen_is_asked_to_be_chosen(typist: Typist) -> None:
    leaf = form(typist.window)
    typist.press(Qt.Key.Key_Return, CTRL)
    assert "Choose" in leaf.fields["way"].fault()
    assert "Type" not in leaf.fields["way"].fault()
