"""Sentences that know their pattern, so that the window can say them in another language.

Below the window every sentence is plain English and a ``str``: papers print it, the command line writes it.
What is put together from a pattern and values remembers both; the catalogue knows the pattern only. A day in
words remembers its date, so that the window can name the month in its own language.
"""

from __future__ import annotations

import datetime as dt
import functools
import re
import string
from collections.abc import Callable, Iterable, Sequence
from typing import Any


class Sentence(str):
    """An English sentence made from a pattern and its values."""

    __slots__ = ("pattern", "values")

    pattern: str
    values: dict[str, Any]

    def __new__(cls, pattern: str, values: dict[str, Any]) -> Sentence:
        """Return the sentence; ``pattern`` names its values in braces."""
        made = super().__new__(cls, pattern.format(**values))
        made.pattern = pattern
        made.values = values
        return made

    def __getnewargs__(self) -> tuple[str, dict[str, Any]]:  # type: ignore[override]
        """Let copies know their pattern too."""
        return (self.pattern, self.values)


class Day(str):
    """A day in English words that remembers its date."""

    __slots__ = ("date",)

    date: dt.date

    def __new__(cls, words: str, date: dt.date) -> Day:
        """Return the words; ``date`` is the day they mean."""
        made = super().__new__(cls, words)
        made.date = date
        return made

    def __getnewargs__(self) -> tuple[str, dt.date]:  # type: ignore[override]
        """Let copies know their date too."""
        return (str(self), self.date)


class Month(Day):
    """A month with its year in English words; the day is only the date that is meant about."""

    __slots__ = ()


def said(pattern: str, /, **values: Any) -> Sentence:
    """Return a sentence from a pattern and its values; the pattern goes into the catalogue.

    Raises:
        KeyError: the pattern names a value that is not given.
    """
    return Sentence(pattern, values)


def reread(text: str, pattern: str, **readers: Callable[[str], Any]) -> Sentence | None:
    """Return a kept text as the sentence it was written as.

    The book keeps English. Matched against the pattern it was made from, a text of it is a sentence again,
    and the window can say it in another language, whatever else has changed since it was written.

    Args:
        text: as the book or a paper has it.
        pattern: the sentence's pattern; it gives the text back letter by letter, or nothing is returned.
        readers: makes the value of a brace from its words; None says that these words are no such value.

    Returns:
        the sentence, None where the text was not made from the pattern.
    """
    found = _as_expression(pattern).fullmatch(text)
    if found is None:
        return None
    values = {name: readers.get(name, str)(words) for name, words in found.groupdict().items()}
    if any(value is None for value in values.values()):
        return None
    made = Sentence(pattern, values)
    return made if made == text else None


def as_kept(text: str) -> str:
    """Return a text of the book that the catalogue may know, such as the name of a rule or of a kind."""
    return text if "{" in text or "}" in text else Sentence(text, {})


@functools.cache
def _as_expression(pattern: str) -> re.Pattern[str]:
    parts: list[str] = []
    for words, name, _, _ in string.Formatter().parse(pattern):
        parts.append(re.escape(words))
        if name is not None:
            seen = f"(?P<{name}>" in "".join(parts)
            parts.append(f"(?P={name})" if seen else f"(?P<{name}>.+?)")
    return re.compile("".join(parts), re.DOTALL)


def lines(sentences: Iterable[str], between: str = "\n") -> str:
    """Return sentences one under the other, or one after the other; each is translated by itself."""
    values = {f"line_{at}": sentence for at, sentence in enumerate(sentences)}
    return Sentence(between.join(f"{{{name}}}" for name in values), values)


def either(words: Sequence[str]) -> str:
    """Return words of the catalogue to choose from, with or between them; at least one."""
    return functools.reduce(
        lambda one, other: said("{one} or {other}", one=one, other=other), map(as_kept, words)
    )


def quoted(names: Iterable[str]) -> str:
    """Return names, which are not translated, in quotation marks and one after the other."""
    return ", ".join(f"“{name}”" for name in names)


def marked(text: str) -> str:
    """Return the text as it is; it goes into the catalogue and is translated where it is shown."""
    return text


def sentence(text: str) -> str:
    """Return a text with a capital at its beginning."""
    return text[:1].upper() + text[1:]
