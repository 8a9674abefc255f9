from __future__ import annotations

import statistics

import pytest

from flueleaf.operations.demo.dice import Dice


def test_the_sequence_is_the_one_every_python_gives() -> None:
    # Random(text).random() is documented as reproducible across versions; the figures are CPython 3.11's.
    dice = Dice(1, "plan", "12 Tollhouse Road")
    assert [dice.unit() for _ in range(3)] == [0.04203177189427976, 0.8976092387247624, 0.9932557275491796]
    assert Dice("bell").bell(1.0) == 0.7263314419168916


def test_another_key_is_another_stream() -> None:
    assert Dice(1, "a").unit() != Dice(1, "b").unit()
    assert Dice(1, "a").unit() != Dice(2, "a").unit()


def test_the_bell_has_its_spread_and_an_end() -> None:
    dice = Dice("bell")
    found = [dice.bell(2.0) for _ in range(4000)]
    assert statistics.fmean(found) == pytest.approx(0.0, abs=0.15)
    assert statistics.stdev(found) == pytest.approx(2.0, rel=0.05)
    assert max(abs(one) for one in found) <= 12.0


def test_whole_numbers_reach_both_ends() -> None:
    dice = Dice("between")
    assert {dice.between(3, 6) for _ in range(200)} == {3, 4, 5, 6}


def test_every_choice_is_picked_and_a_chance_keeps_its_odds() -> None:
    dice = Dice("pick")
    assert {dice.pick("abc") for _ in range(100)} == {"a", "b", "c"}
    assert sum(dice.chance(0.25) for _ in range(4000)) == pytest.approx(1000, abs=120)
