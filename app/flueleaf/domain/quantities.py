"""The measured quantities: unit, accepted range, digits shown, and how typed text becomes a number."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from flueleaf.domain.problems import Fault
from flueleaf.domain.words import said

MINUS = "−"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity an analyser prints.

    Attributes:
        key: name in code, JSON and the book, with its unit (``co_ppm``).
        label: what the screen and the papers call it, without unit.
        unit: unit as printed ("" for a pure number).
        low, high: accepted range, both ends included.
        decimals: digits after the point usually shown.
        spellings: units a person may type after the number.
    """

    key: str
    label: str
    unit: str
    low: Decimal
    high: Decimal
    decimals: int
    spellings: tuple[str, ...] = ()

    @property
    def accepted(self) -> str:
        """What would be accepted, for a message."""
        low = str(self.low).replace("-", MINUS)
        if not self.unit:
            return said("a number from {low} to {high:,}, with a point for decimals", low=low, high=self.high)
        return said(
            "a number from {low} to {high:,} {unit}, with a point for decimals",
            low=low,
            high=self.high,
            unit=self.unit,
        )


def _quantity(
    key: str, label: str, unit: str, ends: tuple[str, str], decimals: int, *spellings: str
) -> Quantity:
    return Quantity(key, label, unit, Decimal(ends[0]), Decimal(ends[1]), decimals, spellings)


# Accepted ranges: what an instrument can show at all, not what is healthy. Source: common practice.
QUANTITIES: dict[str, Quantity] = {
    q.key: q
    for q in (
        _quantity("o2_pct", "O2", "%", ("0", "25"), 1, "%"),
        _quantity("co2_pct", "CO2", "%", ("0", "25"), 1, "%"),
        _quantity("co_ppm", "CO", "ppm", ("0", "100000"), 0, "ppm"),
        _quantity("ratio", said("CO/CO2 ratio"), "", ("0", "1"), 4),
        _quantity("no_ppm", "NO", "ppm", ("0", "100000"), 0, "ppm"),
        _quantity("flue_c", said("flue gas"), "°C", ("-30", "600"), 1, "°C", "C", "° C", "degC"),
        _quantity("air_c", said("combustion air"), "°C", ("-30", "600"), 1, "°C", "C", "° C", "degC"),
        _quantity("smoke", said("smoke number"), "", ("0", "9"), 0),
    )
}

# Of the air, not of the flue gas: no analyser judges it, and the dew point takes it in.
AIR_HUMIDITY = _quantity("air_humidity_pct", said("air humidity"), "%", ("0", "100"), 0, "%")
# Everything that can be typed on a slip.
ON_SLIP: dict[str, Quantity] = {**QUANTITIES, AIR_HUMIDITY.key: AIR_HUMIDITY}

_PLAIN = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)\Z")
_LONGEST = 40


def parse(quantity: Quantity, text: str, where: str = "") -> Decimal | Fault:
    """Read a typed number: its digits are kept, its own unit may follow, a comma is refused.

    Args:
        quantity: what is being typed.
        text: the text as typed.
        where: the field, for the message.
    """
    shown = " ".join(text.split())
    bare = shown.replace(MINUS, "-")
    for unit in sorted(quantity.spellings, key=len, reverse=True):
        if bare.lower().endswith(unit.lower()):
            bare = bare[: -len(unit)].rstrip()
            break
    hint = ""
    if "," in bare:
        point = bare.replace(",", ".")
        hint = f" (did you mean {point}?)" if _PLAIN.match(point) else ""
    elif len(bare) <= _LONGEST and bare.isascii() and _PLAIN.match(bare):
        value = Decimal(bare)
        if quantity.low <= value <= quantity.high:
            return value
    accepted = quantity.accepted + hint if hint else quantity.accepted
    return Fault(where or quantity.key, shown, accepted)


def shown(quantity: Quantity, value: Decimal) -> str:
    """Return a value with at least the usual digits and never fewer than were typed."""
    exponent = value.as_tuple().exponent
    typed = -exponent if isinstance(exponent, int) and exponent < 0 else 0
    return f"{value:.{max(quantity.decimals if typed else 0, typed)}f}".replace("-", MINUS)
