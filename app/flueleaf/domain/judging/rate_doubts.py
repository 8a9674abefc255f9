"""Whether the slips of high and low rate stand in each other's place.

Three signs, each taken only where it is clear of the tolerances: each CO2 lies outside the maker's window of
its own rate and inside that of the other; the readings lie crosswise to last time's; or low rate is both
hotter in the flue and richer in CO2 than high rate. All three are our own choice, made so that a good pair of
slips never shows one of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from flueleaf.domain.judging.assessment import Doubt
from flueleaf.domain.judging.case import Case, PreviousVisit
from flueleaf.domain.judging.readings import Reading, Readings, read
from flueleaf.domain.judging.rule_table import RuleTable
from flueleaf.domain.judging.uncertainty import K_CHANGE, Tolerances
from flueleaf.domain.records.register import Rate
from flueleaf.domain.records.visits import Slip
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import lines, said

CODE = "rates-swapped"
# Water still warming between the two slips makes a flue hotter by a few degrees, °C. Common practice.
WARMING_C = 5
# What tells the rates of one appliance apart, visit by visit; CO wanders too much for it.
_TELLING = ("co2_pct", "o2_pct", "flue_c")
_QUESTION = said("High and low rate may stand in each other’s place: look which slip is which.")


def rates_swapped(case: Case, readings: Readings, defaults: RuleTable) -> Iterator[Doubt]:
    """Yield a doubt, not placed, if the slip of high rate looks like one of low rate and the other way round.

    Args:
        case: with the deciding slip of low rate, and last time's.
        readings: of the deciding flue slip at high rate; nothing is yielded for any other.
        defaults: the default tolerances.
    """
    if (readings.slip.point, readings.slip.rate) != ("flue", "max"):
        return
    other = deciding(case.slips, "min")
    if other is None:
        return
    low = read(other, case.fuel, readings.tolerances)
    signs = [
        *_windows(case, readings, low),
        *_last_time(case, readings, low, defaults),
        *_upside(readings, low),
    ]
    if signs:
        yield Doubt(CODE, "", lines([*signs, _QUESTION], " "))


def deciding(slips: Iterable[Slip], rate: Rate) -> Slip | None:
    """Return the last attempt at the flue at a rate."""
    there = [slip for slip in slips if (slip.point, slip.rate) == ("flue", rate)]
    return max(there, key=lambda slip: slip.attempt, default=None)


def _windows(case: Case, high: Readings, low: Readings) -> Iterator[str]:
    """Each CO2 lies outside its own window of the maker's and inside the other one."""
    windows = case.limits.co2_pct if case.limits else {}
    at_max, at_min = windows.get("max"), windows.get("min")
    if not (at_max and at_min and high.co2_pct and low.co2_pct):
        return
    one, other = high.co2_pct.value, low.co2_pct.value
    if (
        at_min.low <= one <= at_min.high
        and at_max.low <= other <= at_max.high
        and not at_max.low <= one <= at_max.high
        and not at_min.low <= other <= at_min.high
    ):
        yield said(
            "CO2 is {high:.1f} % at high rate and {low:.1f} % at low rate: each lies in the maker’s window "
            "of the other.",
            high=float(one),
            low=float(other),
        )


def _last_time(case: Case, high: Readings, low: Readings, defaults: RuleTable) -> Iterator[str]:
    """Wherever last time told the rates apart, each reading now is that of the other rate."""
    for visit in sorted(_earlier(case), key=lambda visit: visit.date, reverse=True):
        slips = deciding(visit.slips, "max"), deciding(visit.slips, "min")
        if slips[0] is None or slips[1] is None:
            continue
        tolerances = Tolerances.of(visit.instrument, defaults)
        then_high, then_low = (read(slip, case.fuel, tolerances) for slip in slips if slip is not None)
        told = [_crosswise(key, (high, low), (then_high, then_low)) for key in _TELLING]
        if True in told and False not in told:
            yield said(
                "The readings at high rate are those of low rate on {date}, and the other way round.",
                date=in_words(visit.date),
            )
        return


def _earlier(case: Case) -> Iterator[PreviousVisit]:
    for visit in case.previous:
        same_fuel = visit.fuel is None or visit.fuel == case.fuel
        if same_fuel and (case.date is None or visit.date <= case.date):
            yield visit


def _crosswise(key: str, now: tuple[Readings, Readings], then: tuple[Readings, Readings]) -> bool | None:
    """Tell whether a quantity is crosswise to last time's; None where nothing tells the rates apart."""
    found = [_measured(readings, key) for readings in (*now, *then)]
    if None in found:
        return None
    high, low, then_high, then_low = (reading for reading in found if reading is not None)
    if not (_apart(then_high, then_low) and _apart(high, low)):
        return None
    return not _apart(high, then_low) and not _apart(low, then_high)


def _measured(readings: Readings, key: str) -> Reading | None:
    return next((reading for reading in readings.of(key) if reading.basis == "measured"), None)


def _apart(one: Reading, other: Reading) -> bool:
    """Tell whether two readings differ by more than both instruments explain."""
    difference = Fraction(one.value) - Fraction(other.value)
    return difference**2 > K_CHANGE**2 * (one.variance + other.variance)


def _upside(high: Readings, low: Readings) -> Iterator[str]:
    """Low rate is hotter in the flue and richer in CO2, both clear of the tolerances."""
    hot, cool = _measured(low, "flue_c"), _measured(high, "flue_c")
    rich, lean = _measured(low, "co2_pct"), _measured(high, "co2_pct")
    if not (hot and cool and rich and lean):
        return
    if _more(high, hot, cool, WARMING_C) and _more(high, rich, lean, 0):
        yield said(
            "At low rate the flue is hotter ({hot:.0f} against {cool:.0f} °C) and CO2 is higher "
            "({rich:.1f} against {lean:.1f} %), which is unusual.",
            hot=float(hot.value),
            cool=float(cool.value),
            rich=float(rich.value),
            lean=float(lean.value),
        )


def _more(readings: Readings, one: Reading, other: Reading, besides: int) -> bool:
    """Tell whether one reading is above another by more than both tolerances and something besides."""
    half_width = readings.tolerances.half_width
    allowed = half_width(one.quantity, one.value) + half_width(other.quantity, other.value)
    return Fraction(one.value) - Fraction(other.value) > allowed + besides
