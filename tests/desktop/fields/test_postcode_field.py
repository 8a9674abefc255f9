from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.fields.postcode_field import PostcodeField, spelt

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.mark.parametrize("typed", ["qx3 1ab", "QX31AB", " qx3  1ab ", "Qx3 1aB"])
def test_a_postcode_is_spelt_in_capitals_with_one_blank(typed: str) -> None:
    assert spelt(typed) == "QX3 1AB"


@pytest.mark.parametrize("typed", ["", "qx3", "d-12345", "qx3 1abc", "3 mill lane", "qx٣ 1ab"])
def test_what_has_another_shape_stays(typed: str) -> None:
    assert spelt(typed) == typed


@pytest.mark.usefixtures("keeper")
def test_it_is_respelt_on_leaving_and_said(qtbot: QtBot) -> None:
    field = PostcodeField("postcode", "postcode")
    qtbot.addWidget(field)
    qtbot.keyClicks(field.edit, "qx3 1ab")
    assert field.text() == "qx3 1ab"
    with qtbot.waitSignal(field.edited) as said:
        assert field.check()
    assert said.args == ["QX3 1AB"]
    assert field.text() == "QX3 1AB"


@pytest.mark.usefixtures("keeper")
def test_what_a_book_holds_is_not_respelt_by_a_look(qtbot: QtBot) -> None:
    field = PostcodeField("postcode", "postcode")
    qtbot.addWidget(field)
    field.set_text("qx3 1ab")
    with qtbot.assertNotEmitted(field.edited):
        assert field.check()
    assert field.text() == "qx3 1ab"
