"""The drift of an appliance's readings, from its history and from a slip being typed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from flueleaf.domain.judging.assessment import Assessment
from flueleaf.domain.judging.comparable import DRIFTING, Comparable, Taken, comparable
from flueleaf.domain.judging.drift import Crossing, Drift, crossing, drift_of
from flueleaf.domain.records.register import Appliance, Rate
from flueleaf.domain.records.visits import Visit, Work
from flueleaf.operations.drift import drift_text
from flueleaf.operations.facts import wording
from flueleaf.operations.page_records import ChartLimits, DriftRow, ReadingRow
from flueleaf.storage import visits as stored

if TYPE_CHECKING:
    from sqlite3 import Connection

RATES: tuple[Rate, ...] = ("max", "min", "mid")
NOW = "now"  # the visit being typed, beside the ids of those in the book


def drifts_of(history: Iterable[ReadingRow], fuel: str, limits: ChartLimits) -> tuple[DriftRow, ...]:
    """Return how ratio and CO have moved at each rate.

    Args:
        history: the slips of an appliance, oldest first; those at the flue count.
        fuel: what it burns now.
        limits: that hold at the flue.
    """
    taken = [_taken(row) for row in history if row.point == "flue"]
    known = {"co_ppm": limits.co_ppm, "ratio": limits.ratio}
    rates = dict.fromkeys(slip.rate for slip in taken if slip.values)
    return _rows(comparable(taken, fuel), [rate for rate in RATES if rate in rates], known)


def taken_before(con: Connection, appliance: Appliance | None, date: dt.date) -> tuple[Taken, ...]:
    """Return the slips at a known appliance’s flue before a day, oldest first; none of one not known."""
    if appliance is None or appliance.id is None:
        return ()
    history = stored.history(con, appliance.id)
    return tuple(_taken(past) for past in history if past.point == "flue" and past.date < date)


def _taken(slip: ReadingRow | stored.HistoryReading) -> Taken:
    return Taken(
        visit=slip.visit_id,
        date=slip.date,
        rate=slip.rate,
        attempt=slip.attempt,
        decides=slip.decides,
        values=_drifting(slip.values.get("co_ppm"), slip.ratio),
        adjusted=slip.adjusted,
        fuel=slip.fuel,
    )


def drifts_with(
    before: Sequence[Taken], visit: Visit, work: Work, assessment: Assessment
) -> tuple[DriftRow, ...]:
    """Return how ratio and CO have moved up to a visit being typed, at the rates it has read.

    Args:
        before: the earlier slips at the flue, oldest first.
        visit: the visit.
        work: one appliance of it.
        assessment: of that work; it gives the ratios and the limits.
    """
    now: list[Taken] = []
    limits: dict[tuple[str, Rate], Decimal | None] = {}
    for slip, judged in zip(work.slips, assessment.slips, strict=True):
        if slip.point == "flue":
            ratio = None if judged.ratio is None else float(judged.ratio)
            now.append(
                Taken(
                    visit=NOW,
                    date=visit.date,
                    rate=slip.rate,
                    attempt=slip.attempt,
                    decides=judged.decides,
                    values=_drifting(slip.values.get("co_ppm"), ratio),
                    adjusted=slip.adjusted,
                    fuel=work.appliance.fuel,
                )
            )
            limits |= {
                (one.quantity, slip.rate): one.limit for one in judged.judged if one.sense == "at most"
            }
    read = {(key, slip.rate) for slip in now if slip.decides for key in slip.values}
    if not read:
        return ()
    found = comparable([*before, *now], work.appliance.fuel)
    return tuple(
        _row(found, quantity, rate, limits.get((quantity, rate)))
        for rate in RATES
        for quantity in DRIFTING
        if (quantity, rate) in read
    )


def told(row: DriftRow, today: dt.date | None = None) -> str:
    """Return a drift in a sentence; see ``drift_text``."""
    return drift_text(
        row.drift, wording.unit(row.quantity), row.reached, row.limit, upwards_only=True, today=today
    )


def _drifting(co_ppm: Decimal | None, ratio: float | None) -> dict[str, Decimal]:
    given = {"co_ppm": co_ppm, "ratio": None if ratio is None else Decimal(repr(ratio))}
    return {key: value for key, value in given.items() if value is not None}


def _rows(
    found: Comparable, rates: Iterable[Rate], limits: Mapping[str, Decimal | None]
) -> tuple[DriftRow, ...]:
    return tuple(_row(found, quantity, rate, limits.get(quantity)) for rate in rates for quantity in DRIFTING)


def _row(found: Comparable, quantity: str, rate: Rate, limit: Decimal | None) -> DriftRow:
    readings = found.readings.get((quantity, rate), ())
    drift = drift_of(readings)
    reached = crossing(drift, limit) if limit is not None and _rises(drift) else Crossing()
    return DriftRow(quantity, rate, drift, readings, limit, reached, found.adjusted_on)


def _rises(drift: Drift) -> bool:
    """Tell whether a line goes up: only more of these quantities is beyond a limit."""
    return drift.slope_per_year is not None and drift.slope_per_year > 0
