from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLabel, QPushButton

from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.section import NARROW_PX, Section

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("keeper")


def shown(qtbot: QtBot, width: int) -> tuple[Section, TextField, QLabel]:
    section = Section("gas supply", "1 left")
    field = TextField("supply.note", "note")
    section.add_row(field)
    section.add_fact("meter", "in the porch")
    qtbot.addWidget(section)
    section.resize(width, 300)
    with qtbot.waitExposed(section):
        section.show()
    words = next(one for one in section.findChildren(QLabel) if one.text() == "note")
    return section, field, words


def test_a_label_stands_before_its_field(qtbot: QtBot) -> None:
    section, field, words = shown(qtbot, 600)
    assert words.mapTo(section, QPoint(words.width(), 0)).x() <= field.mapTo(section, QPoint()).x()
    assert words.buddy() is field.edit


def test_a_label_stands_above_its_field_where_it_is_narrow(qtbot: QtBot) -> None:
    section, field, words = shown(qtbot, NARROW_PX - 60)
    qtbot.waitUntil(
        lambda: words.mapTo(section, QPoint(0, words.height())).y() <= field.y() + 1, timeout=60_000
    )
    section.resize(600, 300)
    qtbot.waitUntil(lambda: words.x() < field.x(), timeout=60_000)


def test_the_state_word(qtbot: QtBot) -> None:
    section, _, _ = shown(qtbot, 600)
    assert section.state == "1 left"
    section.set_state("complete")
    assert section.state == "complete"
    section.set_caution("Smell of gas: stop, ventilate, turn off.")
    assert any("Smell of gas" in one.text() and one.isVisible() for one in section.findChildren(QLabel))


def test_buttons_begin_a_new_line_where_they_must(qtbot: QtBot) -> None:
    section, _, _ = shown(qtbot, 600)
    buttons = [QPushButton(f"A button number {number}") for number in range(4)]
    section.add_buttons(*buttons)
    qtbot.waitUntil(lambda: buttons[0].isVisible() and buttons[0].width() > 50, timeout=60_000)
    section.resize(250, 500)
    qtbot.waitUntil(lambda: len({one.y() for one in buttons}) > 1, timeout=60_000)
    assert all(one.x() + one.width() <= 250 for one in buttons)
