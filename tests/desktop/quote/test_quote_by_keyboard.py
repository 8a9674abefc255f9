"""A quote from the first key to the invoice that names it, by keys alone."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QLabel
from tests.desktop.visit.conftest import TODAY, bare, bare_desk, evening
from tests.desktop.visit.typist import Typist, type_lines, type_people, type_works

from flueleaf.desktop.leaves.paper_leaf import PaperLeaf
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.visit.signed_visit import SignedVisitLeaf
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.window import MainWindow
from flueleaf.storage import money, papers

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.storage.book import Book

__all__ = ["bare", "bare_desk", "evening"]  # fixtures

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
QUOTE = "Q-2026-0001"


@pytest.fixture
def typist(bare_desk: Desk, keeper: ThemeKeeper, tmp_path: Path, qtbot: QtBot) -> Typist:
    """The window on a book in which nobody is known."""
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(bare_desk, keeper, settings)
    qtbot.addWidget(window)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    return Typist(window)


def text_of(typist: Typist, name: str) -> str:
    assert typist.window.leaf is not None
    found = typist.window.leaf.findChild(QLabel, name)
    assert found is not None
    return found.text() if not found.isHidden() else ""


def test_a_typed_quote_becomes_the_invoice_of_the_visit(
    typist: Typist, bare: Book, evening: dict[str, Any], qtbot: QtBot
) -> None:
    window = typist.window
    typist.press(Qt.Key.Key_N, CTRL | SHIFT)
    type_people(typist, evening)
    type_lines(typist, evening["lines"])
    typist.press(Qt.Key.Key_Return, CTRL)
    qtbot.waitUntil(lambda: isinstance(window.leaf, PaperLeaf), timeout=60_000)
    assert window.leaf is not None
    assert window.leaf.place == Place("paper", QUOTE)
    quote = money.quote(bare.con, QUOTE)
    assert len(quote.lines) == len(evening["lines"])

    typist.press(Qt.Key.Key_N, CTRL)
    typist.write("95 Rope")
    typist.press(Qt.Key.Key_Down)
    typist.enter()
    type_works(typist, evening)
    assert QUOTE in text_of(typist, "quote.said")
    typist.press(Qt.Key.Key_Q, CTRL | SHIFT)
    assert text_of(typist, "quote.said").startswith(f"from quote {QUOTE}")
    assert text_of(typist, "quote.note") == ""
    typist.type_at("sign_off.customer_name", evening["sign_off"]["customer_name"])
    typist.choose("sign_off.customer", "s")
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    typist.press(Qt.Key.Key_Return, CTRL)
    qtbot.waitUntil(lambda: isinstance(window.leaf, SignedVisitLeaf), timeout=60_000)

    invoice = next(one.number for one in papers.all_papers(bare.con) if one.kind == "invoice")
    facts = json.loads(papers.body(bare.con, invoice)[0])
    assert facts["quote_number"] == QUOTE
    assert money.invoice(bare.con, invoice).total == quote.total
    assert money.quote(bare.con, QUOTE).accepted_on == TODAY

    # It is used up: another visit is not offered it, and it makes no invoice of its own.
    typist.press(Qt.Key.Key_N, CTRL)
    typist.write("95 Rope")
    typist.press(Qt.Key.Key_Down)
    typist.enter()
    typist.press(Qt.Key.Key_Q, CTRL | SHIFT)
    assert window.notice == "There is no open quote for these premises."
    window.go(Place("quote_invoice", QUOTE))
    assert window.notice == f"Quote {QUOTE} was invoiced already."


def test_who_goes_elsewhere_while_a_quote_is_sealed_stays_there(
    typist: Typist, evening: dict[str, Any], qtbot: QtBot
) -> None:
    window = typist.window
    typist.press(Qt.Key.Key_N, CTRL | SHIFT)
    type_people(typist, evening)
    type_lines(typist, evening["lines"])
    with qtbot.waitSignal(window.desk.hub.changed, timeout=60_000):
        typist.press(Qt.Key.Key_Return, CTRL)
        window.go(TONIGHT)
    assert window.leaf is not None
    assert window.leaf.place == TONIGHT
