"""Last time's readings beside this time's: a change is told only where the instruments cannot explain it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from flueleaf.domain.judging.assessment import Doubt, Judged
from flueleaf.domain.judging.case import Case, PreviousVisit
from flueleaf.domain.judging.doubts import placed
from flueleaf.domain.judging.gas_doubts import shown
from flueleaf.domain.judging.readings import Reading, Readings, read
from flueleaf.domain.judging.rule_table import RuleTable
from flueleaf.domain.judging.uncertainty import Tolerances, has_changed
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.visits import Slip
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import said

# Gas quality and load move good boilers that far. Source: the headless contract, ``changed-since-last``.
SHARE_OF_LIMIT = Fraction("0.1")
POINTS_PCT = Fraction(1)


@dataclass(frozen=True, slots=True)
class Change:
    """A quantity of this visit beside the one of an earlier visit.

    Attributes:
        floor: a difference that good appliances show anyway, in the quantity's unit.
    """

    visit: PreviousVisit
    old: Reading
    new: Reading
    floor: Fraction

    @property
    def difference(self) -> Fraction:
        """Now less then."""
        return Fraction(self.new.value) - Fraction(self.old.value)

    @property
    def variance(self) -> Fraction:
        """Of the difference."""
        return self.old.variance + self.new.variance

    @property
    def told(self) -> bool:
        """Whether neither the instruments nor the floor explain the difference."""
        return has_changed(self.old.value, self.new.value, variance=self.variance, floor=self.floor)


def changed_since_last(
    case: Case, readings: Readings, judged: Iterable[Judged], defaults: RuleTable
) -> tuple[Doubt, ...]:
    """Return a doubt for each quantity of a slip that has changed since the latest earlier visit.

    Args:
        case: with the earlier visits.
        readings: of the slip that decides its point and rate.
        judged: its verdicts, for the limits.
        defaults: the default tolerances.
    """
    return tuple(
        placed(_doubt(change.visit, change.old, change.new), readings.slip)
        for change in compare(case, readings, judged, defaults)
        if change.told
    )


def compare(
    case: Case, readings: Readings, judged: Iterable[Judged], defaults: RuleTable
) -> tuple[Change, ...]:
    """Return each quantity of a slip beside the latest earlier visit; see ``changed_since_last``."""
    last = _last(case, readings.slip)
    if last is None:
        return ()
    visit, slip = last
    before = read(slip, case.fuel, Tolerances.of(visit.instrument, defaults))
    floors = _floors(judged)
    return tuple(
        Change(visit, old, new, floors.get(new.quantity, Fraction(0)))
        for old, new in _pairs(before, readings)
    )


def _last(case: Case, slip: Slip) -> tuple[PreviousVisit, Slip] | None:
    """Return the latest earlier visit of the same fuel with that point and rate, and its deciding slip."""
    visits = [
        visit
        for visit in case.previous
        if (visit.fuel is None or visit.fuel == case.fuel) and (case.date is None or visit.date <= case.date)
    ]
    for visit in sorted(visits, key=lambda visit: visit.date, reverse=True):
        same = [one for one in visit.slips if (one.point, one.rate) == (slip.point, slip.rate)]
        if same:
            return visit, max(same, key=lambda one: one.attempt)
    return None


def _pairs(before: Readings, now: Readings) -> Iterator[tuple[Reading, Reading]]:
    """Pair what both visits have; O2 and CO2 only as measured, since one derived says nothing of its own."""
    for old, new in ((before.o2_pct, now.o2_pct), (before.co2_pct, now.co2_pct)):
        if old and new and old.basis == new.basis == "measured":
            yield old, new
    if before.co_ppm and now.co_ppm:
        yield before.co_ppm, now.co_ppm
    if before.ratios and now.ratios:
        yield before.ratios[0], now.ratios[0]


def _floors(judged: Iterable[Judged]) -> dict[str, Fraction]:
    """Return what a change must exceed whatever the instruments: a tenth of the limit, or a point of gas.

    Without a limit the instruments alone tell.
    """
    floors = {"o2_pct": POINTS_PCT, "co2_pct": POINTS_PCT}
    for one in judged:
        if one.quantity in ("co_ppm", "ratio") and one.limit is not None:
            floors[one.quantity] = SHARE_OF_LIMIT * Fraction(one.limit)
    return floors


def _doubt(visit: PreviousVisit, old: Reading, new: Reading) -> Doubt:
    text = said(
        "{label} was {old} on {date} and is {new} now: more than both analysers' tolerances "
        "explain. Look for the cause.",
        label=QUANTITIES[new.quantity].label,
        old=shown(old, 5),
        date=in_words(visit.date),
        new=shown(new, 5),
    )
    return Doubt("changed-since-last", new.quantity, text)
