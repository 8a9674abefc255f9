"""How names of points, rates and quantities and how numbers read on a paper or a screen."""

from __future__ import annotations

import datetime as dt
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from flueleaf.domain.judging.noted import Note
from flueleaf.domain.judging.texts import RATE_WORDS
from flueleaf.domain.quantities import MINUS, QUANTITIES, shown
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import said

RATE_NAMES = RATE_WORDS
MOST_DECIMALS = 40
# How a figure of a rule table was come by; an empty slot has none.
STATUS = {
    "read": said("checked against the source"),
    "common practice": said("common practice"),
    "recalled": said("recalled, not checked"),
    "owner": said("entered by the engineer"),
}


def label(quantity: str) -> str:
    """Return what a quantity is called."""
    return QUANTITIES[quantity].label


def unit(quantity: str) -> str:
    """Return the unit printed after a quantity."""
    return QUANTITIES[quantity].unit


def exact(value: Decimal | Fraction, decimals: int) -> str:
    """Return an exact number with so many decimals, rounded half up.

    Raises:
        ValueError: fewer than no decimals.
    """
    if decimals < 0:
        raise ValueError(f"{decimals} decimals")
    scaled = Fraction(value) * 10**decimals
    whole = int((abs(scaled) + Fraction(1, 2)).__floor__())
    sign = MINUS if scaled < 0 and whole else ""
    digits = str(whole).rjust(decimals + 1, "0")
    return sign + (f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits)


def value_text(quantity: str, value: Decimal | Fraction, limit: Decimal | None = None) -> str:
    """Return a value for printing: typed digits kept; a computed one never reads as a limit it is beyond."""
    if isinstance(value, Decimal):
        return shown(QUANTITIES[quantity], value)
    decimals = QUANTITIES[quantity].decimals
    text = exact(value, decimals)
    if limit is None:
        return text
    while _side(_number(text), limit) != _side(value, limit) and decimals < MOST_DECIMALS:
        decimals += 1
        text = exact(value, decimals)
    return text


def note_text(note: Note, text: str) -> str:
    """Return what was written down as it reads on a paper: with its unit, a day in words."""
    if note.value == "date":
        return in_words(dt.date.fromisoformat(text)).replace(" ", "\xa0")
    return f"{text}\N{NO-BREAK SPACE}{note.unit}" if note.unit else text


def _number(text: str) -> Fraction:
    return Fraction(text.replace(MINUS, "-"))


def _side(value: Decimal | Fraction, limit: Decimal) -> int:
    """Return on which side of the limit a value lies: -1, 0 or 1."""
    return (Fraction(value) > Fraction(limit)) - (Fraction(value) < Fraction(limit))


def margin_text(quantity: str, margin: Decimal | Fraction) -> str:
    """Return a distance to the limit with its unit; see ``margin_figure``."""
    return f"{margin_figure(quantity, margin)} {unit(quantity)}".rstrip()


def margin_figure(quantity: str, margin: Decimal | Fraction) -> str:
    """Return a distance to the limit without its unit: cut, so that it never flatters; rounded beyond it.

    Where the usual digits would read as none, it gets as many more as it takes.
    """
    exactly = Fraction(margin)
    decimals = QUANTITIES[quantity].decimals
    while True:
        steps = exactly * 10**decimals
        whole = steps.__floor__() if steps >= 0 else -((abs(steps) + Fraction(1, 2)).__floor__())
        if whole or not exactly or decimals >= MOST_DECIMALS:
            return exact(Fraction(whole, 10**decimals), decimals)
        decimals += 1


def figure(value: float, decimals: int) -> str:
    """Return a computed figure with so many decimals, half up; what rounds to nothing has no sign."""
    rounded = Decimal(repr(value)).quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)
    return f"{rounded if rounded else abs(rounded):f}".replace("-", MINUS)


def chance_text(chance: float) -> str:
    """Return a chance in words that claim no more than the arithmetic knows."""
    if chance < 0.001:
        return said("under 0.1 %")
    if chance > 0.999:
        return said("over 99.9 %")
    return f"{figure(chance * 100, 1)} %"
