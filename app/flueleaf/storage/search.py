"""The finder: any typed text, best hits first; a word's beginning, an inner piece, one wrong letter will do.

Three questions, each asked only while hits are wanting: words that begin as typed (index ``finder``), inner
pieces of three characters and more (``finder_inner``), words of four letters and more with one letter wrong
(the index's own vocabulary ``finder_words``; a wrong first letter through ``finder_inner``). Ranking costs
time in proportion to the hits, so it is left out where they are many or the words short.
"""

from __future__ import annotations

import re
import sqlite3
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.words import said
from flueleaf.storage.schema.finder import CODES, KINDS, Kind

_WORD = re.compile(r"[^\W_]+")
_LONGEST_TEXT = 200
_MOST_WORDS = 8
_RANK_UP_TO = 500
_RANK_FROM_LETTERS = 3
_INNER_FROM_LETTERS = 3
_WRONG_LETTER_FROM_LETTERS = 4
_MOST_SPELLINGS = 30
_VISITS_WEIGH = 0.3  # there are many of each premises; they come after what they were made to


@dataclass(frozen=True, slots=True)
class Hit:
    """One thing found; ``id`` is the number of its row, the title of a paper is its number."""

    kind: Kind
    id: int
    title: str
    subtitle: str


def find(con: sqlite3.Connection, text: str, most: int = 20) -> list[Hit]:
    """Return what a typed text finds, best first.

    Args:
        con: the book.
        text: anything; only letters and digits count.
        most: how many hits at most.
    """
    words = _words(text)
    if not words or most < 1:
        return []
    found: dict[int, None] = {}
    for rows in _ways(con, words, most):
        found.update(dict.fromkeys(rows))
        if len(found) >= most:
            break
    return _hits(con, list(found)[:most])


def _words(text: str) -> list[str]:
    # As the index folds what it keeps, and no further: small, without accents; ½ stays ½ and ß stays ß.
    apart = unicodedata.normalize("NFD", text[:_LONGEST_TEXT].lower())
    bare = "".join(c for c in apart if not unicodedata.combining(c))
    return _WORD.findall(unicodedata.normalize("NFC", bare))[:_MOST_WORDS]


def _ways(con: sqlite3.Connection, words: list[str], most: int) -> Iterator[list[int]]:
    begins = " AND ".join(f'"{word}"*' for word in words)
    joined = "".join(words)
    longest = max(map(len, words))
    asked = begins if len(words) == 1 else f'({begins}) OR "{joined}"*'
    if longest < _RANK_FROM_LETTERS:
        yield _unranked(con, asked, most)
        return
    found = _ranked(con, asked, most)
    yield found
    if all(len(word) >= _INNER_FROM_LETTERS for word in words):
        yield _inner(con, " AND ".join(f'"{word}"' for word in words), most)
    if len(words) > 1:
        yield _inner(con, f'"{joined}"', most)
    if not found and longest >= _WRONG_LETTER_FROM_LETTERS:
        yield from _misspelt(con, words, most)


def _unranked(con: sqlite3.Connection, asked: str, most: int) -> list[int]:
    """Return rows with the words in their title before others; both in the order they were added."""
    found: dict[int, None] = {}
    for where in (f"title : ({asked})", asked):
        rows = con.execute("SELECT rowid FROM finder WHERE finder MATCH ? LIMIT ?", (where, most))
        found.update((row[0], None) for row in rows)
    return list(found)


def _ranked(con: sqlite3.Connection, asked: str, most: int) -> list[int]:
    many = con.execute(
        "SELECT count(*) FROM (SELECT 1 FROM finder WHERE finder MATCH ? LIMIT ?)", (asked, _RANK_UP_TO + 1)
    ).fetchone()[0]
    if many > _RANK_UP_TO:
        return _unranked(con, asked, most)
    found = con.execute(
        "SELECT rowid FROM finder WHERE finder MATCH ?"
        " ORDER BY bm25(finder, 10.0, 2.0, 4.0) * iif(rowid % 8 = ?, ?, 1.0), rowid LIMIT ?",
        (asked, CODES["visit"], _VISITS_WEIGH, most),
    )
    return [row[0] for row in found]


def _inner(con: sqlite3.Connection, asked: str, most: int) -> list[int]:
    found = con.execute("SELECT rowid FROM finder_inner WHERE finder_inner MATCH ? LIMIT ?", (asked, most))
    return [row[0] for row in found]


def _misspelt(con: sqlite3.Connection, words: list[str], most: int) -> Iterator[list[int]]:
    spellings = [_spellings(con, word) for word in words]
    if any(len(found) > 1 for found in spellings):
        parts = (" OR ".join(f'"{one}"*' for one in found) for found in spellings)
        yield _ranked(con, " AND ".join(f"({part})" for part in parts), most)
    for word in words:
        if len(word) >= _WRONG_LETTER_FROM_LETTERS:
            rest = " AND ".join(f'"{one[1:] if one == word else one}"' for one in words if len(one) > 3)
            yield _inner(con, rest, most)


def _spellings(con: sqlite3.Connection, word: str) -> list[str]:
    """Return a word and the words of the book that begin like it but for one letter."""
    if len(word) < _WRONG_LETTER_FROM_LETTERS:
        return [word]
    terms = con.execute("SELECT term FROM finder_words WHERE term >= ? AND term < ?", _span(word[0]))
    close = (term for (term,) in terms if _begins_almost(word, term))
    return [word, *(term for term, _ in zip(close, range(_MOST_SPELLINGS), strict=False))]


def _span(letter: str) -> tuple[str, str]:
    return letter, letter + "\U0010ffff"


def _begins_almost(word: str, term: str) -> bool:
    lengths = range(len(word) - 1, min(len(word) + 1, len(term)) + 1)
    return any(one_letter_apart(word, term[:length]) for length in lengths)


def one_letter_apart(one: str, other: str) -> bool:
    """Say whether two words differ by one letter at most: another, missing or surplus one, or two swapped."""
    if len(one) > len(other):
        one, other = other, one
    start = 0
    while start < len(one) and one[start] == other[start]:
        start += 1
    left, right = one[start:], other[start:]
    if len(left) < len(right):
        return left == right[1:]
    return left[1:] == right[1:] or (left[:2] == right[1::-1] and left[2:] == right[2:])


def _hits(con: sqlite3.Connection, rows: Iterable[int]) -> list[Hit]:
    found = []
    for number in rows:
        row = con.execute("SELECT title, subtitle FROM finder WHERE rowid = ?", (number,)).fetchone()
        if row is None:
            raise BookProblem(
                said("The finder of this book is damaged. Run “flueleaf verify” and restore a backup.")
            )
        found.append(Hit(KINDS[number % 8], number // 8, row["title"], row["subtitle"]))
    return found
