from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from tests.domain.judging.bench import ANALYSER, GAS, RULES, case, flue, slip

from flueleaf.domain.judging.limits import default_tolerances
from flueleaf.domain.judging.readings import Readings, co2_per_o2, read
from flueleaf.domain.judging.uncertainty import Tolerances
from flueleaf.domain.records.register import Instrument, Point, Tolerance
from flueleaf.domain.records.visits import Slip


def reading(one: Slip, instrument: Instrument | None = ANALYSER) -> Readings:
    return read(one, GAS, Tolerances.of(instrument, default_tolerances(case(), RULES)))


def test_at_the_flue_the_missing_gas_is_derived() -> None:
    by_o2 = reading(flue(co2_pct=None))
    assert by_o2.derived == ("co2_pct",)
    # 12.04·(20.95 − 4.8)/20.95, worked by hand from the published maximum.
    assert by_o2.co2_pct
    assert float(by_o2.co2_pct.value) == pytest.approx(9.28, abs=0.005)
    by_co2 = reading(flue(o2_pct=None))
    assert by_co2.derived == ("o2_pct",)
    assert by_co2.o2_pct
    assert float(by_co2.o2_pct.value) == pytest.approx(5.11, abs=0.01)
    assert by_co2.o2_pct.variance == (Fraction("0.09") + Fraction("0.0025")) / 3 / co2_per_o2(GAS) ** 2


def test_outside_the_relation_nothing_is_derived() -> None:
    assert reading(flue(co2_pct=None, o2_pct="21")).derived == ()
    assert reading(flue(o2_pct=None, co2_pct="12.1")).derived == ()
    assert reading(flue(o2_pct=None, co2_pct=None)).derived == ()
    assert reading(flue(co2_pct=None, o2_pct="20.95")).computed is None


@pytest.mark.parametrize("point", ["air inlet", "room", "outdoors"])
def test_in_air_nothing_is_derived_or_computed(point: Point) -> None:
    air = reading(slip(point, co_ppm=10, co2_pct="0.1", ratio="0.01"))
    assert (air.derived, air.computed, air.o2_pct) == ((), None, None)
    assert [ratio.basis for ratio in air.of("ratio")] == ["typed"]


@pytest.mark.parametrize("point", ["hob", "grill", "oven"])
def test_at_a_flame_without_a_flue_the_ratio_alone_is_worked_out(point: Point) -> None:
    plume = reading(slip(point, co_ppm=44, co2_pct="1.6"))
    assert (plume.derived, plume.o2_pct) == ((), None)
    assert plume.computed
    assert plume.computed.value == Fraction(44, 16000)
    assert plume.computed.basis == "computed"
    # ±10 ppm and ±0.3 points, typed to 1 ppm and 0.1, at 44 ppm and 1.6 %: 0.00047077, by hand.
    assert math.sqrt(plume.computed.variance) == pytest.approx(0.00047077, rel=1e-4)
    assert [ratio.basis for ratio in plume.of("ratio")] == ["computed"]
    typed_too = reading(slip(point, co_ppm=44, co2_pct="1.6", ratio="0.0028"))
    assert [ratio.basis for ratio in typed_too.of("ratio")] == ["computed", "typed"]


@pytest.mark.parametrize("values", [{"co_ppm": 44}, {"co2_pct": "1.6"}, {"co_ppm": 44, "co2_pct": "0.0"}])
def test_without_both_gases_of_a_flame_there_is_no_ratio(values: dict[str, str | int]) -> None:
    assert reading(slip("hob", o2_pct="18.0", **values)).computed is None
    assert reading(slip("hob", o2_pct="18.0", **values)).derived == ()


