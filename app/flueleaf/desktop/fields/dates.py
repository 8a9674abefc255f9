"""Reading a typed date: day first, the month as a word, or year first; never a guess about the century."""

from __future__ import annotations

import datetime as dt
import re

from flueleaf.desktop.calendar_words import WITH_WEEKDAY, month_of
from flueleaf.desktop.words import LANGUAGE, _, shown_day

_DAY_FIRST = re.compile(r"([0-9]{1,2})[/.\- ]([0-9]{1,2})[/.\- ]([0-9]{4})\Z")
_WORDED = re.compile(r"([0-9]{1,2})\.?[ \-]?(\D{3,20}?)[ \-]?([0-9]{4})\Z")
_YEAR_FIRST = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})\Z")


def read_date(text: str, today: dt.date) -> dt.date | None:
    """Return the date a text means, or None where it means none.

    Args:
        text: ``d/m/yyyy`` (also with points, hyphens or blanks), ``d mmm yyyy``, ``yyyy-mm-dd``, ``today``
            or ``yesterday``; the words are those of the window's language or of English.
        today: the date of the clock.
    """
    bare = " ".join(text.lower().split())
    if bare in {"today", _("today").lower()}:
        return today
    if bare in {"yesterday", _("yesterday").lower()}:
        return today - dt.timedelta(days=1)
    if hit := _YEAR_FIRST.match(bare):
        return _date(hit[1], hit[2], hit[3])
    if hit := _DAY_FIRST.match(bare):
        return _date(hit[3], hit[2], hit[1])
    if hit := _WORDED.match(bare):
        month = month_of(hit[2], LANGUAGE)
        return _date(hit[3], str(month), hit[1]) if month else None
    return None


def long_date(date: dt.date) -> str:
    """Return a date as it is shown: 26 Nov 2026."""
    return shown_day(date)


def weekday_date(date: dt.date) -> str:
    """Return a date with its day of the week, to check a typed date against: Thu 26 Nov 2026."""
    return shown_day(date, WITH_WEEKDAY)


def field_date(date: dt.date) -> str:
    """Return a date as it is filled into a field: as it is shown, in figures where that reads differently."""
    shown = long_date(date)
    return shown if read_date(shown, date) == date else f"{date.day}/{date.month}/{date.year:04d}"


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


ACCEPTED = _(
    "a date such as 26/11/2026, {worded}, 2026-11-26 or {today}",
    worded=field_date(dt.date(2026, 11, 26)),
    today=_("today"),
)
