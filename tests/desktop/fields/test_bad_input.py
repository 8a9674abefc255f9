"""What nobody should type, typed into every kind of field: said there, kept as typed, never a crash."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QGuiApplication

from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import LONGEST_SHOWN, shortened
from flueleaf.desktop.fields.line_field import LONGEST_CHARACTERS, LineField, TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.offer_field import OfferField
from flueleaf.desktop.fields.time_field import TimeField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.domain.quantities import QUANTITIES

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

MAKERS: dict[str, Callable[[], LineField]] = {
    "text": lambda: TextField("a", "a thing"),
    "number": lambda: NumberField("a", QUANTITIES["co_ppm"], label="a thing"),
    "date": lambda: DateField("a", "a thing", today=lambda: dt.date(2026, 11, 25)),
    "time": lambda: TimeField("a", "a thing"),
    "choice": lambda: ChoiceField("a", "a thing", ("natural gas", "propane")),
    "other choice": lambda: ChoiceField("a", "a thing", ("natural gas", "propane"), others=True),
    "offer": lambda: OfferField("a", "a thing", lambda _text: ()),
}
STRICT = ("number", "date", "time", "choice")
PAGE = "Dear Mrs Penhallow,\nthe boiler stood still.\r\n\tYours\u2028Jory\n" * 40
BAD = {
    "words": "about sixty-one",
    "two marks": "4.8.1",
    "a comma that may be either": "1,234",
    "a page": PAGE,
    "emoji": "\U0001f600 hot",
    "right to left": "שלום 61",
    "other figures": "٦١",
    "not a number": "NaN",
    "endless": "1e999999",
    "NUL": "61\x00",
    "control": "6\x1b[31m1",
    "turned round": "16\u202e",
}
KINDS = pytest.mark.parametrize("kind", MAKERS)


@pytest.fixture
def paste(qtbot: QtBot) -> Callable[[str, str], LineField]:
    """Return what pastes a text into a new field of a kind."""

    def into(kind: str, text: str) -> LineField:
        made = MAKERS[kind]()
        qtbot.addWidget(made)
        QGuiApplication.clipboard().setText(text)
        made.edit.paste()
        return made

    return into


@KINDS
@pytest.mark.parametrize("bad", BAD.values(), ids=BAD)
def test_a_bad_text_is_said_and_stays(paste: Callable[[str, str], LineField], kind: str, bad: str) -> None:
    made = paste(kind, bad)
    typed = made.text()
    assert typed
    if kind == "other choice":  # it takes any words, without idle blanks
        typed = " ".join(typed.split())
    made.check()
    assert made.text() == typed
    if kind in STRICT:
        assert made.fault().startswith("“")
        assert not made.value()  # type: ignore[attr-defined]
        assert made.message.text() == made.fault() == made.control().accessibleDescription()
    assert all(c.isprintable() for c in made.fault())
    assert made.entry() == typed.strip()


@KINDS
@pytest.mark.parametrize("name", ["NUL", "control", "turned round"])
def test_what_no_paper_can_carry_is_refused_everywhere(
    paste: Callable[[str, str], LineField], kind: str, name: str
) -> None:
    made = paste(kind, BAD[name])
    assert not made.check()
    assert "\\" in made.fault()


@KINDS
def test_ten_megabytes_are_cut_before_anything_reads_them(
    paste: Callable[[str, str], LineField], kind: str
) -> None:
    made = paste(kind, "61 \U0001f600" * 2_000_000)
    assert 0 < len(made.text()) <= made.edit.maxLength() <= LONGEST_CHARACTERS
    made.check()
    assert len(made.fault()) < 200


@KINDS
def test_several_lines_become_one(paste: Callable[[str, str], LineField], kind: str) -> None:
    made = paste(kind, "3 Quay\r\nPort\tEll")
    assert made.text() == "3 Quay  Port Ell"


def test_a_text_of_another_script_is_a_text(paste: Callable[[str, str], LineField]) -> None:
    for text in (BAD["right to left"], BAD["emoji"]):
        assert paste("text", text).check()


def test_a_word_that_is_no_answer_takes_the_answer_away(qtbot: QtBot) -> None:
    made = WordsField("a", "a thing", ("yes", "no"))
    qtbot.addWidget(made)
    made.answer("yes")
    for bad in BAD.values():
        made.set_text(bad)
        assert made.text() == ""


def test_a_refused_value_is_shown_short() -> None:
    assert shortened("9:99") == "9:99"
    assert len(shortened("x" * 1000)) == LONGEST_SHOWN
    assert shortened("6\x00") == "6\\x00"


def test_a_field_says_what_it_accepts_before_anything_is_wrong(
    paste: Callable[[str, str], LineField],
) -> None:
    made = paste("number", "")
    assert made.control().accessibleDescription() == (
        "Accepted is a number from 0 to 100,000 ppm, with a point for decimals."
    )
    made.set_fault("Not that.")
    made.set_fault("")
    assert made.control().accessibleDescription().startswith("Accepted is")
