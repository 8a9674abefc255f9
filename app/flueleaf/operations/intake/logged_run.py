"""A logged run as an analyser exports it: which column is which, and its readings over time.

An empty cell, NaN or a dash is a reading that is not there, never a zero; any other cell that is no number is
refused with its line. A line without a time is left out. A file with the newest line first is turned round;
clock times may pass midnight.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise

from flueleaf.domain.judging.settling import Trace
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.quantities import QUANTITIES, Quantity
from flueleaf.domain.words import said
from flueleaf.operations.intake import log_cells, log_columns
from flueleaf.operations.intake.delimited import Sheet, decoded, sheet_of
from flueleaf.operations.intake.log_columns import GASES, TIME, Column

MOST_FAULTS = 20  # more say nothing new
ZERO_S = Decimal(0)

_OWN_ZERO = ("number", "minutes")  # these count from where the analyser began; others from the first line
_Moment = tuple[str, Decimal]  # how it is written, and seconds


@dataclass(frozen=True, slots=True)
class LoggedRun:
    """The readings of a run.

    Attributes:
        traces: by quantity key, those that have a column.
        columns: by key (``time`` too), the header each was read from.
        beside: by quantity key, what is filled in as well; cells that are no reading are not there.
    """

    traces: Mapping[str, Trace]
    columns: Mapping[str, str]
    beside: Mapping[str, Trace] = field(default_factory=dict)


def read_sheet(data: bytes, name: str, named: Mapping[str, str]) -> Sheet:
    """Return the table of a file, whichever its columns are.

    Raises:
        Refused: it holds none.
    """
    return sheet_of(decoded(data, name), name, lambda cells: log_columns.known(cells, named))


def read_run(sheet: Sheet, named: Mapping[str, str], wheres: Mapping[str, str]) -> LoggedRun:
    """Return the readings of a table.

    Args:
        sheet: as read.
        named: by key (``time``, ``co_ppm`` …), the header a person gave for it; others are recognised.
        wheres: by key, what to call its column in a message.

    Raises:
        Refused: naming every fault by line and column, twenty at most.
    """
    columns, faults = log_columns.columns_of(sheet.header, named, wheres)
    if faults:
        raise Refused(faults)
    rows = _filled_to(sheet, faults)
    columns, left = _with_units(columns, rows)
    units_line = rows[0][1] if len(left) < len(rows) else ()
    others, rows = log_columns.beside(sheet.header, named, columns.values(), units_line), left
    for key, column in columns.items():
        if log_columns.factor_of(key, column.unit) is None:
            faults.append(Fault(wheres[key], column.header, log_columns.unit_words(key)))
    if faults:
        raise Refused(faults)
    reader = _RunReader(columns, rows)
    times = reader.times()
    traces = {key: reader.trace(key, times) for key in GASES if key in columns}
    if faults := reader.faults():
        raise Refused(faults)
    told = {key: column.header for key, column in (*columns.items(), *others.items())}
    return LoggedRun(traces, told, {key: reader.beside(key, column, times) for key, column in others.items()})


_Row = tuple[int, Sequence[str]]


def _filled_to(sheet: Sheet, faults: list[Fault]) -> list[_Row]:
    """Return the lines, all with a cell for each column; a line with more cells than names is a fault."""
    wide = len(sheet.header)
    rows: list[_Row] = []
    for line, cells in sheet.rows:
        if any(cells[wide:]) and len(faults) < MOST_FAULTS:
            shown = sheet.delimiter.join(cells)
            faults.append(
                Fault(said("line {n}", n=line), shown, said("{count} cells, as the header", count=wide))
            )
        rows.append((line, (*cells, *[""] * (wide - len(cells)))))
    return rows


def _with_units(columns: dict[str, Column], rows: list[_Row]) -> tuple[dict[str, Column], list[_Row]]:
    """Take the units of a line of units under the header."""
    if not rows:
        return columns, rows
    cells = rows[0][1]
    said_there = {
        key: cells[column.at] for key, column in columns.items() if not log_cells.is_nothing(cells[column.at])
    }
    if not said_there or not all(log_columns.is_unit(key, cell) for key, cell in said_there.items()):
        return columns, rows
    found = {
        key: Column(
            column.at, column.header, column.unit or log_columns.unit_of(key, f"[{cells[column.at]}]")
        )
        for key, column in columns.items()
    }
    return found, rows[1:]


class _RunReader:
    """Reads the cells of some columns and gathers what is wrong with them."""

    def __init__(self, columns: Mapping[str, Column], rows: list[_Row]) -> None:
        self._columns = columns
        self._rows = rows
        self._faults: dict[str, list[tuple[int, Fault]]] = {key: [] for key in columns}
        places = [column.at for column in columns.values()]
        self._sign = log_cells.decimal_sign(cells[at] for _, cells in rows for at in places)

    def faults(self) -> list[Fault]:
        """Return the first of what is wrong, line by line."""
        found = [one for key in self._columns for one in self._faults[key]]
        return [fault for _, fault in sorted(found, key=lambda one: one[0])[:MOST_FAULTS]]

    def times(self) -> list[Decimal | None]:
        """Return the time of each line in seconds, None where it has none; the lines are put in order."""
        found: list[Decimal | None] = []
        way = ""  # how the first is written
        for line, cells in self._rows:
            cell = cells[self._columns[TIME].at]
            moment = None if log_cells.is_nothing(cell) else self._moment(cell)
            if moment is not None and way in ("", moment[0]):
                way = moment[0]
                found.append(moment[1])
                continue
            found.append(None)
            if not log_cells.is_nothing(cell):
                self._refuse(line, TIME, cell, _time_words(way))
        found = self._in_order(_past_midnight(found) if way == "clock" else found)
        if way in _OWN_ZERO:
            return found
        begin = next((time for time in found if time is not None), ZERO_S)
        return [None if time is None else time - begin for time in found]

    def trace(self, key: str, times: Sequence[Decimal | None]) -> Trace:
        """Return what a column holds, at the moments it holds something."""
        quantity, column = QUANTITIES[key], self._columns[key]
        factor = log_columns.factor_of(key, column.unit)
        assert factor is not None
        units = log_columns.units(key)
        at_s: list[Decimal] = []
        values: list[Decimal] = []
        decimals = 0
        for (line, cells), time in zip(self._rows, times, strict=True):
            cell = cells[column.at]
            if log_cells.is_nothing(cell):
                continue
            written = log_cells.number_of(cell, self._sign, units)
            value = None if written is None else written * factor if factor != 1 else written
            if value is None or not quantity.low <= value <= quantity.high:
                self._refuse(line, key, cell, _gas_words(quantity, column.unit, factor))
            elif time is not None:
                at_s.append(time)
                values.append(value)
                decimals = max(decimals, log_cells.decimals(written))
        return Trace(at_s, values, digit_of(decimals, quantity, factor))

    def beside(self, key: str, column: Column, times: Sequence[Decimal | None]) -> Trace:
        """Return what a column holds that is filled in as well: the cells that are readings."""
        quantity, units = QUANTITIES[key], log_columns.units(key)
        sign = self._sign or log_cells.decimal_sign(cells[column.at] for _, cells in self._rows)
        read = [
            (time, value)
            for (_, cells), time in zip(self._rows, times, strict=True)
            if time is not None
            and (value := log_cells.number_of(cells[column.at], sign, units)) is not None
            and quantity.low <= value <= quantity.high
        ]
        digit = Decimal(1).scaleb(-quantity.decimals)
        return Trace([time for time, _ in read], [value for _, value in read], digit)

    def _moment(self, cell: str) -> _Moment | None:
        unit = self._columns[TIME].unit
        if log_columns.writing_of(unit) == log_columns.MINUTES:
            seconds = log_cells.minutes_s(cell)
            if seconds is not None:
                return "minutes", seconds
        number = log_cells.number_of(cell, self._sign, log_columns.units(TIME))
        if number is not None:
            return "number", number * (log_columns.factor_of(TIME, unit) or 1)
        seconds = log_cells.clock_s(cell)
        if seconds is not None:
            return "clock", seconds
        moment = log_cells.moment_s(cell)
        return None if moment is None else ("zoned" if moment[1] else "moment", moment[0])

    def _in_order(self, times: list[Decimal | None]) -> list[Decimal | None]:
        """Turn a run with the newest line first round; refuse one that goes back and forth."""
        told = [(time, line) for time, (line, _) in zip(times, self._rows, strict=True) if time is not None]
        if len(told) > 1 and told[0][0] > told[-1][0] and all(a[0] >= b[0] for a, b in pairwise(told)):
            self._rows.reverse()
            return times[::-1]
        cells = dict(self._rows)
        for (before, _), (time, line) in pairwise(told):
            if time < before:
                words = said("a time not before that of the line above")
                self._refuse(line, TIME, cells[line][self._columns[TIME].at], words)
        return times

    def _refuse(self, line: int, key: str, cell: str, accepted: str) -> None:
        if len(self._faults[key]) < MOST_FAULTS:
            where = said("line {n}, {name}", n=line, name=self._columns[key].header)
            self._faults[key].append((line, Fault(where, cell, accepted)))


def digit_of(decimals: int, quantity: Quantity, factor: Decimal = Decimal(1)) -> Decimal:
    """Return the last digit a display shows, in the unit of the quantity, but none finer than is usual.

    More decimals than an analyser shows come from averaging or from a spreadsheet, not from the cell.

    Args:
        decimals: the most that were written.
        quantity: what was read; its usual decimals are common practice.
        factor: from the unit written to that of the quantity.
    """
    return max(factor.scaleb(-decimals), Decimal(1).scaleb(-quantity.decimals))


def _past_midnight(times: list[Decimal | None]) -> list[Decimal | None]:
    """Let clock times go on after midnight."""
    found: list[Decimal | None] = []
    days, before = 0, None
    for time in times:
        if time is None:
            found.append(None)
            continue
        if before is not None and abs(time - before) > log_cells.S_PER_DAY // 2:
            days += 1 if time < before else -1
        before = time
        found.append(time + days * log_cells.S_PER_DAY)
    return found


def _time_words(way: str) -> str:
    if way:
        return said("a time written as in the lines above, or an empty cell")
    return said(
        "seconds as a number, a clock time as hh:mm:ss, or date and time as YYYY-MM-DD hh:mm:ss; for minutes "
        "and seconds a header such as “Time [mm:ss]”"
    )


def _gas_words(quantity: Quantity, unit: str, factor: Decimal) -> str:
    low, high = quantity.low / factor, quantity.high / factor
    return said(
        "a number from {low} to {high} {unit}, or an empty cell",
        low=f"{low.normalize():f}",
        high=f"{int(high):,}" if high == int(high) else f"{high.normalize():f}",
        unit=unit or quantity.unit,
    )
