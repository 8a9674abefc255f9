"""Whether a quantity drifts over the years, how fast, and when it will reach its limit.

Sources: slope: H. Theil, "A rank-invariant method of linear and polynomial regression analysis", 1950; its
interval: P. K. Sen, "Estimates of the regression coefficient based on Kendall's tau", 1968, equation 2.6;
significance: H. B. Mann, "Nonparametric tests against trend", 1945, and M. G. Kendall, "Rank Correlation
Methods", 1975, the variance with ties; all recalled. Definitions, rounding of the interval's places and the
choice between the exact distribution and the normal one are those of scipy.stats 1.17 (``theilslopes`` with
its separate intercept, ``kendalltau`` with ``method="auto"``), read in its source; tests/outside compares.
"""

from __future__ import annotations

import datetime as dt
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from statistics import NormalDist, median
from typing import Literal

DAYS_OF_YEAR = 365.25  # Julian year; IAU (1976), recalled
CONFIDENCE = 0.95
LEVEL = 0.05  # a drift is claimed below it, two-sided; the counterpart of the 95 % interval
MOST_EXACT = 33  # readings up to which the exact distribution is counted; scipy's own choice
MOST_READINGS = 2000  # every pair is looked at: two million of them
_Z = -NormalDist().inv_cdf((1 - CONFIDENCE) / 2)
_SAME_DAY = 1e-6  # of a day: what the arithmetic of the machine may be off by, far below a minute

Method = Literal["exact", "normal", "none"]


@dataclass(frozen=True, slots=True)
class Dated:
    """One value and the day it was read."""

    date: dt.date
    value: Decimal


@dataclass(frozen=True, slots=True)
class Drift:
    """What a row of readings tells of a drift; slopes in the quantity's unit per year of 365.25 days.

    Attributes:
        n: how many readings there are, each counted, those of one day too.
        slope_per_year: the median of the slopes of all pairs of days; None without two days.
        slope_low, slope_high: its 95 % interval; None where ties leave none.
        tau: Kendall's tau-b; None where all days or all values are equal.
        p_value: how often chance alone orders readings so strictly, two-sided; None where tau is.
        p_corrected: the same with Mann's correction for continuity; equal to ``p_value`` where that is exact.
        method: how ``p_value`` was found.
        middle_day, middle_value: medians; the line goes through them.
        first, last: the days of the first and the last reading; None without any.
    """

    n: int
    slope_per_year: float | None = None
    slope_low: float | None = None
    slope_high: float | None = None
    tau: float | None = None
    p_value: float | None = None
    p_corrected: float | None = None
    method: Method = "none"
    middle_day: float = 0.0
    middle_value: float = 0.0
    first: dt.date | None = None
    last: dt.date | None = None

    @property
    def significant(self) -> bool:
        """Whether a drift can be claimed. Where it cannot, nothing is said of steadiness either."""
        return self.p_value is not None and self.p_value < LEVEL

    @property
    def borderline(self) -> bool:
        """Whether the correction for continuity alone decides; with ties and few readings it may."""
        return self.p_corrected is not None and (self.p_corrected < LEVEL) != self.significant

    def value_on(self, day: dt.date, slope_per_year: float | None = None) -> float:
        """Return the value of the line on a day, or of one with another slope through the medians."""
        slope = self.slope_per_year if slope_per_year is None else slope_per_year
        return self.middle_value + (slope or 0.0) * (day.toordinal() - self.middle_day) / DAYS_OF_YEAR


@dataclass(frozen=True, slots=True)
class Crossing:
    """When the line reaches a limit; each day is the one in the course of which it does.

    Attributes:
        on: by the slope itself; None where it never does, or beyond the calendar.
        earliest, latest: by the ends of the slope's interval; None where that end never does.
    """

    on: dt.date | None = None
    earliest: dt.date | None = None
    latest: dt.date | None = None


