"""The appliance's heading, data plate, maker's limits, instrument and gas supply."""

from __future__ import annotations

from flueleaf.domain.judging.texts import OF_ALL
from flueleaf.domain.words import sentence
from flueleaf.papers.band import Cell, Content, draw_band
from flueleaf.papers.blocks import side_by_side
from flueleaf.papers.figure import MARK_INDENT, draw_mark
from flueleaf.papers.page import LEFT, MEASURE, RULE, Sheet
from flueleaf.papers.record.facts import Appliance, Row, Work
from flueleaf.papers.record.words import label_words, with_unit
from flueleaf.papers.table import Column, draw_table
from flueleaf.papers.table import Row as TableRow
from flueleaf.papers.text import chemical, day
from flueleaf.papers.typeface import BODY, NAME, SMALL, STRONG, Type

DERIVED = "†"
EXPIRED = "Its calibration had expired on the day of the visit."
_LEFT_SHARE = 0.53


def draw_appliance(sheet: Sheet, work: Work, number: int | None) -> None:
    """Draw what the appliance is, how it was left and what its plate and maker say."""
    sheet.need(130)
    if not sheet.at_top:
        sheet.y += 14
    sheet.rule(sheet.y, weight=RULE)
    sheet.y += 6
    appliance = work.appliance
    make = " ".join(part for part in (appliance.make, appliance.model) if part)
    name = ", ".join(part for part in (sentence(appliance.kind), make) if part)
    title = f"{number}.  {name}" if number else name
    left = MEASURE * _LEFT_SHARE
    cells = [
        Cell(LEFT, left, Content(((title, NAME), (appliance.location, BODY)))),
        Cell(LEFT + left + 14, MEASURE - left - 14, _whole(work)),
    ]
    draw_band(sheet, cells, below=9)
    side_by_side(
        sheet,
        [
            ("data plate", _plate(appliance)),
            ("maker’s limits", _limits(work)),
            ("analyser", _analyser(work)),
        ],
    )


def _whole(work: Work) -> Content:
    def mark(sheet: Sheet, x: float, y: float, _width: float) -> None:
        draw_mark(sheet, work.verdict, x + 3.5, y + STRONG.leading / 2)

    parts: list[tuple[str, Type]] = [(sentence(OF_ALL[work.verdict]), STRONG)]
    if work.missing or work.not_measured:
        parts.append(("Not all that was wanted was measured.", STRONG))
    if work.outcome:
        parts.append((sentence(work.outcome), BODY))
    return Content(tuple(parts), mark, MARK_INDENT)


def _plate(appliance: Appliance) -> list[tuple[str, Type]]:
    said = [
        f"serial {appliance.serial}" if appliance.serial else "",
        f"fuel: {appliance.fuel}" if appliance.fuel else "",
        f"flue: {appliance.flue}" if appliance.flue else "",
        *(_row_words(row) for row in appliance.plate),
        f"installed {day(appliance.installed)}" if appliance.installed else "",
    ]
    return [(line, BODY) for line in said if line]


def _row_words(row: Row) -> str:
    value = with_unit(row.value, row.unit)
    return f"{chemical(row.label)} {value}" + (f", {row.note}" if row.note else "")


def _limits(work: Work) -> list[tuple[str, Type]]:
    lines: list[tuple[str, Type]] = [
        (f"{label_words(limit.label)} {with_unit(limit.text, limit.unit)}", BODY) for limit in work.limits
    ]
    if work.limits_source:
        lines.append((work.limits_source, SMALL))
    return lines


def _analyser(work: Work) -> list[tuple[str, Type]]:
    instrument = work.instrument
    if instrument is None:
        return [("not named", STRONG)] if work.slips else []
    lines: list[tuple[str, Type]] = [(instrument.name, BODY)]
    if instrument.serial:
        lines.append((f"serial {instrument.serial}", BODY))
    if instrument.calibration_due:
        lines.append((f"calibration due {day(instrument.calibration_due)}", BODY))
    if instrument.expired:
        lines.append((EXPIRED, STRONG))
    if instrument.note:
        lines.append((chemical(instrument.note), SMALL))
    return lines


def draw_supply(sheet: Sheet, work: Work) -> None:
    """Draw pressures, gas rate and tightness as they were entered."""
    if not work.supply:
        return
    columns = (Column("", 132), Column("value", 78, "decimal"), Column("unit", 42), Column("remark", 196))
    rows = [
        TableRow((sentence(chemical(row.label)), *_value(row), chemical(row.note))) for row in work.supply
    ]
    note = f"{DERIVED} worked out from what was measured" if any(row.derived for row in work.supply) else ""
    draw_table(sheet, columns, rows, title="Gas supply", note=note)


def _value(row: Row) -> tuple[str, str]:
    return f"{row.value} {DERIVED}" if row.derived else row.value, row.unit
