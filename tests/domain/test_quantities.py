"""Typed numbers keep their digits, and what is no number of the quantity is refused with what would be."""

from __future__ import annotations

from decimal import Decimal

import pytest

from flueleaf.domain.problems import Fault
from flueleaf.domain.quantities import AIR_HUMIDITY, ON_SLIP, QUANTITIES, Quantity, parse, shown

O2, CO, FLUE, RATIO = (QUANTITIES[key] for key in ("o2_pct", "co_ppm", "flue_c", "ratio"))


@pytest.mark.parametrize(
    ("key", "text", "digits"),
    [
        ("o2_pct", "4.50", "4.50"),
        ("o2_pct", " 4.5 % ", "4.5"),
        ("o2_pct", "4.5%", "4.5"),
        ("o2_pct", ".5", "0.5"),
        ("o2_pct", "5.", "5"),
        ("o2_pct", "+5", "5"),
        ("co_ppm", "12 PPM", "12"),
        ("co_ppm", "12", "12"),
        ("flue_c", "−5.0", "-5.0"),
        ("flue_c", "-5.0", "-5.0"),
        ("flue_c", "61.2 °C", "61.2"),
        ("flue_c", "61.2 ° C", "61.2"),
        ("flue_c", "61.2c", "61.2"),
        ("flue_c", "61.2 degC", "61.2"),
        ("ratio", "0.0008", "0.0008"),
        ("smoke", "3", "3"),
    ],
)
def test_a_number_is_read_with_its_digits_and_its_unit(key: str, text: str, digits: str) -> None:
    assert str(parse(QUANTITIES[key], text)) == digits


@pytest.mark.parametrize("quantity", ON_SLIP.values(), ids=lambda quantity: quantity.key)
def test_both_ends_are_accepted_and_nothing_beyond_them(quantity: Quantity) -> None:
    step = Decimal("0.0001")
    assert parse(quantity, f"{quantity.low:f}") == quantity.low
    assert parse(quantity, f"{quantity.high:f}") == quantity.high
    for beyond in (quantity.low - step, quantity.high + step):
        assert parse(quantity, f"{beyond:f}", "here") == Fault("here", f"{beyond:f}", quantity.accepted)


@pytest.mark.parametrize(
    "text",
    ["", " ", "-", ".", "4.5.6", "1e3", "NaN", "inf", "4 5", "4.5 ppm", "% 4.5", "٤", "½", "1_0", "0" * 41],
)
def test_what_is_no_number_is_refused_as_it_was_typed(text: str) -> None:
    assert parse(O2, text) == Fault("o2_pct", " ".join(text.split()), O2.accepted)


def test_as_many_digits_as_are_read_at_most() -> None:
    assert parse(O2, "4." + "0" * 38) == Decimal("4")
    assert isinstance(parse(O2, "4." + "0" * 39), Fault)


@pytest.mark.parametrize(
    ("text", "hint"),
    [("4,5", " (did you mean 4.5?)"), ("4,5 %", " (did you mean 4.5?)"), ("1,2,3", ""), (",", "")],
)
def test_a_comma_is_refused_and_the_number_meant_is_named(text: str, hint: str) -> None:
    assert parse(O2, text) == Fault("o2_pct", text, O2.accepted + hint)


def test_what_is_accepted_is_said_with_ends_and_unit() -> None:
    assert str(FLUE.accepted) == "a number from −30 to 600 °C, with a point for decimals"
    assert str(CO.accepted) == "a number from 0 to 100,000 ppm, with a point for decimals"
    assert str(RATIO.accepted) == "a number from 0 to 1, with a point for decimals"
    assert str(AIR_HUMIDITY.accepted) == "a number from 0 to 100 %, with a point for decimals"


@pytest.mark.parametrize(
    ("key", "value", "text"),
    [
        ("o2_pct", "4", "4"),
        ("o2_pct", "4.5", "4.5"),
        ("o2_pct", "4.50", "4.50"),
        ("co_ppm", "12.5", "12.5"),
        ("co_ppm", "12", "12"),
        ("ratio", "0.004", "0.0040"),
        ("ratio", "0.00401", "0.00401"),
        ("flue_c", "-5.25", "−5.25"),
        ("co_ppm", "1E+2", "100"),
    ],
)
def test_a_value_is_shown_with_the_digits_typed_and_the_usual_ones(key: str, value: str, text: str) -> None:
    assert shown(QUANTITIES[key], Decimal(value)) == text
