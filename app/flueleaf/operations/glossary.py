"""What a word means, as the window asks for it."""

from __future__ import annotations

from flueleaf.domain import glossary
from flueleaf.domain.glossary import Place, Word
from flueleaf.storage.tables.glossary import load_glossary

__all__ = ["Place", "Word", "look_up", "named", "places", "words"]

LEAST_LETTERS = 2  # fewer would list words at every letter typed for something else


def words() -> tuple[Word, ...]:
    """Return every word, in the alphabet's order."""
    return tuple(sorted(load_glossary(), key=lambda one: one.word.removeprefix("the ").lower()))


def places(text: str) -> tuple[Place, ...]:
    """Return where glossary words stand in a text."""
    return glossary.places(text, load_glossary())


def look_up(text: str) -> tuple[Word, ...]:
    """Return the words a person means by a text, the likeliest first; every word for none."""
    return glossary.looked_up(text, words())


def named(text: str) -> tuple[Word, ...]:
    """Return the words one of whose spellings begins with a text of at least two letters."""
    wanted = text.strip().lower()
    if len(wanted) < LEAST_LETTERS:
        return ()
    return tuple(word for word in words() if any(one.lower().startswith(wanted) for one in word.spellings))