def drift_of(readings: Iterable[Dated]) -> Drift:
    """Return the drift of some readings, whatever their order.

    Raises:
        ValueError: more than ``MOST_READINGS`` readings.
    """
    rows = sorted(readings, key=lambda one: (one.date, one.value))
    if len(rows) > MOST_READINGS:
        raise ValueError(f"{len(rows)} readings; at most {MOST_READINGS}")
    if not rows:
        return Drift(0)
    days = [one.date.toordinal() for one in rows]
    values, digits = _whole([one.value for one in rows])
    slopes = sorted(
        (values[j] - values[i]) / (days[j] - days[i])
        for j in range(len(rows))
        for i in range(j)
        if days[j] > days[i]
    )
    unit = float(10**digits) / DAYS_OF_YEAR
    low, high = _interval(slopes, days, values)
    trend = _Trend.of(days, values)
    return Drift(
        n=len(rows),
        slope_per_year=median(slopes) / unit if slopes else None,
        slope_low=None if low is None else low / unit,
        slope_high=None if high is None else high / unit,
        tau=trend.tau,
        p_value=trend.p_value,
        p_corrected=trend.p_corrected,
        method=trend.method,
        middle_day=float(median(days)),
        middle_value=float(Fraction(median(map(Fraction, values))) / 10**digits),
        first=rows[0].date,
        last=rows[-1].date,
    )


def crossing(drift: Drift, limit: Decimal) -> Crossing:
    """Return when a claimed drift reaches a limit, from whichever side the readings come.

    A line that reached the limit before the first reading leads away from it: there is no such day. One that
    reached it between the first and the last reading has that day, though it has passed.
    """
    if not drift.significant or not drift.slope_per_year or drift.first is None:
        return Crossing()
    on = _reached(drift, drift.slope_per_year, limit)
    if on is None or on < drift.first.toordinal():
        return Crossing()
    # A flat enough end of the interval never comes near, or turns back: there it has no day.
    ends = [
        None if slope is None or slope * drift.slope_per_year <= 0 else _reached(drift, slope, limit)
        for slope in (drift.slope_low, drift.slope_high)
    ]
    before = [day for day in ends if day is not None and day <= on]
    after = [day for day in ends if day is not None and day >= on]
    return Crossing(_day(on), _day(min(before)) if before else None, _day(max(after)) if after else None)


def _reached(drift: Drift, slope_per_year: float, limit: Decimal) -> float | None:
    """Return the day, as an ordinal with its fraction, on which a line through the medians is at a limit."""
    way = float(limit) - drift.middle_value
    days = way / slope_per_year * DAYS_OF_YEAR
    return drift.middle_day + days if math.isfinite(days) else None


def _day(ordinal: float) -> dt.date | None:
    """Return the day within which a moment lies; None beyond the calendar's years 1 to 9999."""
    whole = math.floor(ordinal + _SAME_DAY)
    return dt.date.fromordinal(whole) if 1 <= whole <= dt.date.max.toordinal() else None


def _whole(values: Sequence[Decimal]) -> tuple[list[int], int]:
    """Return values as whole numbers of their finest digit, and how many digits stand behind the point."""
    digits = max(0, *(-_exponent(value) for value in values))
    return [int(Fraction(value) * 10**digits) for value in values], digits


def _exponent(value: Decimal) -> int:
    exponent = value.as_tuple().exponent
    if not isinstance(exponent, int):
        raise ValueError(f"{value} is no number")
    return exponent


def _ties(values: Iterable[int]) -> list[int]:
    """Return the sizes of the groups of equal values, those of one left out."""
    return [count for count in Counter(values).values() if count > 1]


def _spread18(n: int, *ties: Iterable[int]) -> int:
    """Return n (n − 1) (2 n + 5) less the same of each group of ties: 18 times a variance of Kendall's S."""
    return n * (n - 1) * (2 * n + 5) - sum(k * (k - 1) * (2 * k + 5) for group in ties for k in group)


