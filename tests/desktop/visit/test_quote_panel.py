"""A quote brought into a visit: its lines, what is said when they differ, taken out, used up meanwhile."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from tests.desktop.test_every_leaf import cut_off
from tests.desktop.visit.typist import Typist, field, leaf_of

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.domain.money.lines import Line
from flueleaf.operations import bills, drafting, pages

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
ISSUED = dt.datetime(2026, 11, 20, 19, tzinfo=dt.UTC)
QUOTE = "Q-2026-0001"


def quote(window: MainWindow) -> None:
    page = pages.premises_page(window.desk.book, 1)
    line = Line("Expansion vessel", Decimal(1), "each", Decimal("118.00"), vat_pct=Decimal(20), labour=True)
    bills.issue_quote(window.desk.book, page.customer, page.premises, [line], issued_at=ISSUED)


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    """A new visit to the premises of the worked evening, which have an open quote."""
    quote(window)
    window.go(Place("visit", within="1"))
    return Typist(window)


def said(typist: Typist) -> tuple[str, str]:
    """Return what is said of the quote, and the note beside it."""
    panel = leaf_of(typist).pieces.quote
    note = panel.note
    return panel.said.text(), note.text() if not note.isHidden() else ""


def bring_in(typist: Typist) -> None:
    typist.press(Qt.Key.Key_Q, CTRL | SHIFT)


def test_the_button_fills_the_lines_and_asks_for_the_invoice(typist: Typist) -> None:
    panel = leaf_of(typist).pieces.quote
    assert said(typist)[0] == (
        f"quoted for these premises: {QUOTE} of 20 Nov 2026, £141.60, valid until 20 Dec 2026"
    )
    offer = panel.offers[0]
    assert offer.text() == f"Bring in quote {QUOTE}"
    offer.setFocus()
    typist.enter()
    assert panel.number == QUOTE
    assert [line["text"] for line in leaf_of(typist).document()["lines"]] == ["Expansion vessel"]
    assert leaf_of(typist).document()["papers"] == ["service record", "invoice"]
    assert typist.here == "lines.1.text"
    assert said(typist)[1] == ""
    assert offer.isHidden()


def test_lines_changed_since_are_said_to_differ(typist: Typist) -> None:
    bring_in(typist)
    price = field(typist, "lines.0.unit_price")
    price.set_text("120.00")
    leaf_of(typist).judge()
    assert said(typist)[1] == "The lines differ from the quote, and so will the invoice."
    price.set_text("118.00")
    field(typist, "papers.invoice").set_text("no")
    leaf_of(typist).judge()
    assert said(typist)[1] == "No invoice is asked for below, so the quote stays open."


def test_lines_typed_before_stay_behind_those_of_the_quote(typist: Typist) -> None:
    typist.press(Qt.Key.Key_L, CTRL)
    typist.write("Extra key")
    bring_in(typist)
    assert [line["text"] for line in leaf_of(typist).document()["lines"]] == ["Expansion vessel", "Extra key"]
    assert "differ" in said(typist)[1]


def test_the_draft_remembers_the_quote_and_forgets_one_left_out(typist: Typist) -> None:
    window, key = typist.window, leaf_of(typist).place.key
    bring_in(typist)
    window.go(TONIGHT)
    assert drafting.quote_of(window.desk.book, key) == QUOTE
    window.go(Place("visit", key))
    typist.rest()
    assert said(typist)[0].startswith(f"from quote {QUOTE}")
    bring_in(typist)
    assert leaf_of(typist).pieces.quote.number == ""
    assert len(leaf_of(typist).document()["lines"]) == 1
    window.go(TONIGHT)
    assert drafting.quote_of(window.desk.book, key) == ""


def test_a_quote_invoiced_meanwhile_holds_up_the_sign_off(typist: Typist) -> None:
    window, key = typist.window, leaf_of(typist).place.key
    bring_in(typist)
    window.go(TONIGHT)
    bills.invoice_quote(window.desk.book, QUOTE, performed=ISSUED.date(), issued_at=ISSUED)
    window.go(Place("visit", key))
    typist.rest()
    assert any("not open" in one.text for one in leaf_of(typist).left)
    assert "Leave it out" in said(typist)[1]
    bring_in(typist)
    assert not any("not open" in one.text for one in leaf_of(typist).left)
    assert leaf_of(typist).pieces.quote.isHidden()


def test_without_an_open_quote_that_is_said(window: MainWindow) -> None:
    window.go(Place("visit", within="1"))
    typing = Typist(window)
    assert leaf_of(typing).pieces.quote.isHidden()
    bring_in(typing)
    assert window.notice == "There is no open quote for these premises."


@pytest.mark.parametrize("brought", [False, True])
def test_nothing_is_cut_off_at_twice_the_text(window: MainWindow, qtbot: QtBot, brought: bool) -> None:
    quote(window)
    quote(window)
    window.keeper.set_scale(2.0)
    window.resize(1024, 700)
    window.go(Place("visit", within="1"))
    typing = Typist(window)
    if brought:
        bring_in(typing)
        field(typing, "lines.0.unit_price").set_text("120.00")
        leaf_of(typing).judge()
    leaf = leaf_of(typing)
    qtbot.waitUntil(lambda: cut_off(leaf) == [], timeout=60_000)
