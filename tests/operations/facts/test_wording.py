"""Wording of numbers: no value beyond a limit ever reads as the limit, no margin flatters."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.quantities import MINUS
from flueleaf.operations.facts import wording

RATIOS = st.fractions(min_value=0, max_value=1, max_denominator=10**7)
LIMITS = st.decimals(min_value=0, max_value=1, places=5, allow_nan=False)


def _number(text: str) -> Fraction:
    return Fraction(text.replace(MINUS, "-").split()[0])


@settings(max_examples=100)
@given(RATIOS, LIMITS)
def test_a_printed_value_lies_on_the_side_of_the_limit_it_is_on(value: Fraction, limit: Decimal) -> None:
    shown = _number(wording.value_text("ratio", value, limit))
    assert (shown > Fraction(limit)) == (value > Fraction(limit))
    assert (shown < Fraction(limit)) == (value < Fraction(limit))


@pytest.mark.parametrize(
    ("value", "limit", "text"),
    [
        (Fraction(4), "4", "4.0000"),
        (Fraction(164, 41000), "0.004", "0.0040"),
        (Fraction(40001, 10**7), "0.004", "0.0040001"),
        (Fraction(39999, 10**7), "0.004", "0.0039999"),
        (Fraction(61, 91000), "0.004", "0.0007"),
    ],
)
def test_ratios_near_their_limit(value: Fraction, limit: str, text: str) -> None:
    assert wording.value_text("ratio", value, Decimal(limit)) == text


def test_typed_digits_are_kept() -> None:
    assert wording.value_text("o2_pct", Decimal("20.60")) == "20.60"
    assert wording.value_text("co_ppm", Decimal(61)) == "61"
    assert wording.value_text("air_c", Decimal("-3.5")) == f"{MINUS}3.5"


@settings(max_examples=100)
@given(st.fractions(min_value=-1000, max_value=1000, max_denominator=10**5))
def test_a_margin_is_never_shown_larger_than_it_is(margin: Fraction) -> None:
    shown = _number(wording.margin_text("co_ppm", margin))
    # Never better than it is within the limit, never none, never on the other side.
    assert shown <= margin or margin < 0
    assert abs(shown - margin) < 1
    assert (shown == 0) == (margin == 0)
    assert (shown < 0) == (margin < 0)


def test_a_chance_claims_no_more_than_is_known() -> None:
    assert wording.chance_text(0.0) == "under 0.1 %"
    assert wording.chance_text(0.0499) == "5.0 %"
    assert wording.chance_text(1.0) == "over 99.9 %"


@settings(max_examples=100)
@given(st.fractions(min_value=-100, max_value=100, max_denominator=10**6), st.integers(0, 6))
def test_exact_rounds_half_up_away_from_zero(value: Fraction, decimals: int) -> None:
    shown = _number(wording.exact(value, decimals))
    assert abs(shown - value) <= Fraction(1, 2 * 10**decimals)


def test_exact_at_the_half() -> None:
    assert wording.exact(Fraction(5, 1000), 2) == "0.01"
    assert wording.exact(Fraction(-5, 1000), 2) == f"{MINUS}0.01"
    assert wording.exact(Fraction(-4, 1000), 2) == "0.00"
    with pytest.raises(ValueError, match="decimals"):
        wording.exact(Fraction(1), -1)


@pytest.mark.parametrize(("value", "shown"), [(-0.04, "0.0"), (-0.0, "0.0"), (-0.05, "−0.1"), (0.04, "0.0")])
def test_a_figure_that_rounds_to_nothing_has_no_sign(value: float, shown: str) -> None:
    assert wording.figure(value, 1) == shown


def test_a_figure_is_rounded_half_up_in_its_decimal_digits() -> None:
    assert wording.figure(98.25, 1) == "98.3"
    assert wording.figure(-0.25, 1) == f"{MINUS}0.3"
