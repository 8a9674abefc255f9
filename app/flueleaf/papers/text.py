"""Text into lines: wrapping, dates, the chemical signs."""

from __future__ import annotations

import datetime as dt
import functools
import re
from collections.abc import Iterator

from flueleaf.papers.typeface import Type, clean, width, widths

_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
# The blank between a word and the number it names ("p. 31", "page 41"), or a number and its unit ("61 ppm").
_BOUND = re.compile(
    r"\b((?:pp?|no|ed|reg|cl)\.|pages?|clause|table|part|section|annex|edition) (?=\d)"
    r"|(?<=\d) (?=(?:%|ppm|kW|mbar|Pa|°C|MJ|mg|kg|m³)(?!\w))",
    re.IGNORECASE,
)
_DATE = re.compile(rf"\b(\d{{1,2}}) ({'|'.join(_MONTHS)}) (?=\d{{4}}\b)")
_CHEMICAL = re.compile(r"(?<![A-Za-z])(C?O)2(?![0-9A-Za-z])")


def day(date: dt.date) -> str:
    """Return a date as people write it: "20 November 2026"."""
    return f"{date.day} {_MONTHS[date.month - 1]} {date.year:04d}".replace(" ", "\xa0")


def moment(at: dt.datetime) -> str:
    """Return a date, time and zone: "20 November 2026, 20:15 UTC"."""
    minutes = int((at.utcoffset() or dt.timedelta()).total_seconds()) // 60
    sign = "−" if minutes < 0 else "+"
    hours, rest = divmod(abs(minutes), 60)
    zone = "UTC" if not minutes else f"UTC{sign}{hours}" + (f":{rest:02d}" if rest else "")
    return f"{day(at.date())}, {at:%H:%M} {zone}"


def chemical(text: str) -> str:
    """Return a text in which O2 and CO2 have their figure below the line."""
    return _CHEMICAL.sub(r"\1₂", text)


@functools.lru_cache(maxsize=4096)
def wrap(text: str, room: float, type_: Type) -> tuple[str, ...]:
    """Return a text as lines no wider than ``room`` points; a word that is wider is broken.

    The text is cleaned. Its own line breaks stay, empty lines too; an empty text has no lines.
    """
    if not text:
        return ()
    bound = _DATE.sub("\\1\xa0\\2\xa0", _BOUND.sub("\\1\xa0", clean(text)))
    return tuple(line for part in bound.split("\n") for line in _fill(part, room, type_))


def _fill(part: str, room: float, type_: Type) -> list[str]:
    lines: list[str] = []
    line = ""
    used = 0.0
    space = widths(type_.style)[" "] * type_.size
    for word in _words(part, room, type_):
        pieces = [word] if width(word, type_) <= room else _break(word, room, type_)
        for piece in pieces:
            long = width(piece, type_)
            if line and used + space + long <= room:
                line, used = f"{line} {piece}", used + space + long
            else:
                if line:
                    lines.append(line)
                line, used = piece, long
    lines.append(line)
    return lines


def _words(part: str, room: float, type_: Type) -> Iterator[str]:
    """Yield what stays on one line; bound words that have no room together come one by one."""
    for word in part.split(" "):
        if "\xa0" in word and width(word, type_) > room:
            yield from filter(None, word.split("\xa0"))
        elif word:
            yield word


def _break(word: str, room: float, type_: Type) -> list[str]:
    known = widths(type_.style)
    pieces: list[str] = []
    piece, used = "", 0.0
    for char in word:
        long = known[char] * type_.size
        if piece and used + long > room:
            pieces.append(piece)
            piece, used = "", 0.0
        piece += char
        used += long
    return [*pieces, piece]
