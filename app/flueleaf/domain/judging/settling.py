"""When a logged run had settled: the earliest stretch whose movement is lost in the last digit shown.

A window runs from one CO reading to a later one. It is *settled* if for every quantity that was logged

1. it is at least ``SHORTEST_S`` long, holds at least ``LEAST_READINGS`` readings and has no pause in it. A
   pause is longer than ``PAUSE_INTERVALS`` usual intervals of the run and than ``SHORTEST_PAUSE_S``, or
   longer than ``LONGEST_PAUSE_S`` whatever the interval. An empty cell is a reading that is not there;
2. slope: the line of least squares moves by no more than ``SLOPE_DIGITS`` of the display's last digit in
   ``SHORTEST_S``, with ``K_SURE`` standard uncertainties added (what noise hides is no rest), and by no more
   than ``DRIFT_DIGITS`` over the whole window;
3. bend: the middle half and the two outer quarters differ in their means by no more than ``BEND_DIGITS``, the
   uncertainty added likewise: the top of a hump is no rest;
4. spread: the standard deviation about the line is no more than ``STILL_DIGITS``. It may go up to
   ``FLICKER_DIGITS`` where readings next to each other differ as much (von Neumann's mean square successive
   difference, 1941; recalled): a display flickers, a burner hunts more slowly. The highest and the lowest
   reading lie no farther apart than ``REACH_DIGITS``: a spike is no rest.

The uncertainty comes from the readings' own spread about the line, which is how an analyser's noise shows,
and is never taken as less than what rounding to the last digit makes of it, digit / √12 (JCGM 100:2008,
F.2.2.1, resolution of a digital indication; recalled).

The *earliest* settled window is the one that ends first; of those that end there, the shortest. For each
reading that may end one, and each of ``LENGTHS_S``, the shortest stretch at least so long and with readings
enough is looked at. The window found is not drawn out by what comes after it. Its value is the median of its
readings, of an even number the mean of the two in the middle, unrounded.

All is counted in whole numbers, so that a constant added, a shifted clock or another unit
leave the window where it is. Least squares: any textbook; the tests compare with ``scipy.stats``.

Status of the numbers: 60 s was asked for; all others are our own choice, none stands in a standard.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from itertools import accumulate, pairwise
from math import lcm, sqrt
from operator import mul
from statistics import median

LENGTHS_S = (60, 90, 120, 180, 240, 300)  # a noisy or seldom read run needs a longer look
SHORTEST_S = LENGTHS_S[0]
LEAST_READINGS = 5
PAUSE_INTERVALS = 3
SHORTEST_PAUSE_S = 15
LONGEST_PAUSE_S = 90
SLOPE_DIGITS = 1
DRIFT_DIGITS = 2
BEND_DIGITS = 1
STILL_DIGITS = 1
FLICKER_DIGITS = 2
FLICKER_SQUARE = Fraction(9, 4)  # spread may be 1.5 times what neighbouring readings tell
REACH_DIGITS = 12  # six times the widest flicker: some 300 readings of it keep within
K_SURE = 2  # some 95 %

LEAD = "co_ppm"  # whose readings begin and end a window
S_PER_MIN = 60


@dataclass(frozen=True, slots=True)
class Trace:
    """One quantity over time.

    Attributes:
        times_s: when it was read, s, never earlier than the one before.
        values: what was read, with its digits.
        digit: the last digit the display shows, in the unit of the values; above 0.
    """

    times_s: Sequence[Decimal]
    values: Sequence[Decimal]
    digit: Decimal


@dataclass(frozen=True, slots=True)
class Movement:
    """How a quantity moves in a window: of the line of least squares through it.

    Attributes:
        per_min: its slope, unit of the quantity per minute; None where there is but one moment.
        spread: standard deviation about the line, in its unit; None with fewer than three readings.
        rests: whether slope, bend and spread are lost in the last digit.
    """

    per_min: float | None
    spread: float | None
    rests: bool = False


@dataclass(frozen=True, slots=True)
class Settling:
    """What can be said of a run.

    Attributes:
        settled: whether some window of it is settled.
        from_s, to_s: that window; of a run that never settled its last stretch, None without any reading.
        medians: by quantity, in that window or last stretch, where it was read there.
        movements: by quantity, likewise.
    """

    settled: bool
    from_s: Decimal | None = None
    to_s: Decimal | None = None
    medians: Mapping[str, Decimal] = field(default_factory=dict)
    movements: Mapping[str, Movement] = field(default_factory=dict)


def settle(traces: Mapping[str, Trace], beside: Mapping[str, Trace] | None = None) -> Settling:
    """Return the earliest settled window of a run, or what moves at its end.

    Args:
        traces: by quantity key; CO must be among them. A quantity without any reading was not logged.
        beside: by quantity key, what was logged with them and need not rest, as the temperatures of a flue
            that warms for an hour; its medians are those of the same window.

    Raises:
        ValueError: no CO, times that go backwards, or as many times as values are not there.
    """
    runs = _runs(traces)
    lead = runs[LEAD]
    windows = (window for window in _windows(lead) if _rests(runs, lead, window))
    window = next(windows, None)
    told = _told(runs, lead, window or _last(lead), settled=window is not None)
    return replace(told, medians={**told.medians, **_medians_beside(told, beside or {})})


def settled_at_end(traces: Mapping[str, Trace]) -> Settling:
    """Return the settled window that ends with the last CO reading, or what moves there.

    For a run that is still going on. Of windows longer and longer the first settled one, drawn back reading
    by reading as long as it stays settled.

    Raises:
        ValueError: as ``settle``.
    """
    runs = _runs(traces)
    lead = runs[LEAD]
    end = len(lead.times) - 1
    longest: tuple[int, int] | None = None
    starts = range(lead.begins[end], end) if lead.times else ()
    for start in reversed(starts):
        if lead.times[end] - lead.times[start] < SHORTEST_S * lead.per_s:
            continue
        if _rests(runs, lead, (start, end)):
            longest = (start, end)
        elif longest is not None:
            break
    return _told(runs, lead, longest or _last(lead), settled=longest is not None)


class _Run:
    """A trace in whole numbers, with the sums up to each reading."""

    def __init__(self, trace: Trace, per_s: int) -> None:
        if len(trace.times_s) != len(trace.values):
            raise ValueError(f"{len(trace.times_s)} times, but {len(trace.values)} values")
        self.trace = trace
        self.per_s = per_s
        self.per_unit = _parts_of_one((*trace.values, trace.digit))
        self.times = [int(time * per_s) for time in trace.times_s]
        self.values = [int(value * self.per_unit) for value in trace.values]
        self.digit = int(trace.digit * self.per_unit)
        if any(later < earlier for earlier, later in pairwise(self.times)):
            raise ValueError("times go backwards")
        self.t = _sums(self.times)
        self.v = _sums(self.values)
        self.tt = _sums(map(mul, self.times, self.times))
        self.tv = _sums(map(mul, self.times, self.values))
        self.vv = _sums(map(mul, self.values, self.values))
        self.steps = _sums((later - earlier) ** 2 for earlier, later in pairwise(self.values))
        self.pause = _pause(self.times, per_s)
        self.begins = list(self._beginnings())

    def _beginnings(self) -> Iterator[int]:
        """Yield for each reading the first one from which no pause lies before it."""
        begin = 0
        for at, time in enumerate(self.times):
            if at and time - self.times[at - 1] > self.pause:
                begin = at
            yield begin

    def within(self, start: int, end: int) -> tuple[int, int] | None:
        """Return first and last reading between two moments, None where a pause or nothing lies there."""
        first, behind = bisect_left(self.times, start), bisect_right(self.times, end)
        if first == behind:
            return None
        last = behind - 1
        if self.begins[last] > first:
            return None
        if self.times[first] - start > self.pause or end - self.times[last] > self.pause:
            return None
        return first, last


@dataclass(frozen=True, slots=True)
class _Line:
    """The line of least squares through some readings, as ratios of whole numbers.

    Slope = rise / run. Squares about the line = squares / (n · run).
    """

    n: int
    rise: int
    run: int
    squares: int

    @classmethod
    def through(cls, run: _Run, first: int, last: int) -> _Line:
        n, end = last - first + 1, last + 1
        t, v = run.t[end] - run.t[first], run.v[end] - run.v[first]
        along = n * (run.tt[end] - run.tt[first]) - t * t
        rise = n * (run.tv[end] - run.tv[first]) - t * v
        up = n * (run.vv[end] - run.vv[first]) - v * v
        return cls(n, rise, along, up * along - rise * rise)

    def variance(self) -> tuple[int, int]:
        """Return the variance of a reading about the line, over and under the bar."""
        return self.squares, self.n * self.run * (self.n - 2)


def _runs(traces: Mapping[str, Trace]) -> dict[str, _Run]:
    if LEAD not in traces:
        raise ValueError("a run without CO")
    logged = {key: trace for key, trace in traces.items() if trace.times_s or key == LEAD}
    per_s = _parts_of_one(time for trace in logged.values() for time in trace.times_s)
    return {key: _Run(trace, per_s) for key, trace in logged.items()}


def _parts_of_one(numbers: Iterable[Decimal]) -> int:
    """Return into how many parts one is to be divided so that all numbers are whole multiples of a part."""
    return lcm(*(number.as_integer_ratio()[1] for number in numbers))


def _sums(numbers: Iterable[int]) -> list[int]:
    return list(accumulate(numbers, initial=0))


def _pause(times: Sequence[int], per_s: int) -> Fraction:
    """Return the longest interval between two readings that is no pause."""
    intervals = [later - earlier for earlier, later in pairwise(times) if later > earlier]
    shortest = Fraction(SHORTEST_PAUSE_S * per_s)
    if not intervals:
        return shortest
    longest = max(PAUSE_INTERVALS * Fraction(median(intervals)), shortest)
    return min(longest, Fraction(LONGEST_PAUSE_S * per_s))


def _windows(lead: _Run) -> Iterator[tuple[int, int]]:
    """Yield the windows in the order in which they end, shorter ones first."""
    lengths = [length * lead.per_s for length in LENGTHS_S]
    for end, now in enumerate(lead.times):
        for length in lengths:
            start = bisect_right(lead.times, now - length) - 1
            enough = min(start, end + 1 - LEAST_READINGS)
            if enough < lead.begins[end]:
                break  # longer ones begin earlier still
            yield enough, end


def _rests(runs: Mapping[str, _Run], lead: _Run, window: tuple[int, int]) -> bool:
    """Tell whether every quantity rests in a window of the lead."""
    start, end = (lead.times[at] for at in window)
    # The cheap questions first, of all of them: of most windows of a long run one is answered no.
    level = []
    for run in runs.values():
        part = window if run is lead else run.within(start, end)
        line = None if part is None else _level(run, *part)
        if part is None or line is None:
            return False
        level.append((run, part, line))
    return all(_at_rest(run, *part, line) for run, part, line in level)


def _level(run: _Run, first: int, last: int) -> _Line | None:
    """Return the line through some readings if it is level and close to them, uncertainty aside."""
    if last - first + 1 < LEAST_READINGS:
        return None
    line = _Line.through(run, first, last)
    over, under = line.variance()
    along, rise = run.digit * line.run, abs(line.rise)
    if rise * SHORTEST_S * run.per_s >= SLOPE_DIGITS * along:  # so too where all was read at one moment
        return None
    if rise * (run.times[last] - run.times[first]) > DRIFT_DIGITS * along:
        return None
    return line if over <= (FLICKER_DIGITS * run.digit) ** 2 * under else None


def _at_rest(run: _Run, first: int, last: int, line: _Line) -> bool:
    """Tell whether readings that keep close to a level line are at rest."""
    over, under = line.variance()
    if over > (STILL_DIGITS * run.digit) ** 2 * under:
        steps = run.steps[last] - run.steps[first]
        if over * 2 * (line.n - 1) > FLICKER_SQUARE * steps * under:
            return False
    by_rounding = Fraction(run.digit**2, 12)
    over, under = max(Fraction(over, under), by_rounding).as_integer_ratio()
    minute = SHORTEST_S * run.per_s
    room = SLOPE_DIGITS * run.digit * line.run - abs(line.rise) * minute  # above 0: the line is level
    if room**2 * under < K_SURE**2 * over * minute**2 * line.n * line.run:
        return False
    if not _straight(run, first, last, (over, under)):
        return False
    values = run.values[first : last + 1]
    return max(values) - min(values) <= REACH_DIGITS * run.digit


def _straight(run: _Run, first: int, last: int, variance: tuple[int, int]) -> bool:
    """Tell whether the middle half lies level with the two outer quarters."""
    over, under = variance
    n = last - first + 1
    quarter = n // 4
    inner, outer = n - 2 * quarter, 2 * quarter
    middle = run.v[last + 1 - quarter] - run.v[first + quarter]
    ends = run.v[last + 1] - run.v[first] - middle
    room = BEND_DIGITS * run.digit * inner * outer - abs(middle * outer - ends * inner)
    # Squared with its sign: where there is less than no room nothing is enough.
    return room * abs(room) * under >= K_SURE**2 * over * n * inner * outer


def _last(lead: _Run) -> tuple[int, int] | None:
    """Return the last stretch: the shortest window at the end, or what lies there after a pause."""
    if not lead.times:
        return None
    end = len(lead.times) - 1
    enough = bisect_right(lead.times, lead.times[end] - SHORTEST_S * lead.per_s) - 1
    return max(enough, lead.begins[end]), end


def _told(runs: Mapping[str, _Run], lead: _Run, window: tuple[int, int] | None, *, settled: bool) -> Settling:
    if window is None:
        return Settling(settled=False)
    start, end = (lead.times[at] for at in window)
    medians: dict[str, Decimal] = {}
    movements: dict[str, Movement] = {}
    for key, run in runs.items():
        first, last = bisect_left(run.times, start), bisect_right(run.times, end) - 1
        if run is lead:
            first, last = window
        movements[key] = _movement(run, first, last)
        if last >= first:
            medians[key] = median(run.trace.values[first : last + 1])
    times = lead.trace.times_s
    return Settling(settled, times[window[0]], times[window[1]], medians, movements)


def _medians_beside(told: Settling, beside: Mapping[str, Trace]) -> dict[str, Decimal]:
    """Return the medians of what was logged besides, in the window that is told of."""
    if told.from_s is None:
        return {}
    assert told.to_s is not None
    found = {}
    for key, trace in beside.items():
        pairs = zip(trace.times_s, trace.values, strict=True)
        if there := [value for time, value in pairs if told.from_s <= time <= told.to_s]:
            found[key] = median(there)
    return found


def _movement(run: _Run, first: int, last: int) -> Movement:
    line = _Line.through(run, first, last)
    if line.run == 0:  # one moment, or none
        return Movement(None, None)
    per_min = Fraction(line.rise * run.per_s * S_PER_MIN, line.run * run.per_unit)
    over, under = line.variance()
    spread = sqrt(Fraction(over, under)) / run.per_unit if under else None
    level = _level(run, first, last)
    return Movement(float(per_min), spread, level is not None and _at_rest(run, first, last, level))
