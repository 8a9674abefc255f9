from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.money.amount import ZERO, Money, apportion, half_up, total

pence = st.integers(-(10**12), 10**12)
weights = st.lists(st.integers(0, 10**6), min_size=1, max_size=12).filter(any)


@pytest.mark.parametrize(
    ("pounds", "expected"),
    [
        ("0.005", 1), ("0.0049999999999999999999999999999999999", 0), ("-0.005", -1), ("-0.0049", 0),
        ("1.005", 101), ("2.675", 268), ("12.4", 1240), ("0", 0),
    ],
)  # fmt: skip
def test_rounds_once_half_up_from_the_digits_given(pounds: str, expected: int) -> None:
    assert Money.of(Decimal(pounds)).pence == expected


def test_a_third_of_a_pound_is_exact_until_rounded() -> None:
    assert Money.of(Fraction(1, 3)) == Money(33)
    assert Money.of(7) == Money(700)


@pytest.mark.parametrize("wrong", [0.1, True, "1.00", None])
def test_takes_exact_pounds_only(wrong: object) -> None:
    with pytest.raises(TypeError):
        Money.of(wrong)  # type: ignore[arg-type]


@pytest.mark.parametrize("wrong", [1.0, True, Decimal(1), "1"])
def test_keeps_whole_pence_only(wrong: object) -> None:
    with pytest.raises(TypeError):
        Money(wrong)  # type: ignore[arg-type]


@given(pence, pence)
def test_adds_and_takes_away(a: int, b: int) -> None:
    assert Money(a) + Money(b) - Money(b) == Money(a)
    assert -Money(a) + Money(a) == ZERO
    assert (Money(a) < Money(b)) == (a < b)
    assert bool(Money(a)) == (a != 0)
    assert total([Money(a), Money(b)]) == Money(a + b)


@given(pence)
def test_the_text_reads_back(a: int) -> None:
    assert Money.of(Decimal(Money(a).plain())) == Money(a)
    assert Money(a).shown().replace(",", "").replace("−", "-") == Money(a).plain()


def test_texts() -> None:
    assert Money(-1240).plain() == "-12.40"
    assert Money(-123450).shown() == "−1,234.50"
    assert Money(-123450).with_sign() == "−£1,234.50"
    assert Money(5).with_sign() == "£0.05"
    assert Money(-5).plain() == "-0.05"


@settings(max_examples=100)
@given(pence, weights)
def test_a_split_adds_up_and_is_fair(a: int, shares: list[int]) -> None:
    parts = Money(a).split(shares)
    assert total(parts) == Money(a)
    for part, weight in zip(parts, shares, strict=True):
        assert abs(part.pence - Fraction(a) * weight / sum(shares)) < 1
        assert weight or not part


def test_left_over_pence_go_to_the_largest_cut_the_earlier_first() -> None:
    assert Money(100).split([1, 1, 1]) == (Money(34), Money(33), Money(33))
    assert Money(5).split([Decimal("0.3"), Decimal("0.7")]) == (Money(2), Money(3))


@pytest.mark.parametrize("shares", [[], [0, 0], [2, -1]])
def test_a_split_needs_weights(shares: list[int]) -> None:
    with pytest.raises(ValueError, match="weights"):
        Money(100).split(shares)


def test_shares_must_make_the_whole() -> None:
    with pytest.raises(ValueError, match="add up"):
        apportion(Money(100), [Fraction(1, 2)])
    with pytest.raises(ValueError, match="add up"):
        apportion(Money(10), [Fraction(1, 2)])


@given(st.fractions())
def test_half_up_is_symmetrical_and_near(value: Fraction) -> None:
    assert half_up(-value) == -half_up(value)
    assert abs(half_up(value) - value) <= Fraction(1, 2)
