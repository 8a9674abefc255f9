"""Drift against scipy.stats 1.17: slope and interval by ``theilslopes``, tau and chance by ``kendalltau``.

Rows are made by chance from a fixed seed: lengths from 2 on, with and without ties of values and of days,
rising, falling and level. Where a limit is reached no scipy function says; scipy's slope and intercept do.
"""

from __future__ import annotations

import datetime as dt
import random
from decimal import Decimal

import numpy as np
import pytest
from scipy import stats

from flueleaf.domain.judging.drift import DAYS_OF_YEAR, Dated, crossing, drift_of

START = dt.date(2012, 5, 2)
LENGTHS = (2, 3, 4, 5, 6, 8, 12, 20, 33, 34, 60)
WAYS = {
    # ppm a year; digits after the point; days drawn from so few that some fall together
    "level": (0.0, 3, False),
    "level, whole ppm": (0.0, 0, False),
    "rising": (9.0, 3, False),
    "rising, whole ppm": (9.0, 0, False),
    "rising, tens of ppm": (9.0, -1, False),
    "falling, days twice": (-7.0, 1, True),
    "level, all ties": (0.0, -1, True),
}
ROWS_OF_EACH = 12


def some_row(n: int, way: str, at: int) -> list[Dated]:
    """Return a row of readings; the same for the same arguments."""
    per_year, digits, twice = WAYS[way]
    chance = random.Random(f"{n} {way} {at}")
    days = (
        [chance.choice((0, 365, 731, 1096, 1461)) for _ in range(n)]
        if twice
        else chance.sample(range(4000), n)
    )
    noise = 3.0 * chance.random() + 0.5
    values = [80.0 + per_year * day / DAYS_OF_YEAR + chance.gauss(0.0, noise) for day in days]
    return [
        Dated(START + dt.timedelta(days=day), Decimal(str(round(value, digits))))
        for day, value in zip(days, values, strict=True)
    ]


def as_arrays(row: list[Dated]) -> tuple[np.ndarray, np.ndarray]:
    years = np.array([(one.date - START).days / DAYS_OF_YEAR for one in row])
    return years, np.array([float(one.value) for one in row])


def same(ours: float | None, theirs: float) -> bool:
    """Compare with scipy, whose nan is our None."""
    return np.isnan(theirs) if ours is None else ours == pytest.approx(theirs, rel=1e-9, abs=1e-9)


CASES = [(n, way) for n in LENGTHS for way in WAYS]


@pytest.mark.parametrize(("n", "way"), CASES)
@pytest.mark.filterwarnings("ignore::RuntimeWarning")  # scipy's own, of rows whose days are all one
def test_slope_and_interval(n: int, way: str) -> None:
    for at in range(ROWS_OF_EACH):
        row = some_row(n, way, at)
        years, values = as_arrays(row)
        theirs = stats.theilslopes(values, years, 0.95)
        ours = drift_of(row)
        assert same(ours.slope_per_year, theirs.slope)
        assert same(ours.slope_low, theirs.low_slope)
        assert same(ours.slope_high, theirs.high_slope)
        if ours.slope_per_year is not None:
            assert ours.value_on(START) == pytest.approx(theirs.intercept)


@pytest.mark.parametrize(("n", "way"), CASES)
def test_tau_and_its_chance(n: int, way: str) -> None:
    for at in range(ROWS_OF_EACH):
        row = some_row(n, way, at)
        years, values = as_arrays(row)
        theirs = stats.kendalltau(years, values)
        ours = drift_of(row)
        assert same(ours.tau, theirs.statistic)
        assert same(ours.p_value, theirs.pvalue)
        assert ours.significant == bool(theirs.pvalue < 0.05)


@pytest.mark.parametrize("n", LENGTHS[4:])
def test_the_day_a_limit_is_reached(n: int) -> None:
    row = some_row(n, "rising", 1)
    years, values = as_arrays(row)
    theirs = stats.theilslopes(values, years, 0.95)
    reached = crossing(drift_of(row), Decimal(350)).on
    assert reached is not None
    years_on = (350.0 - theirs.intercept) / theirs.slope
    assert abs((reached - START).days - years_on * DAYS_OF_YEAR) <= 1.0


def test_the_rows_hold_what_they_are_for() -> None:
    drifts = [drift_of(some_row(n, way, at)) for n, way in CASES for at in range(ROWS_OF_EACH)]
    assert {drift.method for drift in drifts} == {"exact", "normal", "none"}
    assert 200 < sum(drift.significant for drift in drifts) < len(drifts) - 200
    assert any(drift.borderline for drift in drifts)
    assert any(drift.slope_low is None and drift.slope_per_year is not None for drift in drifts)
