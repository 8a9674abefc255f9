"""What an explanation of a figure holds, and how its numbers are written out."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.quantities import MINUS

SIGNIFICANT_DIGITS = 10  # of a number that does not end; far beyond any instrument


@dataclass(frozen=True, slots=True)
class Given:
    """One number or word that goes into a figure, with its unit, and where it comes from."""

    name: str
    value: str
    origin: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """How one figure was worked out.

    Attributes:
        key: names the figure, ``flue.max.1.co_ppm``; what stands at hand is found by it.
        title: what the figure is called.
        formula: in words, then in symbols.
        inputs: what went in, as typed.
        steps: from the inputs to the result, nothing rounded on the way.
        result: exactly as the window shows it.
        source: title, clause and edition, and how it was checked.
        caution: what the figure does not say, "" if nothing.
    """

    key: str
    title: str
    formula: tuple[str, ...]
    inputs: tuple[Given, ...]
    steps: tuple[str, ...]
    result: str
    source: str
    caution: str = ""


def unrounded(value: Decimal | Fraction | float) -> str:
    """Return a number whole where its digits end within ten, else with ten significant ones and "…"."""
    exact = Fraction(value)
    short = f"{float(exact):.{SIGNIFICANT_DIGITS}g}"
    if "e" in short:
        short = f"{Decimal(short):f}"
    # A binary fraction ends where its shortest decimal does: 5.6 is 5.6, not what lies behind it.
    ends = float(short) == value if isinstance(value, float) else Fraction(short) == exact
    return short.replace("-", MINUS) + ("" if ends else "…")


def factor(value: Decimal | Fraction | float) -> str:
    """Return a number as a factor of a formula, in brackets where it is below nothing."""
    text = unrounded(value)
    return f"({text})" if text.startswith(MINUS) else text
