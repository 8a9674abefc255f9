"""Reading a typed date: day first, the month as a word, or year first; never a guess about the century."""

from __future__ import annotations

import datetime as dt
import re

from flueleaf.desktop.words import _

MONTHS = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
ACCEPTED = _("a date such as 26/11/2026, 26 Nov 2026, 2026-11-26 or today")

_DAY_FIRST = re.compile(r"(\d{1,2})[/.\- ](\d{1,2})[/.\- ](\d{4})\Z", re.ASCII)
_WORDED = re.compile(r"(\d{1,2})[ \-]?([a-z]{3,9})[ \-]?(\d{4})\Z", re.ASCII)
_YEAR_FIRST = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})\Z", re.ASCII)


def read_date(text: str, today: dt.date) -> dt.date | None:
    """Return the date a text means, or None where it means none.

    Args:
        text: ``d/m/yyyy`` (also with points, hyphens or blanks), ``d mmm yyyy``, ``yyyy-mm-dd``, ``today``
            or ``yesterday``.
        today: the date of the clock.
    """
    bare = " ".join(text.lower().split())
    if bare in {"today", "yesterday"}:
        return today - dt.timedelta(days=int(bare == "yesterday"))
    if hit := _YEAR_FIRST.match(bare):
        return _date(hit[1], hit[2], hit[3])
    if hit := _DAY_FIRST.match(bare):
        return _date(hit[3], hit[2], hit[1])
    if hit := _WORDED.match(bare):
        months = [number for number, name in enumerate(MONTHS, 1) if name.startswith(hit[2])]
        return _date(hit[3], str(months[0]), hit[1]) if len(months) == 1 else None
    return None


def long_date(date: dt.date) -> str:
    """Return a date as it is shown: 26 Nov 2026."""
    return f"{date.day} {MONTHS[date.month - 1][:3].title()} {date.year}"


def weekday_date(date: dt.date) -> str:
    """Return a date with its day of the week, to check a typed date against: Thu 26 Nov 2026."""
    return f"{('Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun')[date.weekday()]} {long_date(date)}"


def until_words(last: dt.date, today: dt.date) -> str:
    """Return how long something holds: valid until 25 Dec 2026; ran out on 20 Nov 2026."""
    if last < today:
        return _("ran out on {date}", date=long_date(last))
    return _("valid until {date}", date=long_date(last))


def _date(year: str, month: str, day: str) -> dt.date | None:
    try:
        return dt.date(int(year), int(month), int(day))
    except ValueError:
        return None
