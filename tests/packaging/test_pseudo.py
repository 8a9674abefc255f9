"""The pseudo language is longer, keeps its values, and leaves alone what a program reads."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pseudo import pseudo


@given(st.text(st.characters(exclude_characters="{}"), min_size=1, max_size=60))
@settings(max_examples=60)
def test_every_text_is_wrapped_and_at_least_30_percent_longer(text: str) -> None:
    made = pseudo(text)
    assert isinstance(made, str)
    assert (made[0], made[-1]) == ("⟦", "⟧")
    assert len(made) >= 1.3 * len(text)


@pytest.mark.parametrize(
    ("text", "kept"), [("{name} owes {sum}", "{name}"), ("Pictures (*.png *.jpg)", "(*.png *.jpg)")]
)
def test_values_and_patterns_stay(text: str, kept: str) -> None:
    made = pseudo(text)
    assert kept in made
    assert text not in made


def test_both_of_a_count() -> None:
    assert pseudo(("one", "many")) == (pseudo("one"), pseudo("many"))
