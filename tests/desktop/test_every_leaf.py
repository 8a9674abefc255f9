"""Walks through every leaf there is: names, sizes, the way of the Tab key, and nothing cut off."""

from __future__ import annotations

import datetime as dt
import itertools
import pkgutil
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QRadioButton,
    QWidget,
)

from flueleaf.desktop import leaves
from flueleaf.desktop.place import Place
from flueleaf.domain.money.lines import Line
from flueleaf.operations import bills, drafting, pages
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.leaf import Leaf
    from flueleaf.desktop.window import MainWindow

# What a leaf shows, where that is not something new.
SHOWN = {
    "premises": Place("premises", "1"),
    "appliance": Place("appliance", "1"),
    "customer_form": Place("customer_form", "1"),
    "premises_form": Place("premises_form", "1"),
    "appliance_form": Place("appliance_form", "1"),
    "instrument_form": Place("instrument_form", "1"),
    "limit_form": Place("limit_form", "oil_firing.flue_smoke"),
    "payment": Place("payment", "I-2026-0001"),
    "quote_invoice": Place("quote_invoice", "Q-2026-0001"),
    "visit_invoice": Place("visit_invoice", "7f0e1d2c-3b4a-4958-8776-655443322110"),
}
ISSUED = dt.datetime(2026, 11, 25, 20, 15, tzinfo=dt.UTC)
NAMES = sorted(
    module.name.removesuffix("_leaf")
    for module in pkgutil.iter_modules(leaves.__path__)
    if module.name.endswith("_leaf")
)
EVERY_LEAF = pytest.mark.parametrize("name", NAMES)
ROOMS = pytest.mark.parametrize(
    ("size", "scale"), [((1280, 800), 1.0), ((1024, 700), 1.0), ((1280, 800), 2.0), ((1024, 700), 2.0)]
)
CONTROLS = (QLineEdit, QPlainTextEdit, QAbstractButton, QAbstractItemView)
SMALLEST_PX = 24  # WCAG 2.2, success criterion 2.5.8, target size (minimum)


@pytest.fixture(autouse=True)
def quote_number(window: MainWindow) -> str:
    """An open quote for the premises shown."""
    book = window.desk.book
    page = pages.premises_page(book, 1)
    line = Line("Service", Decimal(1), "each", Decimal("78.00"), vat_pct=Decimal(20))
    return bills.issue_quote(book, page.customer, page.premises, [line], issued_at=ISSUED).number


@pytest.fixture(autouse=True)
def uninvoiced(window: MainWindow) -> None:
    """A visit that was signed off without its invoice, elsewhere."""
    document = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"), name="evening.json")
    elsewhere = {"address": ["2 Dock Street"], "postcode": "QX1 1AA"}
    document |= {
        "visit_id": "7f0e1d2c-3b4a-4958-8776-655443322110",
        "papers": ["commissioning record"],
        "premises": elsewhere,
    }
    drafting.sign_off(window.desk.book, document, issued_at=ISSUED, today=ISSUED.date())


@pytest.fixture
def paper_number(window: MainWindow) -> str:
    row = window.desk.book.con.execute("SELECT number FROM sealed_paper ORDER BY number").fetchone()
    return str(row[0])


def opened(window: MainWindow, name: str, number: str) -> Leaf:
    place = Place("paper", number) if name == "paper" else SHOWN.get(name, Place(name))
    window.go(place)
    assert window.leaf is not None
    assert window.leaf.place.leaf == name, window.notice
    return window.leaf


def controls(leaf: QWidget) -> list[QWidget]:
    found = [w for w in leaf.findChildren(QWidget) if isinstance(w, CONTROLS) and w.isVisible()]
    return [w for w in found if w.isEnabled() and not isinstance(w, QHeaderView)]


def works_by_keyboard(control: QWidget) -> bool:
    """Tell whether keys reach it; of several words in a row, one is enough."""
    if isinstance(control, QRadioButton):
        group = control.group()
        assert group is not None
        return any(button.focusPolicy() & Qt.FocusPolicy.TabFocus for button in group.buttons())
    return bool(control.focusPolicy() & Qt.FocusPolicy.TabFocus)


def test_the_leaves_are_found() -> None:
    assert {"tonight", "premises", "appliance", "paper", "business_form"} <= set(NAMES)