def test_any_quantity_may_be_asked_for() -> None:
    one = reading(flue(smoke=1, flue_c=54))
    assert one.of("smoke")[0].value == 1
    assert one.of("flue_c")[0].variance == (Fraction(4) + Fraction("0.0025")) / 3
    assert (one.of("flue_c")[0].digit, one.of("smoke")[0].digit) == (Decimal("0.1"), None)
    assert one.of("no_ppm") == ()
    assert one.of("co_ppm")[0].value == 61
    assert one.of("o2_pct")[0].value == Decimal("4.8")
    assert [ratio.basis for ratio in reading(flue(ratio="0.0007")).of("ratio")] == ["computed", "typed"]


def spread(one: Slip, instrument: Instrument | None = ANALYSER) -> float:
    typed = reading(one, instrument).typed
    assert typed
    return math.sqrt(typed.variance)


def test_a_typed_ratio_spreads_like_the_co_and_co2_behind_it() -> None:
    # ±10 ppm and ±0.3 points, typed to 1 ppm and 0.1, at 61 ppm and 9.1 %: 0.0000648, worked by hand.
    told = spread(flue(o2_pct=None, ratio=str(Decimal(61) / 91000)))
    assert told == pytest.approx(0.0000648, abs=1e-7)
    # CO and the ratio alone imply the CO2, which has no last digit: √(0.3² + 0.05²) is 0.3 then.
    implied = spread(flue(o2_pct=None, co2_pct=None, ratio=str(Decimal(61) / 91000)))
    assert implied == pytest.approx(
        spread(flue(o2_pct=None, co2_pct="9.10000", ratio=str(Decimal(61) / 91000)))
    )
    assert told > implied == pytest.approx(told, rel=1e-3)


def test_an_implied_co2_beyond_the_fuels_maximum_does_not_narrow_the_spread() -> None:
    # 61 ppm and 0.0001 would imply 61 % CO2; 12.04 % at most: 5.78/120400. Its last digit is 0.0001 besides.
    wanted = math.hypot(0.0000480, 0.00005 / math.sqrt(3))
    assert spread(flue(o2_pct=None, co2_pct=None, ratio="0.0001")) == pytest.approx(wanted, abs=2e-7)


def test_a_ratio_printed_with_four_decimals_is_known_to_half_of_the_last() -> None:
    fine, coarse = (spread(flue(o2_pct=None, ratio=typed)) for typed in ("0.000700000", "0.0007"))
    assert coarse**2 - fine**2 == pytest.approx(0.00005**2 / 3, rel=1e-6)


@pytest.mark.parametrize("values", [{"co_ppm": 61, "ratio": "0"}, {"co_ppm": 0, "ratio": "0.0001"}])
def test_where_no_co2_is_told_the_spread_is_a_wide_one(values: dict[str, str | int]) -> None:
    one = flue(o2_pct=None, co2_pct=None, **values)
    assert spread(one) == pytest.approx(0.000577, abs=1e-5)


def test_little_co2_or_co_is_still_what_lies_behind_a_typed_ratio() -> None:
    # By hand, of ±10 ppm and ±0.3 points: CO2 0.5 % as told, CO 2.5 ppm by the ratio, 1 ppm and 0.1 % typed.
    told = spread(flue(o2_pct=None, co2_pct="0.5", ratio="0.0005"))
    assert told == pytest.approx(0.00116976, rel=1e-5)
    # CO 1 ppm and the ratio imply CO2 0.5 %, which has no last digit.
    implied = spread(flue(o2_pct=None, co2_pct=None, co_ppm=1, ratio="0.0002"))
    assert implied == pytest.approx(0.00115858, rel=1e-5)


def test_a_ratio_typed_alone_spreads_too() -> None:
    assert spread(flue(o2_pct=None, co2_pct=None, co_ppm=None, ratio="0.001")) > 0
    assert spread(flue(o2_pct=None, co2_pct="0.0", co_ppm=None, ratio="0.001")) > 0


def test_an_analysers_own_tolerance_for_the_ratio_wins() -> None:
    own = Instrument("analyser 3", tolerance={"ratio": Tolerance(Decimal("0.0003"))})
    assert spread(flue(ratio="0.0007"), own) == pytest.approx(math.hypot(0.0003, 0.00005) / math.sqrt(3))
