"""Which readings of an appliance a drift may be looked for in: the same fuel, since the last adjustment.

An adjustment, as a change of fuel, begins a new life of the burner: what was read before tells nothing of how
it moves from then on. Source: common practice.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from flueleaf.domain.judging.drift import Dated
from flueleaf.domain.records.register import Rate

DRIFTING = ("ratio", "co_ppm")  # the quantities whose drift is looked for, in the order shown


@dataclass(frozen=True, slots=True)
class Taken:
    """One slip at the flue.

    Attributes:
        visit: what tells visits apart.
        decides: whether it is the last attempt of its rate on that visit.
        adjusted: whether it was taken after an adjustment on that visit.
        fuel: what burned then; "" where nobody noted it, which counts as the fuel of now.
        values: quantity key to value, the ratio as it was judged.
    """

    visit: str
    date: dt.date
    rate: Rate
    attempt: int
    decides: bool
    values: Mapping[str, Decimal] = field(default_factory=dict)
    adjusted: bool = False
    fuel: str = ""


@dataclass(frozen=True, slots=True)
class Comparable:
    """The readings that may be compared, by quantity and rate, oldest first.

    Attributes:
        adjusted_on: the day of the adjustment they begin with, None where they begin with the first visit.
    """

    readings: Mapping[tuple[str, Rate], tuple[Dated, ...]] = field(default_factory=dict)
    adjusted_on: dt.date | None = None


def comparable(taken: Sequence[Taken], fuel: str) -> Comparable:
    """Return the readings a drift may be looked for in.

    Args:
        taken: every slip at the flue, oldest first.
        fuel: what the appliance burns now.
    """
    visits: dict[str, list[Taken]] = {}
    for slip in taken:
        visits.setdefault(slip.visit, []).append(slip)
    kept: list[Taken] = []
    adjusted_on: dt.date | None = None
    for slips in visits.values():
        if any(slip.fuel not in ("", fuel) for slip in slips):
            kept, adjusted_on = [], None
            continue
        if _was_adjusted(slips):
            kept, adjusted_on = [], slips[0].date
        kept += _after_adjusting(slips)
    found: dict[tuple[str, Rate], list[Dated]] = {}
    for slip in kept:
        for quantity in DRIFTING:
            if quantity in slip.values:
                found.setdefault((quantity, slip.rate), []).append(Dated(slip.date, slip.values[quantity]))
    return Comparable({key: tuple(readings) for key, readings in found.items()}, adjusted_on)


def _was_adjusted(slips: Sequence[Taken]) -> bool:
    """Tell whether something was adjusted on a visit: it is said so, or a rate was read again."""
    return any(slip.adjusted or slip.attempt > 1 for slip in slips)


def _after_adjusting(slips: Sequence[Taken]) -> list[Taken]:
    """Return the slips that decide; where one is said to be after an adjustment, only those that are."""
    said = any(slip.adjusted for slip in slips)
    return [slip for slip in slips if slip.decides and (slip.adjusted or not said)]
