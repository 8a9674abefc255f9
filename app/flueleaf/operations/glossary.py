"""What a word means, as the window asks for it."""

from __future__ import annotations

from flueleaf.domain import glossary
from flueleaf.domain.glossary import Place, Word
from flueleaf.storage.tables.glossary import load_glossary

__all__ = ["Place", "Word", "look_up", "places", "words"]


def words() -> tuple[Word, ...]:
    """Return every word, in the alphabet's order."""
    return tuple(sorted(load_glossary(), key=lambda one: one.word.removeprefix("the ").lower()))


def places(text: str) -> tuple[Place, ...]:
    """Return where glossary words stand in a text."""
    return glossary.places(text, load_glossary())


def look_up(text: str) -> tuple[Word, ...]:
    """Return the words a person means by a text, the likeliest first; every word for none."""
    return glossary.looked_up(text, words())
