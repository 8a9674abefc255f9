from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.papers.text import chemical, day, moment, wrap
from flueleaf.papers.typeface import BODY, REPLACEMENT, SMALL, STRONG, Type, clean, width


def test_dates_are_in_words() -> None:
    assert day(dt.date(2026, 3, 7)) == "7\xa0March\xa02026"
    assert moment(dt.datetime(2026, 11, 20, 20, 5, tzinfo=dt.UTC)).endswith("2026, 20:05 UTC")
    zone = dt.timezone(dt.timedelta(hours=-3, minutes=-30))
    assert moment(dt.datetime(2026, 11, 20, 20, 5, tzinfo=zone)).endswith("20:05 UTC−3:30")
    summer = dt.timezone(dt.timedelta(hours=1))
    assert moment(dt.datetime(2026, 7, 1, 9, 0, tzinfo=summer)).endswith("09:00 UTC+1")


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("CO2 and O2", "CO₂ and O₂"),
        ("CO/CO2 ratio", "CO/CO₂ ratio"),
        ("CO alarm NO2 FOO2 CO20", "CO alarm NO2 FOO2 CO20"),
    ],
)
def test_chemical_signs(text: str, printed: str) -> None:
    assert chemical(text) == printed


def test_an_empty_text_has_no_lines_and_breaks_stay() -> None:
    assert wrap("", 100, BODY) == ()
    assert wrap("a\n\nb", 100, BODY) == ("a", "", "b")


def test_what_cannot_be_printed_is_seen_to_be_missing() -> None:
    assert clean("Łódź 5 µ") == "Łódź 5 µ"
    assert clean("a\N{GRINNING FACE}b") == f"a{REPLACEMENT}b"
    assert clean("٣ ppm") == f"{REPLACEMENT} ppm"
    assert clean("e\N{COMBINING ACUTE ACCENT}") == "é"
    assert clean("a\tb\x00\u202ec\u200b") == "a b c"
    assert clean("−2 ‑3") == "−2 -3"


@settings(max_examples=100)
@given(st.text(max_size=200), st.floats(12, 400), st.sampled_from([BODY, SMALL, STRONG]))
def test_lines_fit_and_no_letter_is_lost(text: str, room: float, type_: Type) -> None:
    lines = wrap(text, room, type_)
    assert all(width(line, type_) <= room + 1e-6 for line in lines)
    assert "".join("".join(lines).split()) == "".join(clean(text).split())


@pytest.mark.parametrize(
    "bound", ["page 41", "p. 41", "clause 6", "Edition 4", "61 ppm", "0.4 %", "20.5 mbar", "2 October 2026"]
)
def test_a_number_stays_with_what_it_counts_or_names(bound: str) -> None:
    text = f"Calderwyn fitting book, {bound}, left"
    kept = bound.replace(" ", "\xa0")
    for room in range(100, 240, 4):
        assert any(kept in line for line in wrap(text, room, BODY)), room


def test_what_is_no_unit_is_not_bound() -> None:
    assert wrap("table set 4 ppms", 300, BODY) == ("table set 4 ppms",)


def test_bound_words_without_room_together_are_parted_at_their_blank() -> None:
    room = width("page", BODY) + 1
    assert wrap("page 41", room, BODY) == ("page", "41")
