from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QRadioButton, QVBoxLayout, QWidget
from tests.desktop.conftest import show

from flueleaf.desktop.fields.words_field import YES_NO_NA, CheckField, Word, WordsField, letters_of

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper

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


def test_the_letters_of_the_source_are_those_given_or_the_first() -> None:
    assert letters_of(YES_NO_NA, "en_GB") == ("y", "n", "a")
    assert letters_of((Word("a", "cash"), Word("b", "card"), Word("c", "cheque")), "en_GB") == ("c", "a", "h")


@pytest.mark.parametrize(
    ("shown", "letters"),
    [
        (("ja", "nein", "n/z"), "jnz"),  # the key of the English word is not theirs
        (("oui", "non", "sans objet"), "ons"),
        (("état", "écart"), "ec"),
        (("да", "нет"), "дн"),
        (("ab", "ab", "ab"), "abc"),
        (("⟦ýéš⟧", "⟦ñø⟧"), "yn"),
    ],
)
def test_the_letters_follow_the_translated_words(shown: tuple[str, ...], letters: str) -> None:
    words = [Word(str(number), face, "x") for number, face in enumerate(shown)]
    assert "".join(letters_of(words, "de")) == letters


@given(st.lists(st.text(min_size=1, max_size=6), min_size=1, max_size=8))
@settings(max_examples=100)
def test_no_letter_is_given_twice(shown: list[str]) -> None:
    letters = letters_of([Word(str(number), face) for number, face in enumerate(shown)], "de")
    assert len(set(letters)) == len(shown)
    assert all(letters)


def test_a_shared_first_letter_goes_on_and_each_word_has_one_of_its_own(
    qtbot: QtBot, keeper: ThemeKeeper
) -> None:
    assert keeper
    field = WordsField("way", "how", ("cash", "card", "cheque", "transfer"))
    show(qtbot, field)
    field.setFocus()
    seen = []
    for key in ("c", "c", "c", "h", "A", "t"):
        press(qtbot, key)
        seen.append(field.text())
    assert seen == ["cash", "card", "cheque", "cheque", "card", "transfer"]
    tips = [button.toolTip() for button in field.findChildren(QRadioButton)]
    assert tips == ["", "key A", "key H", ""]
