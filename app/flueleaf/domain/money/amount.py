"""Money as whole pence: exact in, one rounding half-up, never a binary fraction."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

CURRENCY = "GBP"
PENCE_IN_POUND = 100
MINUS = "−"

Exact = Decimal | Fraction | int


def half_up(value: Fraction) -> int:
    """Return a fraction rounded to a whole number, halves away from zero.

    Source: rounding of VAT to the nearest penny, half a penny up (HMRC VAT Guide, Notice 700, section 17.5;
    recalled). Away from zero, so that a credit mirrors the charge it takes back.
    """
    rounded = math.floor(abs(value) + Fraction(1, 2))
    return rounded if value >= 0 else -rounded


@dataclass(frozen=True, slots=True, order=True)
class Money:
    """An amount of pounds sterling in whole pence; negative where it is owed the other way."""

    pence: int

    def __post_init__(self) -> None:
        if type(self.pence) is not int:
            raise TypeError(f"pence are a whole number, not {self.pence!r}")

    @classmethod
    def of(cls, pounds: Exact) -> Money:
        """Return exact pounds rounded once, half-up, to the penny.

        Raises:
            TypeError: a float, whose digits are not the ones written.
        """
        if isinstance(pounds, bool) or not isinstance(pounds, Decimal | Fraction | int):
            raise TypeError(f"pounds come as exact numbers, not {pounds!r}")
        return cls(half_up(Fraction(pounds) * PENCE_IN_POUND))

    @property
    def pounds(self) -> Fraction:
        """The amount in pounds, exactly."""
        return Fraction(self.pence, PENCE_IN_POUND)

    def __add__(self, other: Money) -> Money:
        return Money(self.pence + other.pence)

    def __sub__(self, other: Money) -> Money:
        return Money(self.pence - other.pence)

    def __neg__(self) -> Money:
        return Money(-self.pence)

    def __bool__(self) -> bool:
        return self.pence != 0

    def split(self, weights: Sequence[Exact]) -> tuple[Money, ...]:
        """Return parts in proportion to weights that add up to the whole.

        Args:
            weights: not negative, at least one above zero.

        Raises:
            ValueError: there is nothing to share by.
        """
        exact = [Fraction(weight) for weight in weights]
        whole = sum(exact)
        if not whole or min(exact) < 0:
            raise ValueError("weights are not negative and not all zero")
        return apportion(self, [self.pounds * weight / whole for weight in exact])

    def plain(self) -> str:
        """Return the amount for machines: ``-1234.50``."""
        pounds, pence = divmod(abs(self.pence), PENCE_IN_POUND)
        return f"{'-' if self.pence < 0 else ''}{pounds}.{pence:02d}"

    def shown(self) -> str:
        """Return the amount for a person: ``−1,234.50``."""
        pounds, pence = divmod(abs(self.pence), PENCE_IN_POUND)
        return f"{MINUS if self.pence < 0 else ''}{pounds:,}.{pence:02d}"

    def with_sign(self) -> str:
        """Return the amount with its currency: ``−£1,234.50``."""
        shown = Money(abs(self.pence)).shown()
        return f"{MINUS if self.pence < 0 else ''}£{shown}"


ZERO = Money(0)


def total(amounts: Iterable[Money]) -> Money:
    """Return the sum of amounts."""
    return Money(sum(amount.pence for amount in amounts))


def apportion(whole: Money, shares: Sequence[Fraction]) -> tuple[Money, ...]:
    """Return whole pence close to exact shares in pounds that add up to the whole.

    Every share is cut down to the penny; the pennies left over go to the largest cut-off parts, the
    earlier of equals first, so that no part is a penny or more away from its share.

    Raises:
        ValueError: the shares do not add up to about the whole.
    """
    exact = [share * PENCE_IN_POUND for share in shares]
    pence = [math.floor(share) for share in exact]
    left = whole.pence - sum(pence)
    if not 0 <= left <= len(exact):
        raise ValueError("the shares do not add up to the whole")
    by_cut = sorted(range(len(exact)), key=lambda n: (pence[n] - exact[n], n))
    for n in by_cut[:left]:
        pence[n] += 1
    return tuple(Money(part) for part in pence)
