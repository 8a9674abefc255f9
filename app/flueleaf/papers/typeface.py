"""The typeface of the papers: where it lies, how wide its characters are, and what it cannot print."""

from __future__ import annotations

import functools
import unicodedata
from dataclasses import dataclass
from typing import Literal

from fontTools.ttLib import TTFont

from flueleaf.paths import RESOURCES

FAMILY = "InterPaper"
Style = Literal["", "B", "I"]
FILES: dict[Style, str] = {"": "Regular", "B": "SemiBold", "I": "Italic"}

# Stands for a character the typeface does not have. Empty, so that it says nothing.
REPLACEMENT = "□"

# Marks that print nothing and may go: direction marks, joiners, byte order mark, variation selectors.
_SILENT = {0x200B, 0x200C, 0x200D, 0x200E, 0x200F, 0x2060, 0xFEFF, 0xAD}
_SILENT |= set(range(0x202A, 0x202F)) | set(range(0x2066, 0x206A)) | set(range(0xFE00, 0xFE10))
# Another code point, the same sign.
_SAME = {0x2010: "-", 0x2011: "-", 0x2212: "−", 0x202F: "\xa0", 0x2007: "\xa0", 0x2009: " ", 0x03BC: "µ"}


@dataclass(frozen=True, slots=True)
class Type:
    """A size of type, points: ``size`` of the letters, ``leading`` from line to line; ``grey`` 0 is black."""

    style: Style
    size: float
    leading: float
    grey: int = 0


# The scale: two weights, and italics for what is said about the paper itself.
TITLE = Type("", 23, 28)
NAME = Type("B", 11.2, 14.5)
HEADING = Type("B", 9.2, 12.5)
STRONG = Type("B", 8.3, 11.2)
BODY = Type("", 8.3, 11.2)
ASIDE = Type("I", 8.1, 11.2, 60)
LABEL = Type("", 7.1, 10.6, 90)
SMALL = Type("", 6.9, 9.2, 70)
# Small, on the baseline of BODY beside it.
ASIDE_FIGURE = Type("", 6.9, 12.2, 70)
TINY = Type("", 5.8, 7.6, 90)


def font_path(style: Style) -> str:
    """Return the file of one style."""
    return str(RESOURCES / "fonts" / f"{FAMILY}-{FILES[style]}.ttf")


@functools.cache
def widths(style: Style) -> dict[str, float]:
    """Return the advance width of every character of a style, in ems."""
    with TTFont(font_path(style), lazy=True) as font:
        per_em = font["head"].unitsPerEm
        metrics = font["hmtx"].metrics
        return {chr(code): metrics[glyph][0] / per_em for code, glyph in font.getBestCmap().items()}


def width(text: str, type_: Type) -> float:
    """Return how wide a cleaned text is, points."""
    known = widths(type_.style)
    return sum(map(known.__getitem__, text)) * type_.size


def clean(text: str) -> str:
    """Return a text the typeface can print, line breaks kept.

    A character it does not have becomes ``REPLACEMENT``; control characters become spaces.
    """
    known = widths("")
    if all(map(known.__contains__, text)):
        return text
    return "".join(_printable(char, known) for char in unicodedata.normalize("NFC", text))


def _printable(char: str, known: dict[str, float]) -> str:
    if char == "\n" or char in known:
        return char
    code = ord(char)
    if code in _SILENT:
        return ""
    if same := _SAME.get(code):
        return same
    category = unicodedata.category(char)
    return " " if category in ("Cc", "Zs", "Zl", "Zp") else REPLACEMENT
