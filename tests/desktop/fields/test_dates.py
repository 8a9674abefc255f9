from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.desktop.fields.dates import long_date, read_date, until_words, weekday_date

TODAY = dt.date(2026, 11, 25)


@pytest.mark.parametrize(
    "text",
    ["26/11/2026", "26.11.2026", "26-11-2026", "26 nov 2026", "26 November 2026", "26nov2026", "2026-11-26",
     " 26  Nov  2026 "],
)  # fmt: skip
def test_the_patterns(text: str) -> None:
    assert read_date(text, TODAY) == dt.date(2026, 11, 26)


@pytest.mark.parametrize(
    "text",
    ["", "26/11/26", "31/2/2026", "13/13/2026", "ju 2026", "1 ju 2026", "26 11", "tomorrow", "٢٦/١١/٢٠٢٦",
     "1/2/02026"],
)  # fmt: skip
def test_what_is_no_date(text: str) -> None:
    assert read_date(text, TODAY) is None


def test_the_day_is_first() -> None:
    assert read_date("3/4/2026", TODAY) == dt.date(2026, 4, 3)


def test_today_and_yesterday() -> None:
    assert read_date("Today", TODAY) == TODAY
    assert read_date("yesterday", dt.date(2026, 3, 1)) == dt.date(2026, 2, 28)


@settings(max_examples=100)
@given(st.dates(min_value=dt.date(1900, 1, 1)))
def test_every_shown_date_reads_back(date: dt.date) -> None:
    assert read_date(long_date(date), TODAY) == date
    assert read_date(date.isoformat(), TODAY) == date
    assert read_date(f"{date.day}/{date.month}/{date.year}", TODAY) == date
    assert weekday_date(date).endswith(long_date(date))


@settings(max_examples=100)
@given(st.text(max_size=30))
def test_no_text_breaks_it(text: str) -> None:
    assert isinstance(read_date(text, TODAY), dt.date | None)


def test_the_last_day_still_counts() -> None:
    assert until_words(TODAY, TODAY) == "valid until 25 Nov 2026"
    assert until_words(TODAY - dt.timedelta(days=1), TODAY) == "ran out on 24 Nov 2026"
