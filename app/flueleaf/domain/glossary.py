"""Words with their meanings, and where they stand in a text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

WordStatus = Literal["own", "trade"]
STATUSES: tuple[WordStatus, ...] = ("own", "trade")


@dataclass(frozen=True, slots=True)
class Word:
    """One line of the glossary.

    Attributes:
        word: as the glossary lists it; forms: further spellings that mean it.
        status: "own" where this program gave it its meaning, "trade" where the trade did.
        quiet: not pointed out in running text, because everyday language has the same word.
    """

    word: str
    meaning: str
    status: WordStatus
    forms: tuple[str, ...] = ()
    quiet: bool = False

    @property
    def spellings(self) -> tuple[str, ...]:
        """What stands for it in a text."""
        return (self.word, *self.forms)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a word stands in a text: from its first letter up to, not including, ``end``."""

    start: int
    end: int
    word: Word


def places(text: str, words: Iterable[Word]) -> tuple[Place, ...]:
    """Return where words stand in a text, the longest first where they overlap, each word once.

    Args:
        text: running text.
        words: the glossary; quiet ones are passed over.
    """
    known = {spelling.lower(): word for word in words if not word.quiet for spelling in word.spellings}
    if not known:
        return ()
    longest_first = sorted(known, key=len, reverse=True)
    pattern = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest_first))})(?!\w)", re.IGNORECASE)
    found: list[Place] = []
    for hit in pattern.finditer(text):
        word = known[hit[0].lower()]
        if all(place.word is not word for place in found):
            found.append(Place(hit.start(), hit.end(), word))
    return tuple(found)


def looked_up(text: str, words: Sequence[Word]) -> tuple[Word, ...]:
    """Return the words a person means by a text: those that begin with it, hold it, then tell of it."""
    wanted = text.strip().lower()
    if not wanted:
        return tuple(words)

    def nearness(word: Word) -> int:
        spellings = [spelling.lower() for spelling in word.spellings]
        if any(spelling.startswith(wanted) for spelling in spellings):
            return 0
        if any(wanted in spelling for spelling in spellings):
            return 1
        return 2 if wanted in word.meaning.lower() else 3

    ranked = sorted(words, key=nearness)
    return tuple(word for word in ranked if nearness(word) < 3)
