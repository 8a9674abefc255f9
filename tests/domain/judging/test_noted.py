from __future__ import annotations

from decimal import Decimal

import pytest

from flueleaf.domain.judging.noted import LONGEST_NOTE, Note, applies

LENGTH = Note("pipe_m", "pipe", "arrival", "length", "number", unit="m", low=Decimal(0), high=Decimal(9))
COLOUR = Note("colour", "pipe", "arrival", "colour", "choice", choices=("black", "red"), flues=("open",))
DAY = Note("day", "pipe", "arrival", "day", "date", purposes=("service",))
TEXT = Note("text", "pipe", "arrival", "text")


@pytest.mark.parametrize(
    ("note", "text"),
    [
        (LENGTH, "0"),
        (LENGTH, "9"),
        (LENGTH, "2.45"),
        (LENGTH, "2.4 m"),
        (COLOUR, "red"),
        (DAY, "2026-11-26"),
        (DAY, "1950-01-01"),
        (TEXT, "x" * LONGEST_NOTE),
    ],
)
def test_what_is_accepted(note: Note, text: str) -> None:
    assert note.fault(text, "notes[0].text") is None


@pytest.mark.parametrize(
    ("note", "text", "accepted"),
    [
        (LENGTH, "9.1", "from 0 to 9 m"),
        (LENGTH, "-1", "from 0 to 9 m"),
        (LENGTH, "two", "a number"),
        (LENGTH, "2,4", "did you mean 2.4?"),
        (COLOUR, "Red", "black"),
        (COLOUR, "blue", "red"),
        (DAY, "26 Nov 2026", "as 2026-11-26"),
        (DAY, "20261126", "as 2026-11-26"),
        (DAY, "1949-12-31", "1950"),
        (DAY, "2026-02-30", "as 2026-11-26"),
        (TEXT, "x" * (LONGEST_NOTE + 1), "at most 500 characters"),
    ],
)
def test_what_is_refused_says_what_would_be_accepted(note: Note, text: str, accepted: str) -> None:
    fault = note.fault(text, "notes[3].text")
    assert fault is not None
    assert fault.where == "notes[3].text"
    assert accepted in fault.accepted


def test_where_it_is_asked() -> None:
    assert COLOUR.asked("service", "open")
    assert COLOUR.asked("service", None)
    assert not COLOUR.asked("service", "none")
    assert DAY.asked("service", "none")
    assert not DAY.asked("breakdown", "none")


def test_what_names_no_flue_is_for_every_flue() -> None:
    assert applies((), "open")
    assert applies((), None)
    assert applies(("open",), None)
    assert not applies(("open",), "room-sealed")
