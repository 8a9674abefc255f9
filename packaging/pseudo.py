"""A made-up language for tests: what it does not show was not translated, what does not fit has no room.

Every text stands in ⟦ ⟧, has accents and is about 30 % longer, which is what other languages commonly need
over English (common practice of software translation). What stands in braces stays, and so do the patterns of
a file dialog.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

PSEUDO = "en_XA"  # a region code that ISO 3166 leaves to users
# Whose months and weekdays it has: in Welsh none is written as in English (CLDR 47, read).
ITS_DAYS = "cy"
OPEN, CLOSE = "⟦", "⟧"
LONGER = 0.3
_ACCENTS = str.maketrans("aeiouyAEIOUcnsz", "åéîøüýÅÉÎØÜçñšž")
_KEPT = re.compile(r"(\{[^{}]*\}|\(\*\.[^)]*\))")
_FILLER = ("øn", "ét", "lüm", "våre", "stîl")


def pseudo(texts: str | Sequence[str]) -> str | tuple[str, ...]:
    """Return a text in the pseudo language; of one text for one and one for many, both."""
    return _pseudo(texts) if isinstance(texts, str) else tuple(map(_pseudo, texts))


def _pseudo(text: str) -> str:
    parts = _KEPT.split(text)
    said = "".join(part if at % 2 else part.translate(_ACCENTS) for at, part in enumerate(parts))
    return f"{OPEN}{said}{_more(max(round(len(text) * LONGER), 1))}{CLOSE}"


def _more(letters: int) -> str:
    """Return so many letters more, in words that can be broken into lines."""
    made = ""
    for word in itertools.cycle(_FILLER):
        if len(made) >= letters:
            return made[:letters].rstrip()
        made += f" {word}"
    raise AssertionError
