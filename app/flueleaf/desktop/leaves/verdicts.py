"""Frozen verdicts of the past, as rows of a table and as bullet graphs."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from flueleaf.desktop.bullet import BulletFacts
from flueleaf.desktop.rows_table_model import Column, Row
from flueleaf.domain.quantities import MINUS, QUANTITIES, Quantity
from flueleaf.operations.facts import wording
from flueleaf.operations.pages import JudgedRow, ReadingRow

JUDGED_COLUMNS = (
    Column("what was judged", stretch=True),
    Column("limit", "soft"),
    Column("margin", "figure"),
    Column("whose limit", "soft"),
    Column("verdict", "verdict"),
)
RATE_WORDS = {"max": "maximum rate", "min": "minimum rate", "mid": "middle rate"}


def slip_title(row: ReadingRow) -> str:
    """Return what a slip is called: flue, maximum rate."""
    attempt = f", attempt {row.attempt}" if row.attempt > 1 else ""
    return f"{row.point}, {RATE_WORDS[row.rate]}{attempt}"


def _column_title(row: ReadingRow) -> str:
    """Return a slip's title as the head of a column: flue, max."""
    return f"{row.point}, {row.rate}{f', attempt {row.attempt}' if row.attempt > 1 else ''}"


def judged_rows(readings: Sequence[ReadingRow]) -> list[Row]:
    """Return every judged quantity of some slips as a row."""
    rows = (_judged_row(reading, judged) for reading in readings for judged in reading.judged)
    return list(
        dict.fromkeys(rows)
    )  # a ratio both typed and worked out, alike to the last digit, is said once


def bullets(readings: Sequence[ReadingRow]) -> list[BulletFacts]:
    """Return a bullet graph per judged quantity; the two limits of a window share one."""
    found: list[BulletFacts] = []
    for reading in readings:
        together: dict[tuple[str, str], list[JudgedRow]] = {}
        for judged in reading.judged:
            together.setdefault((judged.quantity, judged.value_text), []).append(judged)
        found += [_bullet(reading, rows) for rows in together.values()]
    return found


def values_table(readings: Sequence[ReadingRow]) -> tuple[tuple[Column, ...], list[Row]]:
    """Return the readings of some slips as a table: a row per quantity, a column per slip."""
    columns = (Column("", stretch=True), *(Column(_column_title(row), "figure") for row in readings))
    rows = []
    for key, quantity in QUANTITIES.items():
        if any(key in row.values for row in readings):
            cells = [f"{row.values[key]:f}" if key in row.values else "" for row in readings]
            rows.append(Row((_with_unit(quantity), *(cell.replace("-", MINUS) for cell in cells))))
    return columns, rows


def _judged_row(reading: ReadingRow, judged: JudgedRow) -> Row:
    quantity = QUANTITIES.get(judged.quantity)
    name = quantity.label if quantity else judged.quantity
    limit = f"{judged.sense} {judged.limit:f}" if judged.limit is not None else "none"
    margin = wording.margin_figure(judged.quantity, judged.margin) if judged.margin is not None else ""
    worked_out = ", worked out" if judged.basis in ("computed", "derived") else ""
    return Row(
        (f"{name}, {slip_title(reading)}{worked_out}", limit, margin, _whose(judged.source), judged.verdict)
    )


def _bullet(reading: ReadingRow, rows: Sequence[JudgedRow]) -> BulletFacts:
    first = rows[0]
    quantity = QUANTITIES.get(first.quantity)
    low = next((row.limit for row in rows if row.sense == "at least"), None)
    high = next((row.limit for row in rows if row.sense == "at most"), None)
    worst = min(rows, key=lambda row: ("over", "unjudged", "near", "within").index(row.verdict))
    return BulletFacts(
        title=f"{quantity.label if quantity else first.quantity}, {slip_title(reading)}",
        value_text=_value_of_limit(first.value_text, quantity.unit if quantity else "", low, high),
        verdict=worst.verdict,
        value=float(first.value) if first.value is not None else None,
        low=float(low) if low is not None else None,
        high=float(high) if high is not None else None,
        source=_whose(worst.source),
    )


def _value_of_limit(value: str, unit: str, low: Decimal | None, high: Decimal | None) -> str:
    shown = f"{value} {unit}".strip() if value else "no value"
    if low is not None and high is not None:
        return f"{shown}, from {low:f} to {high:f}"
    if low is not None:
        return f"{shown}, at least {low:f}"
    return f"{shown} of {high:f}" if high is not None else shown


def _whose(source: str) -> str:
    return {"maker": "maker’s", "table": "rule table", "none": ""}.get(source, source)


def _with_unit(quantity: Quantity) -> str:
    return f"{quantity.label}, {quantity.unit}" if quantity.unit else quantity.label
