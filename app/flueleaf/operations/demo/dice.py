"""Chance that is the same on every machine and in every Python version.

Only ``Random.random`` is used, whose sequence the language guarantees, and sums and products follow, so that
no library function can differ in its last digit.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")


class Dice:
    """A stream of chance of its own for each thing told about, so that one more thing changes no other."""

    def __init__(self, *key: object) -> None:
        self._random = random.Random("/".join(str(part) for part in key))

    def unit(self) -> float:
        """Return a number in [0, 1)."""
        return self._random.random()

    def bell(self, spread: float) -> float:
        """Return a bell-shaped deviation of the standard deviation ``spread``, never beyond 6 of them.

        The sum of twelve uniform numbers less six has the variance 1 and is close enough to normal for noise.
        """
        total = 0.0
        for _ in range(12):  # not sum(), which adds up more exactly from Python 3.12 on
            total += self._random.random()
        return (total - 6.0) * spread

    def between(self, low: int, high: int) -> int:
        """Return a whole number from ``low`` to ``high``, both included."""
        return low + int(self._random.random() * (high - low + 1))

    def pick(self, choices: Sequence[T]) -> T:
        """Return one of the choices."""
        return choices[int(self._random.random() * len(choices))]

    def chance(self, probability: float) -> bool:
        """Return true with the given probability."""
        return self._random.random() < probability
