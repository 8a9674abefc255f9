"""Words are found whole, the longest first, once each; a search puts the likeliest first."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.glossary import Word, looked_up, places

FLUE = Word("flue", "way of the gas", "trade")
OPEN = Word("open flue", "takes its air from the room", "trade", ("open-flued",))
QUIET = Word("leaf", "the page", "own", ("leaves",), quiet=True)
WORDS = (FLUE, OPEN, QUIET)


def test_the_longest_word_wins_and_each_is_told_once() -> None:
    found = places("An open flue; another Open Flue; a flue. He leaves.", WORDS)
    assert [(place.word.word, place.start) for place in found] == [("open flue", 3), ("flue", 35)]


def test_a_word_is_no_part_of_another() -> None:
    assert places("influenza, fluent, flues", WORDS) == ()
    assert places("anything", ()) == ()


def test_a_search_ranks_beginnings_before_middles_before_meanings() -> None:
    assert looked_up("flue", WORDS) == (FLUE, OPEN)
    assert looked_up("room", WORDS) == (OPEN,)
    assert looked_up("  ", WORDS) == WORDS
    assert looked_up("boiler", WORDS) == ()


@given(st.text(alphabet="aeflnopu -.", max_size=60))
@settings(max_examples=80)
def test_places_are_in_order_and_never_overlap(text: str) -> None:
    end = 0
    for place in places(text, WORDS):
        assert end <= place.start < place.end <= len(text)
        assert text[place.start : place.end].lower() in place.word.spellings
        end = place.end
