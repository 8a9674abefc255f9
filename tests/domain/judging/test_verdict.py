from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from tests.domain.judging.bench import FIRE, air_inlet, flue, judge_one, limits, of, slip, verdicts

from flueleaf.domain.judging.assessment import Judged
from flueleaf.domain.judging.verdict import NO_LIMIT, NO_READING, ratio_text
from flueleaf.domain.records.register import Instrument, Tolerance


def test_a_ratio_of_exactly_the_limit_is_not_over() -> None:
    # 164 / 10000 / 4.1 is 0.004 exactly, and 0.0040000000000000005 in binary floating point.
    one = judge_one(flue(co_ppm=164, co2_pct="4.1", o2_pct=None))
    ratio = of(one, "ratio")
    assert ratio.value == Fraction(4, 1000)
    assert (ratio.margin, ratio.verdict) == (0, "near")
    assert one.ratio_text == "0.0040"


@pytest.mark.parametrize(
    ("co", "verdict"), [("350", "near"), ("350.0000000001", "over"), ("349.9", "near"), ("351", "over")]
)
def test_co_steps_exactly_at_its_limit(co: str, verdict: str) -> None:
    assert of(judge_one(flue(co_ppm=co, co2_pct="9.9", o2_pct=None)), "co_ppm").verdict == verdict


@pytest.mark.parametrize(
    ("tolerance", "co", "verdict"),
    [
        # u = 30.28/√3 = 17.4822 and the guard band 1.645·u = 28.7582: near above 321.2418 (worked by hand).
        (Tolerance(Decimal("30.28")), "321.24", "within"),
        (Tolerance(Decimal("30.28")), "321.25", "near"),
        # 5 % of the value: value·(1 + 1.645·0.05/√3) = 350 at 334.1335 (worked by hand).
        (Tolerance(Decimal(1), Decimal("0.05")), "334.13", "within"),
        (Tolerance(Decimal(1), Decimal("0.05")), "334.14", "near"),
        # No tolerance at all leaves the last digit typed: 1.645·0.5/√3 = 0.4749 (worked by hand).
        (Tolerance(), "350", "near"),
        (Tolerance(), "349.53", "within"),
        (Tolerance(), "349.99999", "within"),
        (Tolerance(), "350.0", "near"),
        (Tolerance(), "350.1", "over"),
    ],
)
def test_near_begins_at_the_guard_band(tolerance: Tolerance, co: str, verdict: str) -> None:
    exact = Instrument("analyser 2", tolerance={"co_ppm": tolerance, "co2_pct": Tolerance()})
    one = judge_one(flue(co_ppm=co, co2_pct="9.9", o2_pct=None), instrument=exact)
    assert of(one, "co_ppm").verdict == verdict


@pytest.mark.parametrize(
    ("o2", "co2", "expected"),
    [
        ("20.6", "0.0", ["near", "within"]),
        ("20.7", "0.0", ["within", "within"]),
        ("20.5", "0.0", ["over", "within"]),
        ("20.59", "0.0", ["over", "within"]),
        ("20.9", "0.2", ["within", "near"]),
        ("20.9", "0.1", ["within", "within"]),
        ("20.9", "0.3", ["within", "over"]),
        ("20.9", "0.21", ["within", "over"]),
    ],
)
def test_flue_integrity_goes_by_the_display_alone(o2: str, co2: str, expected: list[str]) -> None:
    one = judge_one(air_inlet(o2_pct=o2, co2_pct=co2))
    assert [judged.verdict for judged in one.judged] == expected
    assert {judged.tolerance for judged in one.judged} == {"display resolution: ±0.1"}
    assert of(one, "o2_pct").sense == "at least"


def test_flue_integrity_wants_both_gases() -> None:
    one = judge_one(air_inlet(co2_pct=None))
    assert verdicts(one) == [("o2_pct", "within"), ("co2_pct", "unjudged")]
    assert of(one, "co2_pct").why == NO_READING
    assert one.verdict == "unjudged"


def test_the_air_inlet_at_minimum_rate_has_no_limit() -> None:
    one = judge_one(slip("air inlet", "min", o2_pct="20.9", co2_pct="0.0"))
    assert (one.judged, one.verdict) == ((), "unjudged")


@pytest.mark.parametrize(
    "values",
    [
        {"co_ppm": None},
        {"co2_pct": None, "o2_pct": None},
        {"co2_pct": "0.0", "o2_pct": None},
        {"co_ppm": None, "ratio": "0.0007"},
        {"co2_pct": None, "o2_pct": None, "co_ppm": None},
    ],
)
def test_a_flue_slip_without_co_or_ratio_is_unjudged(values: dict[str, str | None]) -> None:
    assert judge_one(flue(**values)).verdict == "unjudged"


def test_over_stays_over_whatever_is_missing() -> None:
    assert judge_one(flue(co_ppm=None, ratio="0.0041")).verdict == "over"
    assert judge_one(flue(co_ppm=351, o2_pct=None, co2_pct=None)).verdict == "over"


