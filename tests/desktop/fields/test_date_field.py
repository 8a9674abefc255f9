from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.fields.date_field import DateField

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("keeper")
TODAY = dt.date(2026, 11, 25)


def field(qtbot: QtBot, *, future: bool) -> DateField:
    made = DateField("visit.date", "date", today=lambda: TODAY, future=future)
    qtbot.addWidget(made)
    return made


def test_what_was_understood_stands_after_it(qtbot: QtBot) -> None:
    made = field(qtbot, future=True)
    qtbot.keyClicks(made.edit, "26/11/2026")
    assert made.note.text() == "Thu 26 Nov 2026"
    assert made.text() == "26/11/2026"
    assert made.value() == dt.date(2026, 11, 26)


def test_a_date_ahead_is_refused_where_told(qtbot: QtBot) -> None:
    made = field(qtbot, future=False)
    made.set_text("26/11/2026")
    assert "lies ahead" in made.fault()
    assert made.value() is None
    made.set_text("today")
    assert made.value() == TODAY
    assert not made.fault()


def test_no_date_is_named_with_what_is_accepted(qtbot: QtBot) -> None:
    made = field(qtbot, future=True)
    made.set_text("31/2/2026")
    assert "“31/2/2026”" in made.fault()
    assert "2026-11-26" in made.fault()
    assert not made.note.text()


def test_a_date_in_iso_form_is_shown_as_dates_are_everywhere(qtbot: QtBot) -> None:
    made = field(qtbot, future=True)
    made.set_text("2027-03-10")
    assert (made.text(), made.entry()) == ("10 Mar 2027", "2027-03-10")
    made.set_text("2027-02-30")
    assert made.text() == "2027-02-30"
    assert made.fault()


@pytest.mark.parametrize("text", ["1/3/27", "1.3.27", "1 Mar 27"])
def test_a_year_of_two_figures_is_asked_for_in_full(qtbot: QtBot, text: str) -> None:
    made = field(qtbot, future=True)
    made.set_text(text)
    assert "year in full" in made.fault()
    assert made.value() is None
