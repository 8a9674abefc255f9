"""Cells of a logged run: numbers with point or comma, and times as seconds, clock or date and time."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable
from decimal import Decimal
from typing import Literal

Sign = Literal[".", ",", ""]

# What analysers and programs write where there is no reading. None of them is a zero.
NOTHING = frozenset(
    {"", "nan", "n/a", "na", "#n/a", "null", "none", "nil", ".", "..", "...", "*", "**", "***", "?"}
)
LONGEST = 40
S_PER_MIN, S_PER_H, S_PER_DAY = 60, 3600, 86_400

_DASHES = re.compile(r"[-–—−_]+\Z")
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,2})?\Z", re.ASCII)
_PARTED = re.compile(r"[+\-−]?(\d*)([.,])(\d+)(?:\s*\D*)\Z", re.ASCII)
_CLOCK = re.compile(r"(\d{1,3}):(\d{2}):(\d{2})(?:[.,](\d{1,9}))?\s*([aApP]\.?[mM]\.?)?\Z", re.ASCII)
_MINUTES = re.compile(r"(\d{1,4}):(\d{2})(?:[.,](\d{1,9}))?\Z", re.ASCII)
_DAY_FIRST = re.compile(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})[ T,]+(.+)\Z", re.ASCII)
_YEAR_FIRST = re.compile(r"(\d{4})[./-](\d{1,2})[./-](\d{1,2})[ T,]+(.+)\Z", re.ASCII)
_ZONE = re.compile(r"\s*(Z|z|[+-]\d{2}:?\d{2})\Z", re.ASCII)


def is_nothing(cell: str) -> bool:
    """Tell whether a cell says that there is no reading."""
    return cell.casefold() in NOTHING or _DASHES.match(cell) is not None


def decimal_sign(cells: Iterable[str]) -> Sign:
    """Return the decimal sign that some cells leave no doubt about; "" where none does, or they differ.

    Three figures after a comma may as well be thousands: 1,234 tells nothing, 0,123 and 12,34 do.
    """
    found: set[Sign] = set()
    for cell in cells:
        parted = _PARTED.match(cell)
        if parted is None:
            continue
        before, sign, after = parted.groups()
        if len(after) != 3 or len(before) > 3 or before in ("", "0") or before.startswith("0") or sign == ".":
            found.add("," if sign == "," else ".")
    return found.pop() if len(found) == 1 else ""


def number_of(cell: str, sign: Sign, units: Iterable[str] = ()) -> Decimal | None:
    """Return the number of a cell with its digits, or None; its own unit may follow.

    Args:
        cell: trimmed.
        sign: the decimal sign of the table; where that is not the comma, a comma is refused.
        units: what may follow the number.
    """
    if len(cell) > LONGEST:
        return None
    bare = cell.replace("−", "-")
    for unit in sorted(units, key=len, reverse=True):
        if bare.casefold().endswith(unit):
            bare = bare[: -len(unit)].rstrip()
            break
    if sign == ",":
        if "." in bare:
            return None
        bare = bare.replace(",", ".")
    return Decimal(bare) if _NUMBER.match(bare) else None


def decimals(number: Decimal | None) -> int:
    """Return how many digits stand after the decimal sign."""
    exponent = 0 if number is None else number.as_tuple().exponent
    return -exponent if isinstance(exponent, int) and exponent < 0 else 0


def clock_s(cell: str) -> Decimal | None:
    """Return hh:mm:ss as seconds since midnight, or since a stopwatch began; None if it is none."""
    found = _CLOCK.match(cell)
    if found is None:
        return None
    hours, minutes, seconds = (int(part) for part in found.groups()[:3])
    half = (found[5] or "").casefold().replace(".", "")
    if minutes >= 60 or seconds >= 60 or (half and not 1 <= hours <= 12):
        return None
    if half:
        hours = hours % 12 + (12 if half == "pm" else 0)
    return hours * S_PER_H + minutes * S_PER_MIN + _with_fraction(seconds, found[4])


def minutes_s(cell: str) -> Decimal | None:
    """Return mm:ss as seconds, or None."""
    found = _MINUTES.match(cell)
    if found is None or int(found[2]) >= 60:
        return None
    return int(found[1]) * S_PER_MIN + _with_fraction(int(found[2]), found[3])


def moment_s(cell: str) -> tuple[Decimal, bool] | None:
    """Return a date and time as seconds since 1970, and whether it names its zone; None if it is none.

    Year first as ISO 8601 has it, or day first as it is written here; seconds must be told.
    """
    if found := _YEAR_FIRST.match(cell):
        year, month, day, rest = found.groups()
    elif found := _DAY_FIRST.match(cell):
        day, month, year, rest = found.groups()
    else:
        return None
    offset_s = 0
    zone = _ZONE.search(rest)
    if zone is not None:
        rest = rest[: zone.start()]
        if zone[1] not in "Zz":
            sign, figures = zone[1][0], zone[1][1:].replace(":", "")
            offset_s = int(f"{sign}1") * (int(figures[:2]) * S_PER_H + int(figures[2:]) * S_PER_MIN)
    seconds = clock_s(rest)
    if seconds is None or seconds >= S_PER_DAY:
        return None
    try:
        date = dt.date(int(year), int(month), int(day))
    except ValueError:
        return None
    return (date - dt.date(1970, 1, 1)).days * S_PER_DAY + seconds - offset_s, zone is not None


def _with_fraction(seconds: int, fraction: str | None) -> Decimal:
    return Decimal(f"{seconds}.{fraction}") if fraction else Decimal(seconds)