def test_typed_and_computed_ratio_are_both_judged_and_the_worse_counts() -> None:
    one = judge_one(flue(co_ppm=340, o2_pct=None, co2_pct="8.4", ratio="0.0040"))
    ratios = [(j.basis, j.verdict) for j in one.judged if j.quantity == "ratio"]
    assert ratios == [("computed", "over"), ("typed", "near")]
    assert one.verdict == "over"
    worse = judge_one(flue(co_ppm=61, ratio="0.0041"))
    assert [(j.basis, j.verdict) for j in worse.judged if j.quantity == "ratio"] == [
        ("computed", "unjudged"),
        ("typed", "over"),
    ]
    assert worse.verdict == "over"


def test_a_typed_ratio_is_enough_beside_co() -> None:
    one = judge_one(flue(o2_pct=None, co2_pct=None, co_ppm=61, ratio="0.0007"))
    assert one.verdict == "within"
    assert one.ratio == Decimal("0.0007")


def test_a_kind_without_limits_judges_nothing() -> None:
    one = judge_one(flue(), kind=FIRE)
    assert verdicts(one) == [("co_ppm", "unjudged"), ("ratio", "unjudged")]
    assert {judged.why for judged in one.judged} == {NO_LIMIT}
    assert {judged.source for judged in one.judged} == {"none"}
    assert judge_one(flue(co_ppm=100000), kind=FIRE).verdict == "unjudged"


def test_one_of_ratio_and_co_may_go_without_a_limit_but_not_without_a_reading() -> None:
    maker = limits(ratio="0.01")
    assert verdicts(judge_one(flue(), kind=FIRE, limits=maker)) == [("ratio", "within")]
    one = judge_one(flue(co_ppm=None, ratio="0.0007"), kind=FIRE, limits=maker)
    assert verdicts(one) == [("ratio", "within"), ("co_ppm", "unjudged")]
    assert one.verdict == "unjudged"


def test_a_window_alone_makes_nothing_good() -> None:
    maker = limits(co2_pct={"max": ("5.0", "12.0")})
    one = judge_one(flue(), kind=FIRE, limits=maker)
    assert one.verdict == "unjudged"
    assert of(one, "co2_pct").verdict == "within"


def test_a_window_is_two_limits() -> None:
    maker = limits(co2_pct={"max": ("8.8", "9.6")}, o2_pct={"min": ("4", "6")})
    at_low = judge_one(flue(co2_pct="8.8", o2_pct=None), limits=maker)
    assert [(j.sense, j.verdict) for j in at_low.judged if j.quantity == "co2_pct"] == [
        ("at least", "near"),
        ("at most", "within"),
    ]
    assert of(judge_one(flue(co2_pct="8.79", o2_pct=None), limits=maker), "co2_pct").verdict == "over"
    above = judge_one(flue(co2_pct="9.61", o2_pct=None), limits=maker)
    assert [j.verdict for j in above.judged if j.quantity == "co2_pct"] == ["within", "over"]
    assert [j.quantity for j in judge_one(flue("min"), limits=maker).judged] == [
        "co_ppm", "ratio", "o2_pct", "o2_pct",
    ]  # fmt: skip


def test_a_derived_gas_is_judged_against_the_window() -> None:
    one = judge_one(flue(co2_pct=None), limits=limits(co2_pct={"max": ("8.8", "9.6")}))
    assert of(one, "co2_pct").basis == "derived"
    assert of(one, "co2_pct").verdict == "within"
    nothing = judge_one(flue(co2_pct=None, o2_pct=None), limits=limits(co2_pct={"max": ("8.8", "9.6")}))
    assert of(nothing, "co2_pct").why == NO_READING


def test_other_points_have_no_limits_and_derive_nothing() -> None:
    one = judge_one(slip("room", co_ppm=0, o2_pct="20.9"), limits=limits(co_ppm="350"))
    assert (one.verdict, one.judged, one.derived, one.co2_pct) == ("unjudged", (), (), None)


def _text(value: str, limit: str) -> str:
    judged = Judged("ratio", Decimal(value), Decimal(limit), "at most", "table", "within")
    return ratio_text(Fraction(value), [judged])


@pytest.mark.parametrize(
    ("value", "limit", "text"),
    [
        ("0.00067", "0.004", "0.0007"),
        ("0.00404", "0.004", "0.00404"),
        ("0.00396", "0.004", "0.0040"),
        ("0.004", "0.004", "0.0040"),
        ("0.00400001", "0.004", "0.00400001"),
        ("0.004000014", "0.004", "0.00400001"),
        ("0.00415", "0.00415", "0.00415"),
        ("0.00418", "0.00415", "0.0042"),
        ("1", "0.004", "1.0000"),
        ("0", "0", "0.0000"),
    ],
)
def test_a_ratio_reads_on_its_own_side_of_the_limit(value: str, limit: str, text: str) -> None:
    assert _text(value, limit) == text


def test_a_ratio_half_way_is_told_as_the_higher() -> None:
    told = [ratio_text(Fraction(value), []) for value in ("0.00065", "0.00075", "0.0006499", "0")]
    assert told == ["0.0007", "0.0008", "0.0006", "0.0000"]
    assert ratio_text(Fraction("0.0006500001"), []) == "0.0007"


def test_a_ratio_without_a_limit_has_four_decimals() -> None:
    judged = Judged("co_ppm", Decimal(61), Decimal(350), "at most", "table", "within")
    assert ratio_text(Fraction(2, 3), [judged]) == "0.6667"
