"""When a check, a service or a notice falls due, and why.

Source: Gas Safety (Installation and Use) Regulations 1998, reg. 36A (SI 2018/139): a check completed in the
two months that end with the deadline counts as made on the deadline. The intervals stand in the rule table.
"""

from __future__ import annotations

import calendar
import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import Day, Month, Sentence, as_kept, marked, reread, said

EARLIEST = dt.date(1990, 1, 1)
LATEST = dt.date(2200, 1, 1)
ACCEPTED = said("a date as YYYY-MM-DD, {earliest} to {latest}", earliest=EARLIEST, latest=LATEST)
ANCHOR_ACCEPTED = said(
    "an earlier deadline on the same day of the month, or on one that this month is too short for"
)

# A reason is kept in English, in the book and on papers; ``retold`` reads it by these again.
_REASON = marked("{what}: {told} ({source}).")
_COUNTED = marked("counted from {start}")
_STAYS = marked(
    "done on {start}, within {window_months} months before the deadline of {previous}, "
    "so the anniversary stays"
)
_LATE = marked("done on {start}, after the deadline of {previous}, so it counts from then")
_EARLY = marked(
    "done on {start}, {window_months} months or more before the deadline of {previous}, "
    "so it counts from then"
)


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the table.

    Attributes:
        counts_from: the fact the interval runs from: checked, installed, known or completed.
        months, days: the interval; calendar months are clamped to the month's end.
        window_months: a check within so many months before a deadline keeps its anniversary; 0: never.
        renews: the rule follows an earlier deadline, so ``previous_due`` and ``anchor`` count.
        why: what falls due, in words that begin a sentence.
    """

    name: str
    counts_from: str
    months: int
    days: int
    window_months: int
    renews: bool
    why: str
    source: str
    checked: str


@dataclass(frozen=True, slots=True)
class Plan:
    """What falls due.

    Attributes:
        window_opens: the first day on which the next check keeps the anniversary; None without one.
        why: a sentence with its source.
        anchor: the date to hand on as ``anchor`` next time; None where the rule keeps no anniversary.
    """

    next_due: dt.date
    window_opens: dt.date | None
    why: str
    anchor: dt.date | None = None


def plan(rule: Rule, **facts: dt.date | None) -> Plan:
    """Return the next due date of a rule.

    Args:
        rule: the rule.
        facts: the date the rule counts from; where it renews also ``previous_due`` (the deadline this check
            met or missed; None where there was none) and ``anchor`` (an earlier deadline whose day of the
            month is kept where a month is long enough).

    Raises:
        Refused: a fact is missing, unknown, no date, out of range, or the anchor belongs to another deadline.
    """
    _refuse_faults(rule, facts)
    start = facts[rule.counts_from]
    assert start is not None
    previous, anchor = facts.get("previous_due"), facts.get("anchor")
    kept = previous is not None and _keeps(previous, start, rule.window_months)
    if previous is not None and kept:
        anchor = anchor or previous
        due = add_months(previous, rule.months, day=anchor.day)
    else:
        anchor = start if rule.window_months else None
        due = add_months(start, rule.months) + dt.timedelta(days=rule.days)
    opens = None
    if rule.window_months:
        opens = add_months(due, -rule.window_months) + dt.timedelta(days=1)
    return Plan(due, opens, _why(rule, start, previous), anchor)


def add_months(date: dt.date, months: int, *, day: int | None = None) -> dt.date:
    """Return the same day some calendar months on (or back), clamped to the month's end.

    Args:
        day: the day of the month wanted, the date's own by default.
    """
    year, month = divmod(date.year * 12 + date.month - 1 + months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return dt.date(year, month + 1, min(day or date.day, last))


def retold(reason: str) -> str:
    """Return a kept reason as the sentence that ``plan`` wrote, so that it can be said in another language.

    A reason that ``plan`` did not write so is returned as it is.
    """
    return reread(reason, _REASON, what=as_kept, told=_told) or reason


def in_words(date: dt.date) -> Day:
    """Return a date as ``9 February 2026``, in English whatever the machine's language."""
    return Day(f"{date.day} {_MONTHS[date.month - 1]} {date.year}", date)


def month_in_words(date: dt.date) -> Month:
    """Return the month of a date as ``February 2026``, in English whatever the machine's language."""
    return Month(f"{_MONTHS[date.month - 1]} {date.year}", date)


_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def _keeps(deadline: dt.date, checked: dt.date, window_months: int) -> bool:
    """Tell whether a check lies in the months that end with the deadline.

    The period begins on the day after the corresponding date: exactly two months before is outside.
    """
    return add_months(deadline, -window_months) < checked <= deadline


def _why(rule: Rule, start: dt.date, previous: dt.date | None) -> str:
    if previous is None:
        told = said(_COUNTED, start=in_words(start))
    elif start > previous:
        told = said(_LATE, start=in_words(start), previous=in_words(previous))
    else:
        pattern = _STAYS if _keeps(previous, start, rule.window_months) else _EARLY
        told = said(
            pattern,
            start=in_words(start),
            window_months=rule.window_months,
            previous=in_words(previous),
        )
    return said(_REASON, what=as_kept(rule.why), told=told, source=rule.source)


def _told(words: str) -> Sentence | None:
    """Return how a date was counted, read from its words."""
    days = {"start": _day, "previous": _day}
    found = (reread(words, pattern, **days) for pattern in (_COUNTED, _STAYS, _LATE, _EARLY))
    return next((told for told in found if told is not None), None)


def _day(words: str) -> Day | None:
    """Return the day that words mean as ``in_words`` writes them."""
    day, _, rest = words.partition(" ")
    month, _, year = rest.partition(" ")
    try:
        made = in_words(dt.date(int(year), _MONTHS.index(month) + 1, int(day)))
    except ValueError:
        return None
    return made if made == words else None


def _refuse_faults(rule: Rule, facts: Mapping[str, dt.date | None]) -> None:
    known = {rule.counts_from} | ({"previous_due", "anchor"} if rule.renews else set())
    faults = [
        Fault(
            key, str(value), said("for “{rule}” only {known}", rule=rule.name, known=", ".join(sorted(known)))
        )
        for key, value in facts.items()
        if key not in known and value is not None
    ]
    if facts.get(rule.counts_from) is None:
        faults.append(Fault(rule.counts_from, "", ACCEPTED))
    faults += [
        Fault(key, str(value), ACCEPTED)
        for key, value in facts.items()
        if key in known and value is not None and not _is_sound(value)
    ]
    if not faults:
        faults += _anchor_faults(facts.get("previous_due"), facts.get("anchor"))
    if faults:
        raise Refused(faults)


def _is_sound(value: object) -> bool:
    """Tell whether a value is a plain date in range (an instant is none: its day depends on the place)."""
    return type(value) is dt.date and EARLIEST <= value <= LATEST


def _anchor_faults(previous: dt.date | None, anchor: dt.date | None) -> list[Fault]:
    """Refuse an anchor that would move the deadline instead of keeping its day."""
    if anchor is None:
        return []
    if previous is None:
        return [Fault("previous_due", "", said("{date}, where an anchor is given", date=ACCEPTED))]
    if anchor > previous or add_months(previous, 0, day=anchor.day) != previous:
        return [
            Fault(
                "anchor",
                str(anchor),
                said(
                    "{date}, not after {previous}",
                    date=ANCHOR_ACCEPTED,
                    previous=previous,
                ),
            )
        ]
    return []
