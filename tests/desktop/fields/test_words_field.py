from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from flueleaf.desktop.fields.words_field import CheckField, WordsField

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("keeper")


@pytest.fixture
def page(qtbot: QtBot) -> Iterator[tuple[CheckField, WordsField]]:
    whole = QWidget()
    check = CheckField("checks.flue", "Is the flue sound?")
    words = WordsField("kind", "kind", ("householder", "landlord", "agent"))
    column = QVBoxLayout(whole)
    column.addWidget(check)
    column.addWidget(words)
    qtbot.addWidget(whole)
    with qtbot.waitActive(whole):
        whole.show()
        whole.activateWindow()
    check.setFocus()
    yield check, words
    whole.close()


def press(qtbot: QtBot, key: Qt.Key | str) -> None:
    focused = QApplication.focusWidget()
    assert focused is not None
    if isinstance(key, str):
        qtbot.keyClicks(focused, key)
    else:
        qtbot.keyClick(focused, key)


@pytest.mark.parametrize(
    ("key", "answer"), [("y", "yes"), ("n", "no"), ("a", "not applicable"), ("Y", "yes")]
)
def test_each_answer_has_its_key(
    qtbot: QtBot, page: tuple[CheckField, WordsField], key: str, answer: str
) -> None:
    check, _ = page
    assert check.text() == ""
    with qtbot.waitSignal(check.edited) as said:
        press(qtbot, key)
    assert said.args == [answer]
    assert check.text() == answer


def test_backspace_takes_the_answer_back_and_enter_moves_on(
    qtbot: QtBot, page: tuple[CheckField, WordsField]
) -> None:
    check, words = page
    press(qtbot, "n")
    press(qtbot, Qt.Key.Key_Backspace)
    assert check.text() == ""
    press(qtbot, "y")
    press(qtbot, Qt.Key.Key_Return)
    assert words.isAncestorOf(QApplication.focusWidget())
    press(qtbot, "l")
    assert words.text() == "landlord"


def test_tab_stops_once_at_a_field(qtbot: QtBot, page: tuple[CheckField, WordsField]) -> None:
    _, words = page
    press(qtbot, "n")
    press(qtbot, Qt.Key.Key_Tab)
    assert words.isAncestorOf(QApplication.focusWidget())


def test_arrows_choose(qtbot: QtBot, page: tuple[CheckField, WordsField]) -> None:
    check, _ = page
    press(qtbot, "y")
    press(qtbot, Qt.Key.Key_Right)
    assert check.text() == "no"


def test_an_unknown_text_is_no_answer(page: tuple[CheckField, WordsField]) -> None:
    check, _ = page
    check.set_text("yes")
    check.set_text("maybe")
    assert check.text() == ""


def test_other_keys_change_nothing(qtbot: QtBot, page: tuple[CheckField, WordsField]) -> None:
    check, _ = page
    with qtbot.assertNotEmitted(check.edited):
        press(qtbot, "x")
    assert check.text() == ""
