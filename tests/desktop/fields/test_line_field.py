from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QLineEdit

from flueleaf.desktop.fields.line_field import LONGEST_CHARACTERS, TextField

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("keeper")


def test_text_is_kept_as_typed(qtbot: QtBot) -> None:
    field = TextField("customer.name", "name")
    qtbot.addWidget(field)
    text = "  \u05e2\u05dc\u05d9\u05d6\u05d4 14 \u2014 \u200fO’Hara  "
    field.set_text(text)
    assert field.text() == text
    assert not field.fault()


def test_ten_megabytes_and_line_ends_are_taken_as_one_short_line(qtbot: QtBot) -> None:
    field = TextField("customer.name", "name")
    qtbot.addWidget(field)
    field.edit.insert("page\n" * 2_000_000)
    assert len(field.text()) == LONGEST_CHARACTERS


def test_filling_in_tells_nobody(qtbot: QtBot) -> None:
    field = TextField("customer.name", "name")
    qtbot.addWidget(field)
    with qtbot.assertNotEmitted(field.edited):
        field.set_text("Ines Dunnaker")


def test_a_fault_is_shown_under_the_field_and_taken_away(qtbot: QtBot) -> None:
    field = TextField("customer.name", "name")
    qtbot.addWidget(field)
    field.show()
    field.set_fault("This is needed.")
    assert field.message.isVisible()
    assert field.edit.property("faulty") is True
    assert field.edit.accessibleDescription() == "This is needed."
    field.set_fault("")
    assert not field.message.isVisible()
    assert field.edit.property("faulty") is False


def test_leaving_is_told(qtbot: QtBot) -> None:
    field, other = TextField("a", "a"), QLineEdit()
    qtbot.addWidget(other)
    qtbot.addWidget(field)
    with qtbot.waitActive(field):
        field.show()
        field.activateWindow()
    field.setFocus()
    with qtbot.waitSignal(field.left):
        field.edit.clearFocus()
