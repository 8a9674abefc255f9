"""What nobody should type, pasted into every line of the real forms: said there, kept, and never a crash."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from tests.desktop.fields.test_bad_input import BAD

from flueleaf.desktop.fields.field import shortened
from flueleaf.desktop.fields.line_field import LONGEST_CHARACTERS, LineField
from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.leaves.business_form_leaf import BusinessForm
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.sample.sample_panel import NOTE
from flueleaf.domain.records.register import CustomerId
from flueleaf.operations import book as books
from flueleaf.operations import register

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

PLACES = {
    place.leaf: place
    for place in (
        Place("first"),
        Place("business_form", "own"),
        Place("customer_form", "1"),
        Place("premises_form", "1"),
        Place("appliance_form", "1"),
        Place("instrument_form", "1"),
    )
}
FORMS = pytest.mark.parametrize("place", PLACES.values(), ids=PLACES)
# What is kept to the letter where words belong, and refused where a figure does.
WORDS = {key: BAD[key] for key in ("words", "two marks", "a page", "emoji", "right to left")}
REFUSED = {**WORDS, "ten megabytes": "Dear Mrs Penhallow, " * 500_000}
FIGURES = {
    "number": (PLACES["appliance_form"], "limits.co_ppm"),
    "date": (PLACES["appliance_form"], "installed"),
    "money": (Place("payment", "I-2026-0001"), "amount"),
}
CUSTOMER = PLACES["customer_form"]
BOOK_TEXTS = ("business", "customer", "premises", "appliance", "instrument", "payment")


def form(window: MainWindow, place: Place) -> FormLeaf:
    window.go(place)
    assert isinstance(window.leaf, FormLeaf), window.notice
    return window.leaf


def lines(leaf: FormLeaf) -> dict[str, LineField]:
    return {name: field for name, field in leaf.fields.items() if isinstance(field, LineField)}


def paste_into_all(leaf: FormLeaf, text: str) -> dict[str, str]:
    for field in lines(leaf).values():
        put_into(field, text)
    return {name: field.text() for name, field in lines(leaf).items()}


def book_texts(window: MainWindow) -> list[list[tuple[object, ...]]]:
    con = window.desk.book.con
    return [[tuple(row) for row in con.execute(f"SELECT * FROM {table}")] for table in BOOK_TEXTS]


@FORMS
@pytest.mark.parametrize("bad", ["NUL", "control", "turned round"])
def test_what_no_paper_can_carry_never_reaches_the_book(window: MainWindow, place: Place, bad: str) -> None:
    leaf = form(window, place)
    before = book_texts(window)
    typed = paste_into_all(leaf, BAD[bad])
    leaf.keep_all()
    assert window.leaf is leaf
    assert {name: field.text() for name, field in lines(leaf).items()} == typed
    assert all(field.fault() for field in lines(leaf).values())
    assert "not kept yet" in window.notice
    assert next(iter(lines(leaf).values())).label in window.notice
    assert book_texts(window) == before


@FORMS
@pytest.mark.parametrize("bad", BAD.values(), ids=BAD)
def test_a_form_left_with_it_is_there_again(window: MainWindow, place: Place, bad: str) -> None:
    typed = paste_into_all(form(window, place), bad)
    window.go(TONIGHT)
    assert window.leaf is not None
    assert window.leaf.place == TONIGHT
    again = lines(form(window, place))
    assert {name: again[name].text() for name in typed} == {
        name: _completed(again[name], text) for name, text in typed.items()
    }


@FORMS
def test_ten_megabytes_are_cut(window: MainWindow, place: Place) -> None:
    typed = paste_into_all(form(window, place), "Dear Mrs Penhallow, " * 500_000)
    assert all(0 < len(text) <= LONGEST_CHARACTERS for text in typed.values())
    assert window.close()
    kept = window.desk.book.con.execute("SELECT payload FROM draft WHERE kind = 'form'").fetchall()
    assert len(kept) == 1
    assert len(kept[0][0]) < 2 * LONGEST_CHARACTERS * len(typed) + 10_000


@FORMS
def test_closing_the_window_in_the_middle_of_a_number_keeps_it(window: MainWindow, place: Place) -> None:
    leaf = form(window, place)
    name, field = list(lines(leaf).items())[-1]
    field.edit.setFocus()
    field.edit.clear()
    QTest.keyClicks(field.edit, "4.")
    assert window.close()
    payload = window.desk.book.con.execute("SELECT payload FROM draft WHERE kind = 'form'").fetchone()[0]
    assert f'"{name}": "4."' in payload


@pytest.mark.parametrize("bad", REFUSED.values(), ids=REFUSED)
@pytest.mark.parametrize(("place", "name"), FIGURES.values(), ids=FIGURES)
def test_what_is_no_figure_is_said_at_its_field_when_that_is_left(
    window: MainWindow, place: Place, name: str, bad: str
) -> None:
    leaf = form(window, place)
    before = book_texts(window)
    field = leaf.fields[name]
    assert isinstance(field, LineField)
    typed = put_into(field, bad)
    assert typed.strip()
    QTest.keyClick(field.edit, Qt.Key.Key_Tab)
    assert not field.edit.hasFocus()
    assert is_said(field)
    assert field.text() == typed
    leaf.keep_all()
    assert window.leaf is leaf
    assert field.edit.hasFocus()
    assert is_said(field)
    assert field.text() == typed
    assert book_texts(window) == before


@pytest.mark.parametrize("bad", ["words", "emoji", "right to left"])
def test_words_of_any_script_are_kept_to_the_letter(window: MainWindow, bad: str) -> None:
    leaf = form(window, CUSTOMER)
    assert put_into(lines(leaf)["name"], BAD[bad]) == BAD[bad]
    leaf.keep_all()
    assert register.customer(window.desk.book, CustomerId(1)).name == BAD[bad]


@pytest.mark.parametrize("bad", ["a page", "ten megabytes"])
def test_what_is_too_long_for_a_name_is_said_there(window: MainWindow, bad: str) -> None:
    leaf = form(window, CUSTOMER)
    before = book_texts(window)
    typed = put_into(lines(leaf)["name"], REFUSED[bad])
    leaf.keep_all()
    assert window.leaf is leaf
    assert is_said(lines(leaf)["name"])
    assert "at most 200 characters" in lines(leaf)["name"].fault()
    assert lines(leaf)["name"].text() == typed
    assert book_texts(window) == before


@pytest.mark.parametrize("bad", WORDS.values(), ids=WORDS)
def test_a_long_text_of_any_script_stands_on_the_sample(qtbot: QtBot, window: MainWindow, bad: str) -> None:
    leaf = form(window, Place("business_form", "own"))
    assert isinstance(leaf, BusinessForm)
    field = leaf.fields["invoice_text"]
    assert isinstance(field, LineField)
    typed = put_into(field, bad)
    qtbot.waitUntil(lambda: not leaf.panel.busy and not leaf.panel.view.image.isNull(), timeout=60_000)
    assert leaf.panel.words.text() == NOTE
    leaf.keep_all()
    assert books.business(window.desk.book).invoice_text == typed.strip()


def put_into(field: LineField, text: str) -> str:
    """Paste a text in place of what stands in a field; returns what stands there then."""
    QGuiApplication.clipboard().setText(text)
    field.edit.setFocus()
    field.edit.selectAll()
    QTest.keyClick(field.edit, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    return field.text()


def is_said(field: LineField) -> bool:
    """Tell whether a message about what stands in a field is seen under it, and read out with it."""
    said = field.fault()
    shown = field.message.isVisible() and field.message.text() == said
    return shortened(field.text()) in said and shown and field.edit.accessibleDescription() == said


def _completed(field: LineField, text: str) -> str:
    """Return what stands in a field that was left: a choice is completed, idle blanks go from it."""
    return text if field.text() == text else " ".join(text.split())
