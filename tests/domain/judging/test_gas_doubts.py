"""The gases of one slip; how the doubts work together stands in test_doubts.py."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from tests.domain.judging.bench import ANALYSER, GAS, RULES, case, codes, flue, judge_one

from flueleaf.domain.judging.gas_doubts import FUEL_SETTING_REL, ratio_range
from flueleaf.domain.judging.limits import default_tolerances
from flueleaf.domain.judging.readings import co2_per_o2, read
from flueleaf.domain.judging.uncertainty import Tolerances

CALCULATED = replace(ANALYSER, co2_calculated=True)


@pytest.mark.parametrize(
    ("values", "code"),
    [
        ({"co2_pct": "12.6"}, "beyond-physics"),
        ({"co2_pct": "8.0"}, "o2-co2-disagree"),
        ({"ratio": "0.0012"}, "ratio-disagrees"),
    ],
)
@pytest.mark.parametrize(("co_ppm", "left"), [(61, "unjudged"), (345, "unjudged"), (351, "over")])
def test_each_leaves_nothing_good_and_keeps_what_is_over(
    values: dict[str, Any], code: str, co_ppm: int, left: str
) -> None:
    # CO 61 would be within, 345 near; each doubt alone turns both into unjudged, and leaves over as it is.
    one = judge_one(flue(co_ppm=co_ppm, **values))
    assert code in codes(one)
    assert next(judged for judged in one.judged if judged.quantity == "co_ppm").verdict == left
    confirmed = judge_one(flue(co_ppm=co_ppm, confirmed=frozenset(codes(one)), **values))
    told = next(judged for judged in confirmed.judged if judged.quantity == "co_ppm").verdict
    assert told == {61: "within", 345: "near", 351: "over"}[co_ppm]


def test_an_analyser_that_works_co2_out_is_asked_for_its_fuel() -> None:
    asked = "This analyser works CO2 out from O2: is it set to the fuel?"
    one = judge_one(flue(co2_pct="8.0"), instrument=CALCULATED)
    assert asked in one.doubts[0].text
    assert asked not in judge_one(flue(co2_pct="8.0")).doubts[0].text


def test_a_co2_that_may_be_nothing_bounds_no_ratio_above() -> None:
    readings = read(flue(co2_pct=None), GAS, Tolerances.of(ANALYSER, default_tolerances(case(), RULES)))
    assert readings.co_ppm
    assert readings.co2_pct
    # O2 is typed to 0.1: half of that, in points of CO2, and 3 % of the CO2 itself may be off.
    nothing_left = co2_per_o2(GAS) * Fraction("0.05") / (1 - FUEL_SETTING_REL)
    for more, bounded in ((Fraction(-1, 1000), False), (Fraction(0), False), (Fraction(1, 1000), True)):
        co2 = replace(readings.co2_pct, value=nothing_left + more)
        assert (ratio_range(readings, readings.co_ppm, co2)[1] is not None) is bounded
