"""Readings of one quantity over the years, from a CSV file with the columns ``date`` and ``value``."""

from __future__ import annotations

import csv
import datetime as dt
import io
import re
from collections.abc import Sequence
from decimal import Decimal

from flueleaf.domain.judging.drift import MOST_READINGS, Dated
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import said
from flueleaf.operations.intake.reader import EARLIEST, LATEST

COLUMNS = ("date", "value")
MOST = Decimal(1_000_000_000)  # far beyond any quantity measured here, on either side of 0
MOST_DIGITS = 40
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,2})?\Z", re.ASCII)
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}\Z", re.ASCII)


def read_readings(text: str, *, name: str) -> tuple[Dated, ...]:
    """Return the readings of a file in its order; blank lines are left out, a line given twice counts twice.

    The first line may name the columns, in either order; without it they are date, value.

    Args:
        text: the whole file.
        name: what to call it in a message.

    Raises:
        Refused: with every fault, by its line; or no readings, or too many.
    """
    try:
        rows = list(_rows(text))
    except csv.Error as error:
        raise Refused([Fault(name, str(error), said("lines of date,value"))]) from None
    order: tuple[str, ...] = COLUMNS
    if rows and (named := _names(rows[0][1])):
        order, rows = named, rows[1:]
    faults: list[Fault] = []
    found = [one for line, cells in rows if (one := _reading(line, cells, order, faults)) is not None]
    if not rows:
        faults.append(Fault(name, "", said("a line date,value, then a line for each reading")))
    if len(rows) > MOST_READINGS:
        lines = said("{count} readings", count=len(rows))
        faults = [Fault(name, lines, said("at most {most} readings", most=MOST_READINGS))]
    if faults:
        raise Refused(faults)
    return tuple(found)


def limit_of(text: str) -> Decimal:
    """Return a limit given beside the file.

    Raises:
        Refused: it is no number in range.
    """
    number = _number(text)
    if number is None:
        raise Refused([Fault("--limit", text, _number_accepted())])
    return number


def _rows(text: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    found = []
    for cells in reader:
        trimmed = [cell.strip() for cell in cells]
        if any(trimmed):
            found.append((reader.line_num, trimmed))
    return found


def _names(cells: Sequence[str]) -> tuple[str, ...] | None:
    """Return the order of the columns where a line names them."""
    names = tuple(cell.lower() for cell in cells)
    return names if sorted(names) == sorted(COLUMNS) else None


def _reading(line: int, cells: Sequence[str], order: Sequence[str], faults: list[Fault]) -> Dated | None:
    if len(cells) != len(COLUMNS):
        where = said("line {n}", n=line)
        faults.append(Fault(where, ",".join(cells), said("two values, {columns}", columns=",".join(order))))
        return None
    told = dict(zip(order, cells, strict=True))
    date, value = _date(told["date"]), _number(told["value"])
    if date is None:
        accepted = said("a date as YYYY-MM-DD, {earliest} to {latest}", earliest=EARLIEST, latest=LATEST)
        faults.append(Fault(said("line {n}, {name}", n=line, name="date"), told["date"], accepted))
    if value is None:
        faults.append(
            Fault(said("line {n}, {name}", n=line, name="value"), told["value"], _number_accepted())
        )
    return None if date is None or value is None else Dated(date, value)


def _date(text: str) -> dt.date | None:
    if not _DATE.match(text):
        return None
    try:
        found = dt.date.fromisoformat(text)
    except ValueError:
        return None
    return found if EARLIEST <= found <= LATEST else None


def _number(text: str) -> Decimal | None:
    if len(text) > MOST_DIGITS or not _NUMBER.match(text.strip()):
        return None
    number = Decimal(text.strip())
    return number if abs(number) <= MOST else None


def _number_accepted() -> str:
    return said("a number from {low} to {high:,}, with a point for decimals", low=f"−{MOST:,}", high=MOST)
