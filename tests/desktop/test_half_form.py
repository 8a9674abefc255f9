"""A form left half typed is there again; once kept, or left on purpose, it is as the book has it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.half_form import TAKEN_UP
from flueleaf.desktop.place import Place
from flueleaf.operations import pages

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier
CUSTOMER = Place("customer_form", "1")


def form(window: MainWindow) -> FormLeaf:
    assert isinstance(window.leaf, FormLeaf)
    return window.leaf


def type_telephone(window: MainWindow) -> Typist:
    window.go(CUSTOMER)
    typist = Typist(window)
    typist.reach("telephone")
    typist.write("07700 900")
    return typist


def test_going_away_in_the_middle_loses_nothing(window: MainWindow) -> None:
    before = pages.premises_page(window.desk.book, 1).customer.telephone
    type_telephone(window).press(Qt.Key.Key_T, CTRL)
    window.go(CUSTOMER)
    QTest.qWait(0)
    assert form(window).fields["telephone"].text() == "07700 900"
    assert window.notice == TAKEN_UP
    assert pages.premises_page(window.desk.book, 1).customer.telephone == before


def test_leaving_without_keeping_forgets(window: MainWindow) -> None:
    window.go(CUSTOMER)
    before = form(window).fields["telephone"].text()
    typist = type_telephone(window)
    typist.press(Qt.Key.Key_T, CTRL)
    window.go(CUSTOMER)
    typist.press(Qt.Key.Key_W, CTRL)
    window.go(CUSTOMER)
    assert form(window).fields["telephone"].text() == before


def test_what_is_kept_is_no_draft_any_more(window: MainWindow) -> None:
    typist = type_telephone(window)
    typist.write("123")
    typist.press(Qt.Key.Key_Return, CTRL)
    assert pages.premises_page(window.desk.book, 1).customer.telephone == "07700 900123"
    rows = window.desk.book.con.execute("SELECT count(*) FROM draft WHERE kind = 'form'").fetchone()
    assert rows[0] == 0


def test_typing_back_to_how_it_was_leaves_no_draft(window: MainWindow) -> None:
    window.go(Place("customer_form"))
    typist = Typist(window)
    typist.write("A")
    form(window).leaving()
    typist.press(Qt.Key.Key_Backspace)
    form(window).leaving()
    rows = window.desk.book.con.execute("SELECT count(*) FROM draft").fetchone()
    assert rows[0] == 0


def test_the_cursor_is_where_it_was(window: MainWindow) -> None:
    typist = type_telephone(window)
    for _ in range(3):
        typist.press(Qt.Key.Key_Left)
    typist.press(Qt.Key.Key_T, CTRL)
    window.go(CUSTOMER)
    QTest.qWait(0)
    typist.write("1")
    assert form(window).fields["telephone"].text() == "07700 1900"


def test_undo_and_redo_go_over_the_fields(window: MainWindow) -> None:
    typist = type_telephone(window)
    leaf = form(window)
    mail, before = leaf.fields["email"].text(), "07700 900"
    typist.reach("email")
    typist.write("ines@dunnaker.example")
    typist.press(Qt.Key.Key_Z, CTRL)
    assert (leaf.fields["email"].text(), leaf.fields["telephone"].text()) == (mail, before)
    assert leaf.fields["email"].control().hasFocus()
    typist.press(Qt.Key.Key_Z, CTRL)
    assert leaf.fields["telephone"].text() != before
    assert leaf.fields["telephone"].control().hasFocus()
    typist.press(Qt.Key.Key_Z, CTRL)
    assert "nothing to take back" in window.notice
    for _ in range(2):
        typist.press(Qt.Key.Key_Y, CTRL)
    assert (leaf.fields["email"].text(), leaf.fields["telephone"].text()) == ("ines@dunnaker.example", before)


def test_what_was_undone_is_no_draft(window: MainWindow) -> None:
    typist = type_telephone(window)
    typist.press(Qt.Key.Key_Z, CTRL)
    form(window).leaving()
    rows = window.desk.book.con.execute("SELECT count(*) FROM draft WHERE kind = 'form'").fetchone()
    assert rows[0] == 0
