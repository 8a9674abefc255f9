from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.domain.quantities import QUANTITIES

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper

pytestmark = pytest.mark.usefixtures("keeper")


def page(qtbot: QtBot) -> tuple[QWidget, NumberField, NumberField]:
    whole = QWidget()
    first = NumberField("slip.0.o2_pct", QUANTITIES["o2_pct"])
    second = NumberField("slip.0.co_ppm", QUANTITIES["co_ppm"])
    column = QVBoxLayout(whole)
    column.addWidget(first)
    column.addWidget(second)
    qtbot.addWidget(whole)
    with qtbot.waitActive(whole):
        whole.show()
        whole.activateWindow()
    first.setFocus()
    return whole, first, second


def test_typing_tells_every_change_and_enter_moves_on(qtbot: QtBot) -> None:
    _whole, first, second = page(qtbot)
    said: list[str] = []
    first.edited.connect(said.append)
    qtbot.keyClicks(first.edit, "4.8")
    qtbot.keyClick(first.edit, Qt.Key.Key_Return)
    assert said == ["4", "4.", "4.8"]
    assert first.value() == Decimal("4.8")
    assert second.edit.hasFocus()
    assert not first.fault()


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ("4,8", "did you mean 4.8?"),
        ("five", "“five”"),
        ("1.2.3", "“1.2.3”"),
        ("26", "0 to 25 %"),
        ("-1", "0 to 25 %"),
        ("🙂", "“🙂”"),
        ("٤", "“٤”"),
        ("4 ppm", "“4 ppm”"),
    ],
)
def test_what_is_not_accepted_is_kept_and_said_without_taking_the_focus(
    qtbot: QtBot, typed: str, part: str
) -> None:
    _whole, first, second = page(qtbot)
    first.edit.insert(typed)  # as pasted: Qt's own test keys know no letter beyond ASCII
    qtbot.keyClick(first.edit, Qt.Key.Key_Tab)
    assert part in first.fault()
    assert first.message.isVisible()
    assert first.text() == typed
    assert first.value() is None
    assert second.edit.hasFocus()
    assert first.edit.accessibleDescription() == first.fault()


def test_the_message_goes_as_soon_as_the_text_is_right(qtbot: QtBot) -> None:
    _whole, first, _second = page(qtbot)
    first.set_text("4,8")
    assert first.fault()
    first.edit.selectAll()
    qtbot.keyClicks(first.edit, "4.8")
    assert not first.fault()
    assert not first.message.isVisible()


def test_the_own_unit_may_be_typed(qtbot: QtBot) -> None:
    _whole, first, second = page(qtbot)
    qtbot.keyClicks(first.edit, "4.8 %")
    qtbot.keyClicks(second.edit, "61ppm")
    assert (first.value(), second.value()) == (Decimal("4.8"), Decimal(61))


def test_an_empty_field_is_no_fault_and_no_value(qtbot: QtBot) -> None:
    _whole, first, _second = page(qtbot)
    qtbot.keyClick(first.edit, Qt.Key.Key_Return)
    assert first.value() is None
    assert not first.fault()


def test_a_pasted_book_is_cut(qtbot: QtBot) -> None:
    _whole, first, _second = page(qtbot)
    first.edit.insert("9" * 10_000_000)
    assert len(first.text()) == 60
    assert not first.check()


def test_the_control_is_high_enough_at_every_scale(qtbot: QtBot, keeper: ThemeKeeper) -> None:
    whole, first, _second = page(qtbot)
    assert first.edit.height() >= 28
    at_first = first.edit.width()
    keeper.set_scale(2.0)
    qtbot.waitUntil(lambda: first.edit.width() == 2 * at_first, timeout=60_000)
    whole.adjustSize()
    assert first.edit.sizeHint().height() >= 56


def test_the_name_is_spoken_with_its_unit(qtbot: QtBot) -> None:
    _whole, first, _second = page(qtbot)
    edit = first.findChild(QLineEdit, "slip.0.o2_pct.edit")
    assert edit is first.edit
    assert first.edit.accessibleName() == "O2 %"


def test_figures_keep_their_width_and_grow_with_the_text(qtbot: QtBot, keeper: ThemeKeeper) -> None:
    _whole, first, _second = page(qtbot)
    before_px = first.edit.font().pixelSize()
    keeper.set_scale(2.0)
    keeper.other_scheme()
    assert first.edit.font().pixelSize() == 2 * before_px
    assert [bytes(tag.toString()) for tag in first.edit.font().featureTags()] == [b"tnum"]
