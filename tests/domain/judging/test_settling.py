"""Settling against scipy.stats.linregress (scipy 1.17), and properties that no rule may break."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy import stats

from flueleaf.domain.judging import settling
from flueleaf.domain.judging.settling import Movement, Settling, Trace, settle, settled_at_end

PPM = Decimal(1)
TENTH = Decimal("0.1")


def co(values: Sequence[object], times: Sequence[object] | None = None, digit: Decimal = PPM) -> Trace:
    at = range(len(values)) if times is None else times
    return Trace([Decimal(str(t)) for t in at], [Decimal(str(v)) for v in values], digit)


def of(trace: Trace, **more: Trace) -> Settling:
    return settle({"co_ppm": trace, **more})


def window(found: Settling) -> tuple[float, float] | None:
    if not found.settled:
        return None
    assert found.from_s is not None
    assert found.to_s is not None
    return float(found.from_s), float(found.to_s)


def logged(
    course: Callable[[float], float], *, seconds: int, every: float = 1, noise: float = 0.0, seed: int = 1
) -> Trace:
    """Return a run as an analyser logs it, in whole ppm."""
    chance = random.Random(seed)
    times = [n * every for n in range(int(seconds / every) + 1)]
    return co([round(course(t) + chance.gauss(0, noise)) for t in times], times)


def falling(t: float) -> float:
    """140 ppm more at first, a third of that left after every 40 s."""
    return 60 + 140 * math.exp(-t / 40)


# -- how long, how many, how dense ------------------------------------------------------------------------


def test_a_minute_at_rest_is_settled_and_a_second_less_is_not() -> None:
    assert window(of(co([60] * 61))) == (0, 60)
    short = of(co([60] * 60))
    assert window(short) is None
    assert (short.from_s, short.to_s, short.medians) == (0, 59, {"co_ppm": 60})
    assert short.movements["co_ppm"].per_min == 0.0
    assert short.movements["co_ppm"].spread == 0.0


def test_five_readings_are_the_least() -> None:
    assert window(of(co([60] * 4, range(0, 80, 20)))) is None
    assert window(of(co([60] * 5, range(0, 100, 20)))) == (0, 80)
    assert window(of(co([60] * 9, range(0, 540, 60)))) == (0, 240)


def test_a_pause_is_not_looked_across() -> None:
    times = [*range(41), *range(55, 200)]
    assert window(of(co([60] * len(times), times))) == (0, 60), "15 s are none"
    times = [*range(41), *range(56, 200)]
    assert window(of(co([60] * len(times), times))) == (56, 116)


def test_a_slow_log_may_miss_a_reading_but_not_go_silent() -> None:
    slow = [0, 20, 40, 100, 120, 140]
    assert window(of(co([60] * 6, slow))) == (0, 120), "60 s are three of its intervals"
    assert window(of(co([60] * 6, [0, 20, 40, 101, 121, 141]))) is None
    twice = [moment for moment in (0, 20, 40, 100, 120, 140) for _ in range(2)]
    assert window(of(co([60] * 12, twice))) == (20, 100), "a moment read twice is no interval"
    # Whatever the interval: 91 s.
    assert window(of(co([60] * 8, range(0, 728, 91)))) is None
    assert window(of(co([60] * 8, range(0, 720, 90)))) is not None


def test_readings_of_one_moment_are_no_line() -> None:
    found = of(co([60] * 9, [5] * 9))
    assert window(found) is None
    assert found.movements["co_ppm"].per_min is None
    assert found.movements["co_ppm"].spread is None


def test_nothing_read_tells_nothing() -> None:
    assert of(co([])) == Settling(settled=False)
    alone = of(co([60]))
    assert (alone.settled, alone.movements["co_ppm"].per_min) == (False, None)
    two = of(co([60, 61])).movements["co_ppm"]
    assert (two.per_min, two.spread) == (60.0, None)


def test_what_is_no_run_is_refused() -> None:
    with pytest.raises(ValueError, match="without CO"):
        settle({"o2_pct": co([5])})
    with pytest.raises(ValueError, match="backwards"):
        of(co([60, 60], [2, 1]))
    with pytest.raises(ValueError, match="2 times, but 1"):
        of(Trace([Decimal(0), Decimal(1)], [Decimal(60)], PPM))


# -- slope, bend, spread ----------------------------------------------------------------------------------


def test_the_slope_counts_with_its_uncertainty() -> None:
    """A digit a minute is what may move; of readings without noise rounding alone takes part of it.

    61 readings 1 s apart: u(slope) · 60 s = 60 · (1/√12) / √(61 · 60 · 62 / 12) = 0.126; 1 − 2 u = 0.748
    """

    def fine(per_min: float) -> Trace:
        return co([f"{60 + per_min * t / 60:.9f}" for t in range(61)])

    assert window(of(fine(0.747))) == (0, 60)
    assert window(of(fine(0.749))) is None
    assert window(of(fine(-0.747))) == (0, 60)
    assert window(of(fine(-0.749))) is None


def test_noise_asks_for_a_longer_look() -> None:
    still = of(logged(lambda _t: 60, seconds=600, noise=1.0, every=5, seed=3))
    inside = window(still)
    assert inside is not None
    assert inside[1] - inside[0] > 60
    assert still.medians["co_ppm"] == 60


@pytest.mark.parametrize("every", [1, 5])
@pytest.mark.parametrize("noise", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("per_min", [2, 5, -3])
def test_a_run_that_drifts_never_settles(per_min: float, noise: float, every: float) -> None:
    for seed in range(4):
        run = logged(lambda t: 90 + per_min * t / 60, seconds=900, noise=noise, every=every, seed=seed)
        found = of(run)
        assert not found.settled, f"seed {seed}: {window(found)}"
        movement = found.movements["co_ppm"]
        assert movement.per_min is not None
        assert not movement.rests
        assert movement.per_min * per_min > 0


@pytest.mark.parametrize(
    ("length_s", "to_either_side"),
    [(90, "0.05"), (120, "0.065"), (180, "0.085"), (240, "0.105"), (300, "0.125")],
)
def test_each_length_is_looked_at_to_the_second(length_s: int, to_either_side: str) -> None:
    """O2 goes to and fro, every 10 s: the wider, the longer until slope and bend are known well enough.

    0.1, its last digit, is room for twice their uncertainty: of n readings with the standard deviation s
    about 120 · s · √12 / (10 · √n³) and 4 · s / √n. 6 readings of 0.05 leave 0.17 for the slope and 9 leave
    0.09; 24 of 0.125 leave 0.107 for the bend and 30 leave 0.094.
    """
    o2 = co(
        [Decimal(5) + (-1) ** n * Decimal(to_either_side) for n in range(60)], range(5, 605, 10), digit=TENTH
    )
    assert window(of(co([60] * 600), o2_pct=o2)) == (0, length_s)


def test_over_a_long_window_two_digits_are_the_most() -> None:
    # 0.6 ppm a minute: a minute's look lets it be, at 300 s it has moved 3 ppm. Readings a minute apart.
    times = range(0, 600, 60)
    assert window(of(co([f"{60 + 0.6 * t / 60:.2f}" for t in times], times))) is None
    assert window(of(co([f"{60 + 0.5 * t / 60:.2f}" for t in times], times))) == (0, 240), "two themselves"


def test_the_top_of_a_hump_is_no_rest() -> None:
    def hump(high: float) -> Trace:
        return co([f"{60 - high * ((t - 30) / 30) ** 2:.6f}" for t in range(61)])

    # The middle half of a parabola lies half its height h above the outer quarters, and 2 u are 0.16 h.
    assert window(of(hump(1.4))) == (0, 60)
    assert window(of(hump(1.6))) is None
    assert window(of(hump(-1.6))) is None


def test_a_burner_that_hunts_is_no_rest_and_a_display_that_flickers_is() -> None:
    hunting = co([f"{60 + 2 * math.sin(2 * math.pi * t / 30):.4f}" for t in range(301)])
    assert window(of(hunting)) is None
    chance = random.Random(2)
    flickering = co([60 + chance.choice((-2, 2, 0, 1, -1)) for _ in range(301)])
    assert of(flickering).settled
    wild = co([60 + chance.choice((-4, 4)) for _ in range(301)])
    assert not of(wild).settled


def test_a_flicker_of_two_digits_is_the_most() -> None:
    def flickering(digits: float) -> Trace:
        return co([f"{60 + (-1) ** t * digits:.2f}" for t in range(601)])

    # The standard deviation about the line of n readings is √(n / (n − 2)) times that: 1.9966 at 301.
    assert of(flickering(1.99)).settled
    assert not of(flickering(2.01)).settled


@pytest.mark.parametrize(("period_s", "flickers"), [(6.2, True), (6.6, False)])
def test_what_swings_more_slowly_than_a_display_flickers_is_hunting(period_s: float, flickers: bool) -> None:
    # Of a sine each second the squares about the mean are 1 / (1 − cos(2π / period)) times half the squares
    # of neighbours' differences: 2.12 and 2.38, where 9/4 is the most.
    swinging = co([f"{60 + 2 * math.sin(2 * math.pi * t / period_s):.4f}" for t in range(301)])
    assert of(swinging).settled is flickers


# Digits after the middle reading; before it stands their mirror, so that there is no slope. Found by trying.
AS_FAST_AS_FLICKER = (
    -1.1, -0.9, -0.7, -0.8, -0.9, 1.1, 0.9, 0.8, 1.0, 1.2, -1.0, -0.8, -0.8, -1.1, 1.1,
    1.2, 1.2, 1.2, 1.2, -1.1, -1.0, -0.8, -0.8, -0.9, 1.2, 1.1, 1.1, 0.9, -0.9, -1.6,
)  # fmt: skip
A_LITTLE_SLOWER = (
    1.0, 0.8, 0.6, 1.0, 1.2, -0.8, -1.0, -1.4, -1.1, 1.1, 1.1, 0.7, 0.7, -1.0, -0.6,
    -1.2, -1.2, -1.4, 0.9, 0.7, 1.0, 1.0, -1.2, -1.0, -1.3, -0.9, -1.0, 0.9, 1.4, 1.0,
)  # fmt: skip


def mirrored(half: Sequence[float], *middle: float, every: int = 1) -> Trace:
    values = [60 + Decimal(str(one)) for one in (*reversed(half), *middle, *half)]
    return co(values, range(0, every * len(values), every))


@pytest.mark.parametrize(
    ("half", "differences", "rests"), [(AS_FAST_AS_FLICKER, 57.6, True), (A_LITTLE_SLOWER, 57.2, False)]
)
def test_flicker_differs_between_neighbours_as_much_as_about_the_line(
    half: Sequence[float], differences: float, rests: bool
) -> None:
    # The variance of the 61 readings is 1.08, and 60 · 1.08 · 2 is 9/4 of 57.6, the squared differences.
    assert 2 * sum((b - a) ** 2 for a, b in pairwise((0, *half))) == pytest.approx(differences)
    found = of(mirrored(half, 0))
    assert found.movements["co_ppm"].spread == pytest.approx(math.sqrt(1.08))
    assert found.settled is rests


def test_a_spread_of_one_digit_itself_need_not_be_flicker() -> None:
    slow = mirrored((*[1] * 7, 0.5, *[-1] * 6, -1.5, *[-1] * 7, *[1] * 7, 0), 0)
    found = of(slow)
    assert found.movements["co_ppm"].spread == 1.0
    assert window(found) == (0, 60)


def test_a_spread_of_two_digits_itself_may_be_flicker() -> None:
    found = of(mirrored((*[2, -2] * 11, 0, *[2, -2] * 9, 2, -3, 2, -1), 0))
    assert found.movements["co_ppm"].spread == 2.0
    assert window(found) == (0, 90)


def test_a_bend_that_takes_all_the_room_there_is_is_none() -> None:
    # Of 16 readings the inner eight lie 1/2 above the outer eight, and with a spread of 1/2 2 u are the rest:
    # 2 · √(1/4 · 16 / (8 · 8)).
    found = of(mirrored((0.75, -0.25, 0.25, 0.25, 0.5, -0.5, -0.5, -0.5), every=4))
    assert found.movements["co_ppm"].spread == 0.5
    assert window(found) == (0, 60)


def test_a_slope_that_takes_all_the_room_there_is_is_none() -> None:
    # 0.6 a minute is a third of the digit of 1.8, and 2 u are the rest: of the times about their mean the
    # squares are 2700, so that u of the slope in a minute is 60 · (1.8 / √12) / √2700 = 0.6.
    times = (0, 25, 30, 40, 45, 70)
    assert window(of(co([f"{t / 100:.2f}" for t in times], times, Decimal("1.8")))) == (0, 70)


def test_readings_of_one_moment_tell_nothing_of_another_quantitys_rest() -> None:
    steady = co([60] * 300)
    o2_times = [*[30] * 5, *range(90, 700, 60)]
    o2 = co(["4.8"] * len(o2_times), o2_times, TENTH)
    assert window(of(steady, o2_pct=o2)) == (30, 90), "not 0 to 60, where all five were read at 30 s"


def test_a_spike_is_not_looked_across() -> None:
    assert window(of(co([60] * 30 + [300] + [60] * 100))) == (31, 91)
    # The reach: 12 digits are flicker's, a 13th is a spike's.
    assert window(of(co([60] * 30 + [72] + [60] * 100))) == (0, 90)
    assert window(of(co([60] * 30 + [73] + [60] * 100))) == (31, 91)
    # The first after the window is not in it, the last of it is.
    assert window(of(co([60] * 61 + [300]))) == (0, 60)
    assert settled_at_end({"co_ppm": co([60] * 300 + [72])}).settled
    assert not settled_at_end({"co_ppm": co([60] * 300 + [73])}).settled


def test_a_fall_settles_where_its_rest_is_lost_in_the_last_digit() -> None:
    for noise in (0.0, 0.5):
        found = of(logged(falling, seconds=900, noise=noise))
        inside = window(found)
        assert inside is not None
        # After 200 s 0.9 ppm of the fall are left, after 160 s 2.6.
        assert 160 < inside[0] < 260
        assert abs(found.medians["co_ppm"] - 60) <= 1


# -- other quantities -------------------------------------------------------------------------------------


def test_every_quantity_that_was_logged_must_rest() -> None:
    steady = co([60] * 400)
    o2 = co([f"{max(7 - t / 60, 4.8):.1f}" for t in range(400)], digit=TENTH)
    found = of(steady, o2_pct=o2)
    inside = window(found)
    assert inside is not None
    assert 120 <= inside[0] <= 133
    assert found.medians == {"co_ppm": Decimal(60), "o2_pct": Decimal("4.8")}
    assert window(of(steady, o2_pct=co([], digit=TENTH))) == (0, 60), "without a reading it was not logged"
    never = co([f"{7 - t / 120:.1f}" for t in range(400)], digit=TENTH)
    found = of(steady, o2_pct=never)
    assert not found.settled
    assert found.movements["co_ppm"].rests
    assert not found.movements["o2_pct"].rests


def test_another_quantity_may_be_logged_at_moments_of_its_own() -> None:
    steady = co([60] * 200)
    every_ten = co(["4.8"] * 20, [3 + 10 * n for n in range(20)], TENTH)
    assert window(of(steady, o2_pct=every_ten)) == (0, 60)
    late = co(["4.8"] * 100, range(100, 200), TENTH)
    assert window(of(steady, o2_pct=late)) == (85, 145), "up to 15 s before the first are no pause"
    gone = co(["4.8"] * 40, range(40), TENTH)
    assert window(of(steady, o2_pct=gone)) is None, "20 s without O2 at the end of a minute are a pause"
    early = co(["4.8"] * 46, range(46), TENTH)
    assert window(of(steady, o2_pct=early)) == (0, 60), "nor are 15 s after the last"
    assert window(of(steady, o2_pct=co(["4.8"] * 45, range(45), TENTH))) is None
    few = co(["4.8"] * 4, [0, 20, 40, 60], TENTH)
    assert window(of(steady, o2_pct=few)) is None


def test_of_a_run_that_never_settled_the_last_minute_is_told() -> None:
    found = of(co(range(100)), o2_pct=co(["4.8"], [70], TENTH))
    assert (found.settled, found.from_s, found.to_s) == (False, 39, 99)
    assert found.medians == {"co_ppm": 69, "o2_pct": Decimal("4.8")}
    assert found.movements["o2_pct"] == Movement(None, None)


# -- against scipy ----------------------------------------------------------------------------------------


@given(st.lists(st.integers(0, 400), min_size=3, max_size=40), st.integers(1, 9), st.integers(0, 3))
def test_slope_and_spread_are_those_of_least_squares(whole: list[int], every: int, decimals: int) -> None:
    """The line of scipy.stats.linregress, and the standard deviation about it."""
    times = [n * every / 10 for n in range(len(whole))]
    values = [one / 10**decimals for one in whole]
    found = of(co(values, times))
    movement = found.movements["co_ppm"]
    known = stats.linregress(times, values)
    about = [v - known.intercept - known.slope * t for t, v in zip(times, values, strict=True)]
    spread = math.sqrt(sum(one**2 for one in about) / (len(values) - 2))
    assert movement.per_min == pytest.approx(known.slope * 60, rel=1e-9, abs=1e-9)
    assert movement.spread == pytest.approx(spread, rel=1e-6, abs=1e-6)


def test_the_median_of_an_even_count_is_the_mean_of_the_two_in_the_middle() -> None:
    values = [60, 61] * 31
    assert of(co(values, range(62))).medians["co_ppm"] in (60, 61)
    times = [n * 60 / 59 for n in range(60)]
    assert of(co([60, 61] * 30, [f"{t:.9f}" for t in [*times[:-1], 60]])).medians == {
        "co_ppm": Decimal("60.5")
    }


# -- properties -------------------------------------------------------------------------------------------

INTERVALS = st.lists(st.sampled_from([0.5, 1, 2, 3, 7, 20, 100]), min_size=10, max_size=120)
VALUES = st.integers(0, 4)


@st.composite
def runs(draw: st.DrawFn) -> Trace:
    intervals = draw(INTERVALS)
    times, now = [], Decimal(0)
    for interval in intervals:
        times.append(now)
        now += Decimal(str(interval))
    values = draw(st.lists(VALUES, min_size=len(times), max_size=len(times)))
    calm = draw(st.booleans())
    return Trace(times, [Decimal(60 + (value // 3 if calm else value)) for value in values], PPM)


@given(runs())
@example(co([60] * 61))
def test_no_window_is_shorter_than_a_minute_or_holds_a_pause(run: Trace) -> None:
    found = of(run)
    if not found.settled:
        return
    assert found.from_s is not None
    assert found.to_s is not None
    assert found.to_s - found.from_s >= 60
    inside = [t for t in run.times_s if found.from_s <= t <= found.to_s]
    assert len(inside) >= settling.LEAST_READINGS
    assert max(b - a for a, b in pairwise(inside)) <= settling.LONGEST_PAUSE_S
    values = [v for t, v in zip(run.times_s, run.values, strict=True) if found.from_s <= t <= found.to_s]
    assert max(values) - min(values) <= settling.REACH_DIGITS
    assert min(values) <= found.medians["co_ppm"] <= max(values)
    assert found.movements["co_ppm"].rests


@given(runs(), st.integers(-1000, 100_000), st.integers(-60, 5000))
def test_a_shifted_clock_and_an_added_constant_leave_the_window(run: Trace, later: int, more: int) -> None:
    shifted = Trace([t + later for t in run.times_s], [v + more for v in run.values], run.digit)
    first, second = of(run), of(shifted)
    assert first.settled == second.settled
    if first.settled:
        begin, end = window(first) or (0, 0)
        assert window(second) == (begin + later, end + later)
        assert second.medians["co_ppm"] == first.medians["co_ppm"] + more


@given(runs(), st.sampled_from(["0.1", "0.001", "10", "250"]))
def test_another_unit_leaves_the_window(run: Trace, factor: str) -> None:
    scale = Decimal(factor)
    scaled = Trace(run.times_s, [v * scale for v in run.values], run.digit * scale)
    assert window(of(run)) == window(of(scaled))


@given(runs())
def test_what_comes_after_the_window_changes_nothing(run: Trace) -> None:
    found = of(run)
    if found.settled:
        assert found.to_s is not None
        last = found.to_s
        more = Trace([*run.times_s, run.times_s[-1] + 1], [*run.values, Decimal(9000)], PPM)
        if settling._pause([int(t * 10) for t in more.times_s], 10) == settling._pause(
            [int(t * 10) for t in run.times_s], 10
        ):
            assert of(more).to_s == last


@given(st.integers(2, 60), st.integers(1, 6), st.integers(0, 3), st.booleans())
def test_a_ramp_of_two_digits_a_minute_or_more_never_settles(
    per_min: int, every: int, decimals: int, falls: bool
) -> None:
    sign = -1 if falls else 1
    times = range(0, 600, every)
    values = [f"{1000 + sign * per_min * t / 60:.{decimals}f}" for t in times]
    assert not of(co(values, times)).settled


@given(runs())
def test_all_that_is_said_is_a_number(run: Trace) -> None:
    found = of(run)
    movement = found.movements["co_ppm"]
    told = [*found.medians.values(), movement.per_min, movement.spread, found.from_s, found.to_s]
    assert all(math.isfinite(one) for one in told if one is not None)


# -- while it goes on -------------------------------------------------------------------------------------


def test_a_run_still_going_on_is_settled_as_long_as_its_end_is() -> None:
    values = [200 - 10 * n for n in range(14)] + [60] * 12
    times = [10 * n for n in range(26)]
    assert settled_at_end({"co_ppm": co(values[:16], times[:16])}).settled is False
    found = settled_at_end({"co_ppm": co(values, times)})
    assert window(found) == (140, 250)
    moving = settled_at_end({"co_ppm": co([*values, 75, 90], [*times, 260, 270])})
    assert not moving.settled
    assert settled_at_end({"co_ppm": co([])}) == Settling(settled=False)
    assert settled_at_end({"co_ppm": co([60])}).settled is False


def test_its_last_minute_is_enough() -> None:
    assert window(settled_at_end({"co_ppm": co([60] * 61)})) == (0, 60)
    assert not settled_at_end({"co_ppm": co([60] * 60)}).settled


def test_a_run_whose_noise_hides_its_last_minute_may_have_settled_over_a_longer_one() -> None:
    o2 = co([Decimal(5) + (-1) ** n * Decimal("0.085") for n in range(30)], range(5, 305, 10), digit=TENTH)
    last_minute = {"co_ppm": co([60] * 61, range(240, 301)), "o2_pct": o2}
    assert not settled_at_end(last_minute).settled
    # Back to 156 s 14 readings of O2 tell the bend to 0.1; a 15th on one side of it tells less.
    assert window(settled_at_end({**last_minute, "co_ppm": co([60] * 301)})) == (156, 300)


def test_what_was_logged_besides_has_its_median_of_the_window_and_need_not_rest() -> None:
    run = co([*range(160, 60, -1), *[60] * 61])
    flue = Trace([Decimal(t) for t in range(161)], [Decimal(t) for t in range(161)], Decimal("0.1"))
    alone, found = settle({"co_ppm": run}), settle({"co_ppm": run}, {"flue_c": flue})
    assert window(found) == window(alone)
    assert window(found) is not None
    assert found.from_s is not None
    assert found.to_s is not None
    assert found.medians["flue_c"] == (found.from_s + found.to_s) / 2
    assert (found.movements, found.medians["co_ppm"]) == (alone.movements, alone.medians["co_ppm"])


def test_what_was_logged_besides_is_told_only_where_it_was_read() -> None:
    early = Trace([Decimal(0)], [Decimal(20)], Decimal("0.1"))
    rest = co([*range(160, 60, -1), *[60] * 61])
    assert set(settle({"co_ppm": rest}, {"flue_c": early}).medians) == {"co_ppm"}
    assert settle({"co_ppm": co([])}, {"flue_c": early}).medians == {}
    moving = settle({"co_ppm": co(range(200, 0, -2))}, {"flue_c": early})
    assert not moving.settled
    assert set(moving.medians) == {"co_ppm"}
