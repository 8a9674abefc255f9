"""Enter and Tab in an open list of offers take the offer and go on by one field, never by two."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.offer_field import Offer, OfferField

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.fields.line_field import LineField

pytestmark = pytest.mark.usefixtures("keeper")
KINDS = ("back boiler", "condensing boiler", "oil boiler", "gas fire")


def kind_choice() -> ChoiceField:
    return ChoiceField("kind", "kind", KINDS)


def kind_offer() -> OfferField:
    return OfferField(
        "kind", "kind", lambda text: [Offer(f"{kind}, known", kind, kind) for kind in KINDS if text in kind]
    )


def beside(qtbot: QtBot, field: LineField) -> tuple[QWidget, LineField, LineField]:
    """Return a shown page with the field before two others."""
    page = QWidget()
    following = TextField("make", "make"), TextField("model", "model")
    column = QVBoxLayout(page)
    for one in (field, *following):
        column.addWidget(one)
    qtbot.addWidget(page)
    page.show()
    page.activateWindow()
    field.edit.setFocus()
    qtbot.waitUntil(field.edit.hasFocus)
    return page, *following


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab], ids=["Enter", "Tab"])
@pytest.mark.parametrize("make", [kind_choice, kind_offer])
def test_a_walked_to_offer_is_taken_and_the_next_field_reached(
    qtbot: QtBot, make: Callable[[], LineField], key: Qt.Key
) -> None:
    field = make()
    _page, following, _last = beside(qtbot, field)
    qtbot.keyClicks(field.edit, "boil")
    popup = field.edit.completer().popup()
    qtbot.waitUntil(popup.isVisible)
    for _ in range(2):
        qtbot.keyClick(popup, Qt.Key.Key_Down)
    qtbot.keyClick(popup, key)
    qtbot.waitUntil(lambda: not popup.isVisible() and not field.edit.hasFocus())
    QApplication.processEvents()
    assert field.text() == "condensing boiler"
    assert following.edit.hasFocus()
    assert not field.edit.hasSelectedText()


def test_enter_with_nothing_walked_to_leaves_the_text_as_it_was_typed(qtbot: QtBot) -> None:
    field = kind_offer()
    _page, following, _last = beside(qtbot, field)
    qtbot.keyClicks(field.edit, "boil")
    popup = field.edit.completer().popup()
    qtbot.waitUntil(popup.isVisible)
    qtbot.keyClick(popup, Qt.Key.Key_Return)
    qtbot.waitUntil(following.edit.hasFocus)
    assert field.text() == "boil"
