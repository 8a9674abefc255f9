"""What an appliance without a flue gave over the years: a chart for each point where it was measured.

Above a hob, a grill or an oven it is the ratio that tells, since the air of the room thins CO; in a room it
is CO. The air outdoors, with which the room is compared, is not drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.charts.chart_panel import ChartPanel
from flueleaf.desktop.charts.history_chart import (
    RATE_WORDS,
    Panel,
    by_rate,
    claimed,
    draw_panel,
    limit_words,
    name_days,
    superseded_words,
)
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.theme import Theme
from flueleaf.desktop.verdict_mark import verdict_word
from flueleaf.desktop.words import _, _n
from flueleaf.domain.judging.verdict import ratio_text
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import FLAME_POINTS, Point
from flueleaf.operations.facts import wording
from flueleaf.operations.pages import AppliancePage, ChartLimits, ReadingRow

EACH_PX = 170
ABOVE_PX, BELOW_PX, BETWEEN_PX = 24, 30, 42  # room for the title, the days, and both between two charts
DRAWN_AT: tuple[Point, ...] = (*FLAME_POINTS, "room")


class FluelessChart(ChartPanel):
    """A chart a point, over one axis of years."""

    def __init__(self, page: AppliancePage, parent: QWidget | None = None) -> None:
        self._drawn = measured_at(page)
        self._panels = [_panel(page, point, quantity) for point, quantity in self._drawn]
        self._rows = [_rows(page, point) for point, _quantity in self._drawn]
        self._total_px = EACH_PX * max(len(self._drawn), 1)
        super().__init__(
            "chart.history", flueless_words(page), height_px=self._total_px, wait_ms=20, parent=parent
        )

    def draw(self, library: Any, figure: Any, theme: Theme) -> None:
        """Draw the points below each other."""
        count, whole = len(self._drawn), self._total_px
        found = figure.subplots(count, 1, sharex=True, squeeze=False)[:, 0]
        each = (whole - ABOVE_PX - BELOW_PX - BETWEEN_PX * (count - 1)) / count
        figure.subplots_adjust(
            left=0.09, right=0.9, top=1 - ABOVE_PX / whole, bottom=BELOW_PX / whole, hspace=BETWEEN_PX / each
        )
        for axes, panel, rows in zip(found, self._panels, self._rows, strict=True):
            draw_panel(axes, library, theme, panel, rows)
        name_days(found[-1], library)


def measured_at(page: AppliancePage) -> list[tuple[Point, str]]:
    """Return the points that can be drawn, each with its quantity: the ratio, or CO where there is none."""
    found: list[tuple[Point, str]] = []
    for point in DRAWN_AT:
        rows = _rows(page, point)
        if point in FLAME_POINTS and any(row.ratio is not None for row in rows):
            found.append((point, "ratio"))
        elif any("co_ppm" in row.values for row in rows):
            found.append((point, "co_ppm"))
    return found


def flueless_words(page: AppliancePage) -> str:
    """Return in words what the charts show, point by point, with the limit that stands there."""
    drawn = measured_at(page)
    told = [_point_words(page, point, quantity) for point, quantity in drawn]
    superseded = superseded_words([row for point, _quantity in drawn for row in _rows(page, point)])
    return " ".join(part for part in (*told, superseded) if part)


def _rows(page: AppliancePage, point: Point) -> tuple[ReadingRow, ...]:
    return tuple(row for row in page.history if row.point == point)


def _value(row: ReadingRow, quantity: str) -> float | None:
    if quantity == "ratio":
        return row.ratio
    return float(row.values["co_ppm"]) if "co_ppm" in row.values else None


def _panel(page: AppliancePage, point: Point, quantity: str) -> Panel:
    limits = page.limits_at.get(point, ChartLimits())
    of_ratio = quantity == "ratio"
    limit, whose = (limits.ratio, limits.ratio_source) if of_ratio else (limits.co_ppm, limits.co_source)
    unit = QUANTITIES[quantity].unit
    return Panel(
        title=_("{quantity}, {point}", quantity=_(QUANTITIES[quantity].label), point=_(point)),
        unit=unit,
        value=lambda row: _value(row, quantity),
        tolerance=lambda row: row.ratio_tolerance if of_ratio else row.co_tolerance_ppm,
        limit=None if limit is None else float(limit),
        limit_words=limit_words(limit, f" {unit}".rstrip(), whose),
        drifts=claimed(page, quantity) if point == "flue" else {},
    )


def _point_words(page: AppliancePage, point: Point, quantity: str) -> str:
    panel = _panel(page, point, quantity)
    told = []
    for rate, rows in by_rate(_rows(page, point)).items():
        known = [row for row in rows if _value(row, quantity) is not None]
        if known:
            told.append(_rate_words(rate, known, quantity))
    standing = panel.limit_words or _("no limit is known")
    return _("{title}: {readings}; {limit}.", title=panel.title, readings="; ".join(told), limit=standing)


def _shown(quantity: str, value: float) -> str:
    """Return a reading as its slip showed it; a ratio was kept as the nearest double."""
    exact = Fraction(repr(value))
    return ratio_text(exact, ()) if quantity == "ratio" else wording.value_text(quantity, exact)


def _rate_words(rate: str, rows: Sequence[ReadingRow], quantity: str) -> str:
    values = [_value(row, quantity) or 0.0 for row in rows]
    low, high = _shown(quantity, min(values)), _shown(quantity, max(values))
    last = rows[-1]
    return _n(
        "at {rate} {count} reading, {spread}; last {date}, {verdict}",
        "at {rate} {count} readings, {spread}; last {date}, {verdict}",
        len(rows),
        rate=RATE_WORDS[rate],
        spread=low if low == high else _("{low} to {high}", low=low, high=high),
        date=long_date(last.date),
        verdict=verdict_word(last.verdict),
    )
