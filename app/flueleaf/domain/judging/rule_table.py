"""Rule tables: limits, guide figures and default tolerances with source, edition, status; found by date."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from flueleaf.domain.records.register import Point, Rate, Tolerance

Sense = Literal["at most", "at least"]
Status = Literal["read", "common practice", "recalled", "empty", "owner"]

SENSES: tuple[Sense, ...] = ("at most", "at least")
# What a shipped table may say of itself; "owner" is said of what the owner entered in the book.
STATUSES: tuple[Status, ...] = ("read", "common practice", "recalled", "empty")
# Slots that the owner may fill: what was read in its source is not corrected from elsewhere.
OWNERS: Status = "owner"
OPEN_TO_OWNER: tuple[Status, ...] = ("common practice", "recalled", "empty", "owner")


@dataclass(frozen=True, slots=True)
class Rule:
    """One slot of a table: a limit, or a figure that is shown and never judges.

    Attributes:
        key: the quantity's key (``co_ppm``), "" for a figure of another kind; unit: as printed.
        limit: None in an empty slot, which the owner fills from the own copy of the standard.
        points, rates: where it applies; kinds: names of kinds, empty for every kind that names the table.
        half_width: tolerance half-width that counts instead of the instrument's, None for the instrument's.
        note: why, in a sentence.
        slot: unique in the table and the same in each of its editions; title: what a person calls it.
        information: whether it is only shown; over: the time it is an average of or is reached in, "8 h".
        edition, source: where another document than the table's is behind it, as with an owner's entry.
        shipped: the limit that would judge without the owner's entry, None where none would.
    """

    key: str
    unit: str
    sense: Sense
    limit: Decimal | None
    points: tuple[Point, ...]
    rates: tuple[Rate, ...]
    status: Status
    kinds: tuple[str, ...] = ()
    clause: str = ""
    half_width: Decimal | None = None
    note: str = ""
    slot: str = ""
    title: str = ""
    information: bool = False
    over: str = ""
    edition: str = ""
    source: str = ""
    shipped: Decimal | None = None

    @property
    def judges(self) -> bool:
        """Whether it may judge: a recalled or empty slot never does, nor does what is only information."""
        known = self.limit is not None and self.status in ("read", "common practice", "owner")
        return known and not self.information


@dataclass(frozen=True, slots=True)
class RuleTable:
    """One edition of one table.

    Attributes:
        table: its key; title: what a person calls it.
        valid_from, valid_to: first and last day of work it counts for; valid_to None while it is current.
        checked: how and when it was compared with its source.
        tolerances: default half-widths by quantity key, where the table gives any.
    """

    table: str
    title: str
    edition: str
    source: str
    valid_from: dt.date
    checked: str
    valid_to: dt.date | None = None
    rules: tuple[Rule, ...] = ()
    tolerances: Mapping[str, Tolerance] = field(default_factory=dict)
    # What was asked for before: a table is asked the same few questions for every slip.
    _asked: dict[tuple[str, Point, Rate], tuple[Rule, ...]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    def covers(self, on: dt.date | None) -> bool:
        """Whether it counts for work of a day; without a day, whether it is the current edition."""
        if on is None:
            return self.valid_to is None
        return self.valid_from <= on and (self.valid_to is None or on <= self.valid_to)

    def applying(self, *, kind: str, point: Point, rate: Rate) -> tuple[Rule, ...]:
        """Return the rules that may judge a slip of a kind at a point and rate."""
        place = (kind, point, rate)
        if place not in self._asked:
            self._asked[place] = tuple(
                rule
                for rule in self.rules
                if rule.judges
                and point in rule.points
                and rate in rule.rates
                and (not rule.kinds or kind in rule.kinds)
            )
        return self._asked[place]


def editions_on(tables: Iterable[RuleTable], table: str, on: dt.date | None) -> list[RuleTable]:
    """Return the editions of a table that count on a day.

    Raises:
        LookupError: no edition of that table is known at all.
    """
    known = [found for found in tables if found.table == table]
    if not known:
        raise LookupError(f"no rule table called {table}")
    return [found for found in known if found.covers(on)]


def in_force(tables: Iterable[RuleTable], table: str, on: dt.date | None) -> RuleTable:
    """Return the one edition of a table that counts on the day of the work.

    Args:
        tables: every edition known.
        table: the table's key.
        on: the day of the work; None asks for the current edition.

    Raises:
        LookupError: there is no such edition, or more than one.
    """
    hits = editions_on(tables, table, on)
    if len(hits) != 1:
        raise LookupError(f"{table}: {len(hits)} editions in force on {on or 'no date'}")
    return hits.pop()