def _interval(
    slopes: Sequence[float], days: Sequence[int], values: Sequence[int]
) -> tuple[float | None, float | None]:
    """Return the ends of the 95 % interval of the median slope; Sen 1968, equation 2.6, with both ties.

    Places among the slopes are rounded half to even and kept inside the row, as scipy does: below six
    readings the interval is the whole range of slopes.
    """
    spread18 = _spread18(len(days), _ties(days), _ties(values))
    if not slopes or spread18 < 0:
        return None, None
    wide = _Z * math.sqrt(spread18 / 18)
    low = max(round((len(slopes) - wide) / 2) - 1, 0)
    high = min(round((len(slopes) + wide) / 2), len(slopes) - 1)
    return slopes[low], slopes[high]


@dataclass(frozen=True, slots=True)
class _Trend:
    """Kendall's test of a row of readings."""

    tau: float | None
    p_value: float | None
    p_corrected: float | None
    method: Method

    @classmethod
    def of(cls, days: Sequence[int], values: Sequence[int]) -> _Trend:
        n, pairs = len(days), len(days) * (len(days) - 1) // 2
        day_ties, value_ties = _ties(days), _ties(values)
        same_day, same_value = _tied_pairs(day_ties), _tied_pairs(value_ties)
        if pairs in (same_day, same_value):
            return cls(None, None, None, "none")
        s = _concordant_less_discordant(days, values)
        tau = s / math.sqrt((pairs - same_day) * (pairs - same_value))
        discordant = (pairs - s) // 2  # where nothing is tied
        if not day_ties and not value_ties and (n <= MOST_EXACT or min(discordant, pairs - discordant) <= 1):
            chance = exact_p(n, min(discordant, pairs - discordant))
            return cls(tau, chance, chance, "exact")
        spread = math.sqrt(_variance(n, day_ties, value_ties))
        corrected = max(abs(s) - 1, 0)
        return cls(tau, _normal_p(abs(s) / spread), _normal_p(corrected / spread), "normal")


def _tied_pairs(ties: Iterable[int]) -> int:
    return sum(k * (k - 1) // 2 for k in ties)


def _concordant_less_discordant(days: Sequence[int], values: Sequence[int]) -> int:
    """Return Kendall's S; ``days`` ascending."""
    return sum(
        (values[j] > values[i]) - (values[j] < values[i])
        for j in range(len(days))
        for i in range(j)
        if days[j] > days[i]
    )


def _variance(n: int, day_ties: Sequence[int], value_ties: Sequence[int]) -> float:
    """Return the variance of S where days or values are tied; Kendall 1975, recalled, and scipy's, read.

    Args:
        n: how many readings, 3 or more: of two that are tied no tau can be told.
        day_ties, value_ties: the sizes of the groups of equal ones.
    """
    pairs2 = n * (n - 1)
    both = 2 * _tied_pairs(day_ties) * _tied_pairs(value_ties) / pairs2
    threes = [sum(k * (k - 1) * (k - 2) for k in ties) for ties in (day_ties, value_ties)]
    by_threes = threes[0] * threes[1] / (9 * pairs2 * (n - 2))
    return _spread18(n, day_ties, value_ties) / 18 + both + by_threes


def _normal_p(z: float) -> float:
    return math.erfc(z / math.sqrt(2))


def exact_p(n: int, fewer: int) -> float:
    """Return the two-sided chance that an order of n different values has so few pairs of one kind.

    Counted: how many of the n! orders have at most so many inversions (Kendall 1975; recalled). So no row of
    four can be significant (2 of 24 orders, 0.083), and one of five is when all rise or all fall (2 of 120).

    Args:
        n: how many values, 1 or more.
        fewer: the smaller of the numbers of concordant and discordant pairs, 0 to n (n − 1) / 4.
    """
    orders = [1] + [0] * fewer
    for before in range(n):
        # Putting in a value behind others adds 0 inversions to as many as there are before it.
        orders = [sum(orders[max(k - before, 0) : k + 1]) for k in range(fewer + 1)]
    # In the middle those of both kinds are counted twice.
    return min(float(Fraction(2 * sum(orders), math.factorial(n))), 1.0)
