from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from tests.domain.judging.bench import ANALYSER, DAY, FIRE, GAS, PROPANE, air_inlet, codes, flue, judge, slip

from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.records.register import Tolerance
from flueleaf.domain.records.visits import Slip

LAST_YEAR = dt.date(2025, 11, 20)


def before(*slips: Slip, date: dt.date = LAST_YEAR, **fields: Any) -> PreviousVisit:
    return PreviousVisit(date, slips, **{"instrument": ANALYSER} | fields)


def changed(now: Slip, *visits: PreviousVisit, **fields: Any) -> list[str]:
    found = judge(now, previous=visits, **fields)
    return [doubt.quantity for doubt in found.doubts if doubt.code == "changed-since-last"]


@pytest.mark.parametrize(
    ("co", "expected"),
    # Both ±10 ppm: k = 2 gives 2·√2·10/√3 = 16.3 ppm, but a tenth of 350 ppm is 35.
    [(61, []), (78, []), (96, []), (97, ["co_ppm"]), (26, []), (25, ["co_ppm"])],
)
def test_co_changes_beyond_a_tenth_of_its_limit(co: int, expected: list[str]) -> None:
    # CO2 13.0 at O2 none keeps the ratio's change under a tenth of 0.004.
    assert changed(flue(co_ppm=co, o2_pct=None), before(flue(o2_pct=None))) == expected


def test_co_changes_only_beyond_what_both_analysers_explain() -> None:
    # Each ±40 ppm: 2·√2·40/√3 = 65.3 ppm.
    coarse = replace(ANALYSER, tolerance={**ANALYSER.tolerance, "co_ppm": Tolerance(Decimal(40))})
    for co, expected in ((126, []), (127, ["co_ppm"])):
        now = flue(co_ppm=co, o2_pct=None, co2_pct=None)
        last = before(flue(o2_pct=None, co2_pct=None), instrument=coarse)
        assert changed(now, last, instrument=coarse) == expected


def test_o2_changes_beyond_a_point() -> None:
    assert changed(flue(o2_pct="5.8", co2_pct=None), before(flue(co2_pct=None))) == []
    assert changed(flue(o2_pct="5.9", co2_pct=None), before(flue(co2_pct=None))) == ["o2_pct"]
    assert changed(air_inlet(o2_pct="19.8"), before(air_inlet())) == ["o2_pct"]


def test_the_ratio_changes_beyond_a_tenth_of_its_limit() -> None:
    maker = {"co_ppm": None, "o2_pct": None, "co2_pct": None}
    assert changed(flue(**maker | {"ratio": "0.0011"}), before(flue(**maker | {"ratio": "0.0007"}))) == []
    assert changed(flue(**maker | {"ratio": "0.0031"}), before(flue(**maker | {"ratio": "0.0007"}))) == [
        "ratio"
    ]


def test_a_derived_gas_is_no_change_of_its_own() -> None:
    assert changed(flue(co2_pct=None, o2_pct="7.0"), before(flue(o2_pct=None))) == []


def test_without_a_limit_the_instruments_alone_tell() -> None:
    now = flue(co_ppm=78, o2_pct=None, co2_pct=None)
    assert changed(now, before(flue(o2_pct=None, co2_pct=None)), kind=FIRE) == ["co_ppm"]
    assert changed(flue(co_ppm=77, o2_pct=None, co2_pct=None), before(now), kind=FIRE) == []
    bare = {"co_ppm": None, "o2_pct": None, "co2_pct": None}
    ratios = (flue(**bare | {"ratio": "0.0031"}), before(flue(**bare | {"ratio": "0.0007"})))
    assert changed(*ratios, kind=FIRE) == ["ratio"]


def test_only_the_same_point_rate_and_fuel_are_compared() -> None:
    now = flue(co_ppm=200, o2_pct=None, co2_pct=None)
    quiet = flue(o2_pct=None, co2_pct=None)
    assert changed(now, before(quiet, fuel=GAS)) == ["co_ppm"]
    assert changed(now, before(quiet, fuel=PROPANE)) == []
    assert changed(now, before(replace(quiet, rate="min"))) == []
    assert changed(now, before(replace(quiet, point="room"))) == []


def test_the_latest_earlier_visit_with_that_slip_is_compared() -> None:
    now = flue(co_ppm=200, o2_pct=None, co2_pct=None)
    quiet = flue(o2_pct=None, co2_pct=None)
    old = before(quiet, date=dt.date(2023, 1, 1))
    assert changed(now, old, before(now)) == []
    assert changed(now, before(now), old) == []
    assert changed(now, old, before(slip("flue", "min", co_ppm=3))) == ["co_ppm"]
    assert changed(now, before(quiet, date=DAY + dt.timedelta(1))) == []
    assert changed(now, before(quiet, date=DAY + dt.timedelta(1)), date=None) == ["co_ppm"]


def test_the_deciding_attempts_are_compared() -> None:
    loud, quiet = flue(co_ppm=600, o2_pct=None, co2_pct=None), flue(o2_pct=None, co2_pct=None)
    assert changed(quiet, before(loud, replace(quiet, attempt=2))) == []
    found = judge(loud, replace(quiet, attempt=2), previous=(before(quiet),))
    assert codes(found) == codes(found.slips[0]) == []


def test_without_an_instrument_the_defaults_count() -> None:
    now = flue(co_ppm=97, o2_pct=None, co2_pct=None)
    last = before(flue(o2_pct=None, co2_pct=None), instrument=None)
    # Default ±20 ppm on one side, ±10 on the other: 2·√(20² + 10²)/√3 = 25.8 ppm, under the floor of 35.
    assert changed(now, last) == ["co_ppm"]


def test_the_text_names_both_values_and_the_day() -> None:
    found = judge(flue(co_ppm=200, co2_pct=None, o2_pct=None), previous=(before(flue()),))
    assert "CO was 61 ppm on 20 November 2025 and is 200 ppm now" in found.doubts[0].text
    assert (found.doubts[0].point, found.doubts[0].rate) == ("flue", "max")


def test_a_ratio_worked_out_is_told_with_five_decimals() -> None:
    found = judge(flue(co_ppm=200, o2_pct=None), previous=(before(flue(o2_pct=None)),))
    # 61 and 200 ppm at 9.1 % CO2: 0.000670 and 0.002198
    told = next(doubt.text for doubt in found.doubts if doubt.quantity == "ratio")
    assert "was 0.00067 on 20 November 2025 and is 0.00220 now" in told


def test_of_a_printed_and_a_computed_ratio_the_computed_ones_are_compared() -> None:
    plain, printed = flue(o2_pct=None), flue(o2_pct=None, ratio="0.0031")
    assert changed(plain, before(printed)) == []
    assert changed(printed, before(plain)) == []


def test_what_one_visit_lacks_is_not_compared() -> None:
    bare = flue(co_ppm=None)
    assert changed(flue(), before(bare)) == []
    assert changed(bare, before(flue())) == []


def test_an_earlier_visit_of_the_same_day_counts() -> None:
    now = flue(co_ppm=200, o2_pct=None, co2_pct=None)
    assert changed(now, before(flue(o2_pct=None, co2_pct=None), date=DAY)) == ["co_ppm"]
