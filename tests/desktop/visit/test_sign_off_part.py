"""The papers asked for at the end: an invoice comes with the first price, also in a draft taken up again."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from tests.desktop.visit.typist import Typist, field, leaf_of

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    """A new visit to the premises of the worked evening."""
    window.go(Place("visit", within="1"))
    return Typist(window)


def take_up_again(typist: Typist) -> None:
    key = leaf_of(typist).place.key
    typist.window.go(TONIGHT)
    typist.window.go(Place("visit", key))
    typist.rest()


def type_a_line(typist: Typist) -> None:
    typist.press(Qt.Key.Key_L, CTRL)
    for name, text in (("text", "Service"), ("quantity", "1"), ("unit_price", "78"), ("vat_pct", "20")):
        typist.reach(f"lines.0.{name}")
        typist.write(text)
    typist.enter()
    leaf_of(typist).judge()


def left(typist: Typist) -> list[str]:
    return [one.text for one in leaf_of(typist).left]


def test_a_draft_left_before_its_first_price_still_gets_its_invoice(typist: Typist) -> None:
    typist.press(Qt.Key.Key_L, CTRL)
    typist.write("S")
    take_up_again(typist)
    assert field(typist, "papers.invoice").text() == ""
    type_a_line(typist)
    assert "invoice" in leaf_of(typist).document()["papers"]


def test_an_invoice_said_not_to_be_wanted_stays_so_and_is_mentioned(typist: Typist) -> None:
    type_a_line(typist)
    assert not any("no invoice" in one for one in left(typist))
    field(typist, "papers.invoice").answer("no")
    take_up_again(typist)
    assert field(typist, "papers.invoice").text() == "no"
    leaf_of(typist).judge()
    (mention,) = (one for one in leaf_of(typist).left if one.text.startswith("no invoice"))
    assert mention.text == "no invoice of the £93.60"
    assert mention.field is field(typist, "papers.invoice")
    assert not mention.holds_up
