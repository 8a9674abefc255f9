"""Frozen verdicts of the past, as rows of a table and as bullet graphs."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from flueleaf.desktop.bullet import BulletFacts
from flueleaf.desktop.rows_table_model import Column, Row
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import WORKED_OUT
from flueleaf.domain.judging.rule_table import OWNERS
from flueleaf.domain.judging.texts import WHOSE_LIMIT, whose_limit
from flueleaf.domain.judging.uncertainty import K_ONE_SIDED
from flueleaf.domain.quantities import MINUS, QUANTITIES, Quantity
from flueleaf.operations.facts import wording
from flueleaf.operations.pages import JudgedRow, ReadingRow

JUDGED_COLUMNS = (
    Column(_("what was judged"), stretch=True),
    Column(_("limit"), "soft"),
    Column(_("margin"), "figure"),
    Column(_("whose limit"), "soft"),
    Column(_("verdict"), "verdict"),
)
RATE_WORDS = {"max": _("high rate"), "min": _("low rate"), "mid": _("middle rate")}


def slip_title(row: ReadingRow) -> str:
    """Return what a slip is called: flue, high rate."""
    return _titled(row, RATE_WORDS[row.rate])


def _titled(row: ReadingRow, rate: str) -> str:
    if row.attempt > 1:
        return _("{point}, {rate}, attempt {attempt}", point=_(row.point), rate=rate, attempt=row.attempt)
    return _("{point}, {rate}", point=_(row.point), rate=rate)


def judged_rows(readings: Sequence[ReadingRow]) -> list[Row]:
    """Return every judged quantity of some slips as a row."""
    rows = (_judged_row(reading, judged) for reading in readings for judged in reading.judged)
    # A ratio both typed and worked out, alike to the last digit, is said once.
    return list(dict.fromkeys(rows))


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
    columns = (Column("", stretch=True), *(Column(slip_title(row), "figure") for row in readings))
    rows = []
    for key, quantity in QUANTITIES.items():
        if any(key in row.values for row in readings):
            cells = [f"{row.values[key]:f}" if key in row.values else "" for row in readings]
            rows.append(Row((_with_unit(quantity), *(cell.replace("-", MINUS) for cell in cells))))
    return columns, rows


def _judged_row(reading: ReadingRow, judged: JudgedRow) -> Row:
    quantity = QUANTITIES.get(judged.quantity)
    name = _(quantity.label) if quantity else judged.quantity
    limit = (
        _("{sense} {limit}", sense=_(judged.sense), limit=f"{judged.limit:f}")
        if judged.limit is not None
        else _("none")
    )
    margin = wording.margin_figure(judged.quantity, judged.margin) if judged.margin is not None else ""
    what = _("{quantity}, {slip}", quantity=name, slip=slip_title(reading))
    if judged.basis in WORKED_OUT:
        what = _("{figure}, worked out", figure=what)
    return Row((what, limit, margin, _whose(judged), judged.verdict))


def _bullet(reading: ReadingRow, rows: Sequence[JudgedRow]) -> BulletFacts:
    first = rows[0]
    quantity = QUANTITIES.get(first.quantity)
    low = next((row.limit for row in rows if row.sense == "at least"), None)
    high = next((row.limit for row in rows if row.sense == "at most"), None)
    worst = min(rows, key=lambda row: ("over", "unjudged", "near", "within").index(row.verdict))
    return BulletFacts(
        title=_(
            "{quantity}, {slip}",
            quantity=_(quantity.label) if quantity else first.quantity,
            slip=slip_title(reading),
        ),
        value_text=_value_of_limit(first.value_text, quantity.unit if quantity else "", low, high),
        verdict=worst.verdict,
        value=float(first.value) if first.value is not None else None,
        low=float(low) if low is not None else None,
        high=float(high) if high is not None else None,
        guard=float(K_ONE_SIDED) * (worst.standard_uncertainty or 0.0),
        source=_whose(worst),
        detail=worst.limit_source if worst.status == OWNERS else "",
        key=f"{reading.point}.{reading.rate}.{reading.attempt}.{first.quantity}",
    )


def _value_of_limit(value: str, unit: str, low: Decimal | None, high: Decimal | None) -> str:
    shown = f"{value} {unit}".strip() if value else _("no value")
    if low is not None and high is not None:
        return _("{value}, from {low} to {high}", value=shown, low=f"{low:f}", high=f"{high:f}")
    if low is not None:
        return _("{value}, at least {low}", value=shown, low=f"{low:f}")
    return _("{value} of {high}", value=shown, high=f"{high:f}") if high is not None else shown


def _whose(judged: JudgedRow) -> str:
    """Return whose limit it is; a book of another day may name what is not known here."""
    for whose in WHOSE_LIMIT:
        if judged.source == whose != "none":
            return _(whose_limit(whose, judged.status))
    return "" if judged.source == "none" else judged.source


def _with_unit(quantity: Quantity) -> str:
    if quantity.unit:
        return _("{quantity}, {unit}", quantity=_(quantity.label), unit=quantity.unit)
    return _(quantity.label)
