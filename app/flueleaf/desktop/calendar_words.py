"""Days in the window's language: the names of months and weekdays, and the order a date is said in.

English, the language of the source, is written here; every other language comes from Babel's copy of the
Unicode Consortium's locale data (CLDR), by the pattern that data gives for the parts that are wanted. Babel
takes a while to import, so that the first window of an English run does not.
"""

from __future__ import annotations

import datetime as dt
import functools
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel import Locale

# Which parts of a date are shown, as CLDR writes it.
SHORT, WITH_WEEKDAY, LONG, MONTH = "yMMMd", "yMMMEd", "yMMMMd", "yMMMM"
SOURCE_LANGUAGE = "en_GB"
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def day_words(date: dt.date, language: str, parts: str = SHORT) -> str:
    """Return a date in words: 26 Nov 2026, Thu 26 Nov 2026, 26 November 2026 or November 2026 in English.

    Args:
        date: the day.
        language: a locale such as ``de`` or ``fr_CA``; one that is not known gets English.
        parts: SHORT, WITH_WEEKDAY, LONG or MONTH.
    """
    locale = _locale(language)
    if locale is None:
        return _english(date, parts)
    from babel.dates import format_date, format_skeleton  # noqa: PLC0415 - only where it is needed

    if parts == LONG:
        return format_date(date, "long", locale=locale)
    return format_skeleton(parts, date, locale=locale)


def month_name(month: int, language: str) -> str:
    """Return the short name of a month, 1 to 12, as it stands alone: Nov."""
    locale = _locale(language)
    if locale is None:
        return _MONTHS[month - 1][:3]
    return str(locale.months["stand-alone"]["abbreviated"][month])


def month_of(word: str, language: str) -> int | None:
    """Return the month a word means or begins, in a language or in English; None where it is not certain."""
    typed = _bare(word)
    if not typed:
        return None
    for names in (_month_names(language), _month_names(SOURCE_LANGUAGE)):
        exact = {month for month, name in names if name == typed}
        hits = exact or {month for month, name in names if name.startswith(typed)}
        if hits:
            return hits.pop() if len(hits) == 1 else None
    return None


def _english(date: dt.date, parts: str) -> str:
    if parts == MONTH:
        return f"{_MONTHS[date.month - 1]} {date.year}"
    month = _MONTHS[date.month - 1] if parts == LONG else month_name(date.month, SOURCE_LANGUAGE)
    said = f"{date.day} {month} {date.year}"
    return f"{_WEEKDAYS[date.weekday()]} {said}" if parts == WITH_WEEKDAY else said


@functools.cache
def _month_names(language: str) -> tuple[tuple[int, str], ...]:
    locale = _locale(language)
    if locale is None:
        return tuple((month, _bare(name)) for month, name in enumerate(_MONTHS, 1))
    ways = (
        locale.months[use][width] for use in ("format", "stand-alone") for width in ("abbreviated", "wide")
    )
    return tuple((month, _bare(name)) for way in ways for month, name in way.items())


@functools.cache
def _locale(language: str) -> Locale | None:
    """Return what Babel knows of a language, None for English and for what it does not know."""
    if language.partition("_")[0] == "en":
        return None
    from babel import Locale, UnknownLocaleError  # noqa: PLC0415 - only where it is needed

    try:
        return Locale.parse(language)
    except (UnknownLocaleError, ValueError):
        return None


def _bare(word: str) -> str:
    return word.casefold().strip(" .")
