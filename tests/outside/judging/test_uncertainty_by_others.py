"""The ratio's standard uncertainty by ``uncertainties`` 3.2, and by drawing (JCGM 101:2008; recalled).

``uncertainties`` differentiates by itself; the drawing needs no derivative at all. Both are given the
half-widths of the analyser and half of the last digit typed, each as a rectangle (JCGM 100:2008, 4.3.7 and
F.2.2.1; recalled).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.domain.judging.bench import GAS, flue, judge_one, of
from uncertainties import ufloat

CO_PPM = (18, 61, 300, 349, 1200)
CO2_PCT = ("7.4", "8.4", "9.1", "9.61")
O2_PCT = ("3.2", "4.8", "5.35", "7.0")
LIMIT = 0.004
DRAWS = 400_000
ROOT_3 = math.sqrt(3)


def half_widths(co_ppm: float, gas: str, tolerance: float = 0.3) -> tuple[list[float], list[float]]:
    """Return the half-widths of CO, ppm, and of the gas beside it, %: tolerance, half a last digit."""
    decimals = len(gas.partition(".")[2])
    return [max(10.0, 0.05 * co_ppm), 0.5], [tolerance, 10.0**-decimals / 2]


def standard(widths: list[float]) -> float:
    return math.hypot(*widths) / ROOT_3


def drawn(value: float, widths: list[float], chance: np.random.Generator) -> np.ndarray:
    return value + sum(chance.uniform(-width, width, DRAWS) for width in widths)


@pytest.mark.parametrize("co2", CO2_PCT)
@pytest.mark.parametrize("co", CO_PPM)
def test_a_measured_ratio_by_the_uncertainties_package(co: int, co2: str) -> None:
    ours = of(judge_one(flue(co_ppm=co, co2_pct=co2, o2_pct=None)), "ratio").standard_uncertainty
    of_co, of_co2 = half_widths(co, co2)
    theirs = ufloat(co, standard(of_co)) / (10_000 * ufloat(float(co2), standard(of_co2)))
    assert ours == pytest.approx(theirs.std_dev, rel=1e-9)


@pytest.mark.parametrize("o2", O2_PCT)
@pytest.mark.parametrize("co", CO_PPM)
def test_a_ratio_from_oxygen_by_the_uncertainties_package(co: int, o2: str) -> None:
    ours = of(judge_one(flue(co_ppm=co, co2_pct=None, o2_pct=o2)), "ratio").standard_uncertainty
    of_co, of_o2 = half_widths(co, o2)
    co2 = GAS.co2_max_pct * (20.95 - ufloat(float(o2), standard(of_o2))) / 20.95
    assert ours == pytest.approx((ufloat(co, standard(of_co)) / (10_000 * co2)).std_dev, rel=1e-9)


@pytest.mark.parametrize("co2", CO2_PCT)
@pytest.mark.parametrize("co", CO_PPM)
def test_a_measured_ratio_by_drawing(co: int, co2: str) -> None:
    """The first order of the series: at 0.3 of 7.4 % what it leaves out is under a hundredth."""
    ours = of(judge_one(flue(co_ppm=co, co2_pct=co2, o2_pct=None)), "ratio").standard_uncertainty
    chance = np.random.default_rng(20261126)
    of_co, of_co2 = half_widths(co, co2)
    ratios = drawn(co, of_co, chance) / (10_000 * drawn(float(co2), of_co2, chance))
    assert ours == pytest.approx(float(np.std(ratios)), rel=0.01)


@pytest.mark.parametrize("co", [310, 330, 345, 355, 364, 380, 400])
def test_the_chance_of_being_beyond_by_drawing(co: int) -> None:
    """A normal distribution stands for two rectangles: never more than 3.5 points off, and so it is said."""
    one = of(judge_one(flue(co_ppm=co, co2_pct="9.1", o2_pct=None)), "ratio")
    chance = np.random.default_rng(20261126)
    of_co, of_co2 = half_widths(co, "9.1")
    over = drawn(co, of_co, chance) / (10_000 * drawn(9.1, of_co2, chance)) > LIMIT
    assert one.chance_beyond == pytest.approx(float(np.mean(over)), abs=0.035)