@EVERY_LEAF
def test_every_control_has_a_name_and_is_large_enough(
    window: MainWindow, name: str, paper_number: str
) -> None:
    leaf = opened(window, name, paper_number)
    assert leaf.title
    found = controls(leaf)
    assert found
    for control in found:
        assert control.accessibleName(), control.objectName()
        assert control.objectName()
        least = 28 if isinstance(control, QLineEdit) else SMALLEST_PX
        assert control.height() >= least, control.objectName()
        assert control.width() >= SMALLEST_PX, control.objectName()
        if not isinstance(control, QAbstractItemView):
            assert works_by_keyboard(control), control.objectName()


@EVERY_LEAF
def test_tab_reaches_every_control_in_the_order_read(
    qtbot: QtBot, window: MainWindow, name: str, paper_number: str
) -> None:
    leaf = opened(window, name, paper_number)
    qtbot.waitUntil(lambda: not cut_off(leaf), timeout=60_000)  # laid out: below, places are compared
    wanted = {c for c in controls(leaf) if c.focusPolicy() & Qt.FocusPolicy.TabFocus}
    assert wanted
    seen: list[QWidget] = []
    for _ in range(len(wanted) + 40):
        focused = QApplication.focusWidget()
        assert focused is not None
        if focused in seen:
            break
        seen.append(focused)
        QTest.keyClick(focused, Qt.Key.Key_Tab)
    assert {control.objectName() for control in wanted - set(seen)} == set()
    inside = [control for control in seen if leaf.isAncestorOf(control)]
    # The control opened on need not be the first of the page; from there it goes down, and round once.
    tops = [
        control.mapTo(leaf, QPoint()).y() + leaf.scroll_area.verticalScrollBar().value() for control in inside
    ]
    turns = sum(later + 4 < earlier for earlier, later in itertools.pairwise(tops))
    assert turns <= 1


@ROOMS
@EVERY_LEAF
def test_no_text_is_cut_off(
    qtbot: QtBot, window: MainWindow, name: str, paper_number: str, size: tuple[int, int], scale: float
) -> None:
    window.keeper.set_scale(scale)
    window.resize(*size)
    leaf = opened(window, name, paper_number)
    QApplication.sendPostedEvents()  # what the layouts still have to do
    qtbot.waitUntil(lambda: leaf.scroll_area.viewport().width() > 0, timeout=60_000)
    assert settled(qtbot, leaf) == []
    assert window.size().toTuple() == size


def test_a_text_that_is_cut_off_is_seen(qtbot: QtBot, window: MainWindow) -> None:
    leaf = opened(window, "premises", "")
    title = next(text for text in leaf.findChildren(QLabel) if text.text() == leaf.title)
    qtbot.waitUntil(lambda: not cut_off(leaf), timeout=60_000)
    title.setFixedSize(90, 20)
    assert any(leaf.title in fault for fault in cut_off(leaf))


def settled(qtbot: QtBot, leaf: Leaf) -> list[str]:
    """Return what is still cut off once the layouts have come to rest."""
    seen = [cut_off(leaf)]

    def at_rest() -> bool:
        seen.append(cut_off(leaf))
        return not seen[-1] or (len(seen) > 20 and seen[-1] == seen[-2])

    qtbot.waitUntil(at_rest, timeout=60_000)
    return seen[-1]


def cut_off(leaf: Leaf) -> list[str]:
    """Return the texts of a leaf that do not fit where they stand."""
    faults = []
    page = leaf.scroll_area.widget()
    assert page is not None
    for text in leaf.findChildren(QLabel):
        if not text.isVisible() or not text.text() or not page.isAncestorOf(text):
            continue
        room = text.contentsRect()
        needed = text.heightForWidth(text.width()) if text.wordWrap() else text.sizeHint().height()
        if needed > text.height() + 1:
            faults.append(f"too low: {text.text()}")
        if not text.wordWrap() and text.sizeHint().width() > text.width() + 1:
            faults.append(f"too narrow: {text.text()}")
        if not QRect(QPoint(), page.size()).contains(QRect(text.mapTo(page, room.topLeft()), room.size())):
            faults.append(f"outside: {text.text()}")
    for control in controls(leaf):
        if page.isAncestorOf(control) and control.mapTo(page, QPoint(control.width(), 0)).x() > page.width():
            faults.append(f"outside: {control.objectName()}")
    if page.width() > leaf.scroll_area.viewport().width():
        faults.append("wider than the window")
    return faults
