"""What nobody should type, put into a visit: said at the field, kept in the draft, never a crash."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from tests.desktop.fields.test_bad_input import BAD
from tests.desktop.test_bad_input import REFUSED, is_said, put_into
from tests.desktop.visit.typist import Typist, field, go, leaf_of

from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.place import TONIGHT
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from flueleaf.desktop.desk import Desk

FIGURES = {
    "number": "works.0.slips.0.o2_pct",
    "date": "date",
    "time": "arrived",
    "money": "lines.0.unit_price",
}
TEXTS = {"text": "sign_off.customer_name", "long text": "lines.0.text"}


def line(typist: Typist, name: str) -> LineField:
    found = field(typist, name)
    assert isinstance(found, LineField)
    return found


def leave_and_come_back(typist: Typist) -> None:
    window, place = typist.window, leaf_of(typist).place
    window.go(TONIGHT)
    assert window.leaf is not None
    assert window.leaf.place == TONIGHT
    window.go(place)
    typist.rest()


@pytest.mark.parametrize("bad", REFUSED.values(), ids=REFUSED)
@pytest.mark.parametrize("name", FIGURES.values(), ids=FIGURES)
def test_what_is_no_figure_is_said_at_its_field_and_kept(typist: Typist, name: str, bad: str) -> None:
    go(typist, name)
    typed = put_into(line(typist, name), bad)
    typist.press(Qt.Key.Key_Tab)
    assert line(typist, name).text() == typed
    assert is_said(line(typist, name))
    leave_and_come_back(typist)
    go(typist, name)
    assert line(typist, name).text() == typed.strip()
    assert is_said(line(typist, name))


@pytest.mark.parametrize("bad", ["words", "emoji", "right to left"])
@pytest.mark.parametrize("name", TEXTS.values(), ids=TEXTS)
def test_words_of_any_script_are_kept(typist: Typist, name: str, bad: str) -> None:
    go(typist, name)
    typed = put_into(line(typist, name), BAD[bad])
    typist.press(Qt.Key.Key_Tab)
    assert not line(typist, name).fault()
    leave_and_come_back(typist)
    assert line(typist, name).text() == typed.strip()


@pytest.mark.parametrize("bad", ["NUL", "control", "turned round", "a page"])
def test_words_no_paper_can_carry_are_said_at_their_field(typist: Typist, bad: str) -> None:
    go(typist, TEXTS["text"])
    put_into(line(typist, TEXTS["text"]), BAD[bad])
    typist.press(Qt.Key.Key_Tab)
    assert is_said(line(typist, TEXTS["text"]))


@pytest.mark.parametrize("name", [*FIGURES.values(), *TEXTS.values()], ids=[*FIGURES, *TEXTS])
def test_closing_the_window_half_typed_keeps_it(typist: Typist, desk: Desk, name: str) -> None:
    visit_id = leaf_of(typist).document()["visit_id"]
    go(typist, name)
    line(typist, name).edit.selectAll()
    typist.write("4,")
    assert typist.window.close()
    assert "'4,'" in str(drafting.load(desk.book, visit_id))
