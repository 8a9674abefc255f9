"""Ratio and CO of an appliance over the years, at each rate, with the limit and the tolerance."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.charts.chart_panel import ChartPanel, points, set_quiet, write
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.theme import Theme
from flueleaf.desktop.verdict_mark import verdict_word
from flueleaf.desktop.words import _, _n, short_month
from flueleaf.domain.judging.drift import Drift
from flueleaf.domain.judging.rule_table import OWNERS
from flueleaf.operations.pages import AppliancePage, ReadingRow

HEIGHT_PX = 340
MARKERS = {"within": "o", "near": "D", "over": "^", "unjudged": "s"}
LINES = {"max": "-", "min": (0, (4, 2)), "mid": (0, (1, 2))}
DRIFT_ZORDER = 4  # over the readings' own line, under their marks
DRIFT_PX, DRIFT_END_PX = 1.2, 0.6  # thin, and thinner for the ends of its interval
LABEL_GAP_PX = 4  # right of the chart, so that no limit line goes through a label
LABEL_RISE_PX = {"max": 7, "min": -7}  # apart, also where both rates read alike
MONTH_IN_FIGURES = re.compile(r"‹(\d\d)›")
RATE_WORDS = {"max": _("high rate"), "min": _("low rate"), "mid": _("middle rate")}
RATE_SIGNS = {"max": _("high"), "min": _("low"), "mid": _("middle")}  # at the end of a line


@dataclass(frozen=True, slots=True)
class Panel:
    """One chart over the years: what is read from a slip, how wide the tolerance is, and its limit."""

    title: str
    unit: str
    value: Callable[[ReadingRow], float | None]
    tolerance: Callable[[ReadingRow], float | None]
    limit: float | None
    limit_words: str
    drifts: Mapping[str, Drift]  # by rate; only those that can be claimed


class HistoryChart(ChartPanel):
    """Two charts over one axis of years."""

    def __init__(self, page: AppliancePage, parent: QWidget | None = None) -> None:
        super().__init__("chart.history", history_words(page), height_px=HEIGHT_PX, wait_ms=20, parent=parent)
        self._rows = flue_rows(page)
        self._panels = _panels(page)

    def draw(self, library: Any, figure: Any, theme: Theme) -> None:
        """Draw ratio above CO."""
        upper, lower = figure.subplots(2, 1, sharex=True)
        figure.subplots_adjust(left=0.09, right=0.9, top=0.93, bottom=0.09, hspace=0.28)
        for axes, panel in zip((upper, lower), self._panels, strict=True):
            draw_panel(axes, library, theme, panel, self._rows)
        name_days(lower, library)


def name_days(axes: Any, library: Any) -> None:
    """Write the days under the lowest chart."""
    locator = library.dates.AutoDateLocator(minticks=3, maxticks=8)
    axes.xaxis.set_major_locator(locator)
    axes.xaxis.set_major_formatter(days_formatter(library, locator))


def days_formatter(library: Any, locator: Any) -> Any:
    """Return what writes the days under the chart; strftime would name months in the machine's language."""
    years, months, days, hours = "%Y", "‹%m›", "%d", "%H:%M"
    made = library.dates.ConciseDateFormatter(
        locator,
        formats=[years, months, days, hours, hours, "%S"],
        zero_formats=["", years, months, months, hours, hours],
        show_offset=False,
    )
    in_figures = made.format_ticks

    def in_words(places: Sequence[float]) -> list[str]:
        return [
            MONTH_IN_FIGURES.sub(lambda hit: short_month(int(hit[1])), text) for text in in_figures(places)
        ]

    made.format_ticks = in_words
    return made


def flue_rows(page: AppliancePage) -> tuple[ReadingRow, ...]:
    """Return the slips taken at the flue, oldest first."""
    return tuple(row for row in page.history if row.point == "flue")


def history_words(page: AppliancePage) -> str:
    """Return in words what the chart shows: readings per rate, their spread, the last one, the limits."""
    told = [_rate_words(rate, rows) for rate, rows in by_rate(flue_rows(page)).items()]
    told = [words for words in told if words]
    if not told:
        return _("No flue readings yet.")
    limits = page.limits
    if superseded := superseded_words(flue_rows(page)):
        told.append(superseded)
    known = (
        limit_words(limits.co_ppm, " ppm CO", limits.co_source),
        limit_words(limits.ratio, _(" CO/CO2 ratio"), limits.ratio_source),
    )
    standing = "; ".join(words for words in known if words) or _("no limit applies")
    return " ".join([*told, f"{standing[0].upper()}{standing[1:]}."])


def superseded_words(rows: Sequence[ReadingRow]) -> str:
    """Return how many attempts a later one superseded, and how many of them were over; "" without any."""
    attempts = [row for row in rows if not row.decides]
    if not attempts:
        return ""
    return _n(
        "{count} earlier attempt superseded by a later one, {over} of them over.",
        "{count} earlier attempts superseded by a later one, {over} of them over.",
        len(attempts),
        over=sum(row.verdict == "over" for row in attempts),
    )


def _rate_words(rate: str, rows: Sequence[ReadingRow]) -> str:
    """Return how many readings of CO a rate has, their spread and the last one; "" without any."""
    values = [float(row.values["co_ppm"]) for row in rows if "co_ppm" in row.values]
    if not values:
        return ""
    last = rows[-1]
    return _n(
        "At {rate}: {count} reading, CO {low} ppm; last {date}, {verdict}.",
        "At {rate}: {count} readings, CO {low} to {high} ppm; last {date}, {verdict}.",
        len(values),
        rate=RATE_WORDS[rate],
        low=f"{min(values):g}",
        high=f"{max(values):g}",
        date=long_date(last.date),
        verdict=verdict_word(last.verdict),
    )


def _panels(page: AppliancePage) -> tuple[Panel, Panel]:
    limits = page.limits
    ratio = Panel(
        _("CO/CO2 ratio"),
        "",
        lambda row: row.ratio,
        lambda row: row.ratio_tolerance,
        float(limits.ratio) if limits.ratio is not None else None,
        limit_words(limits.ratio, "", limits.ratio_source),
        claimed(page, "ratio"),
    )
    co = Panel(
        "CO",
        "ppm",
        lambda row: float(row.values["co_ppm"]) if "co_ppm" in row.values else None,
        lambda row: row.co_tolerance_ppm,
        float(limits.co_ppm) if limits.co_ppm is not None else None,
        limit_words(limits.co_ppm, " ppm", limits.co_source),
        claimed(page, "co_ppm"),
    )
    return ratio, co


def claimed(page: AppliancePage, quantity: str) -> dict[str, Drift]:
    """Return the drifts of a quantity at the flue that can be claimed, by rate."""
    return {row.rate: row.drift for row in page.drifts if row.quantity == quantity and row.drift.significant}


def limit_words(limit: Decimal | None, unit: str, source: str) -> str:
    """Return a limit with whose it is: maker’s limit 350 ppm."""
    if limit is None:
        return ""
    value = f"{limit.normalize():f}{unit}"
    if source == "maker":
        return _("maker’s limit {limit}", limit=value)
    if source == OWNERS:
        return _("your own limit {limit}", limit=value)
    return (
        _("rule table’s limit {limit}", limit=value) if source == "table" else _("limit {limit}", limit=value)
    )


def by_rate(rows: Sequence[ReadingRow]) -> dict[str, list[ReadingRow]]:
    """Return the slips that decide by their rate, in their order."""
    found: dict[str, list[ReadingRow]] = {}
    for row in rows:
        if row.decides:
            found.setdefault(row.rate, []).append(row)
    return found


def draw_panel(axes: Any, library: Any, theme: Theme, panel: Panel, rows: Sequence[ReadingRow]) -> None:
    """Draw one chart: its title, the readings of some slips at each rate, its limit and its drifts."""
    set_quiet(axes, library, theme)
    title = _("{title}, {unit}", title=panel.title, unit=panel.unit) if panel.unit else panel.title
    write(axes, library, theme, at=(0, 1.04), text=title, transform=axes.transAxes, color=theme.palette.ink)
    highest = panel.limit or 0.0
    for rate, of_rate in by_rate(rows).items():
        shown = [(row, value) for row in of_rate if (value := panel.value(row)) is not None]
        if shown:
            _draw_rate(axes, library, theme, panel, rate=rate, shown=shown)
            highest = max(highest, *(value for _, value in shown))
    for row in rows:
        value = panel.value(row)
        if value is not None:
            _draw_mark(axes, theme, row, value)
            highest = max(highest, value)
    if panel.limit is not None:
        axes.axhline(panel.limit, color=theme.palette.ink, linewidth=points(theme, 1.6))
        write(axes, library, theme, at=(0.008, panel.limit), text=panel.limit_words, va="bottom", ha="left",
              transform=axes.get_yaxis_transform(), color=theme.palette.ink)  # fmt: skip
    for drift in panel.drifts.values():
        _draw_drift(axes, theme, drift)
    axes.set_ylim(0, highest * 1.22 if highest > 0 else 1)


def _draw_drift(axes: Any, theme: Theme, drift: Drift) -> None:
    """Draw the line of a drift thin over its readings, and the ends of its interval thinner."""
    assert drift.first is not None
    assert drift.last is not None
    days = [drift.first, drift.last]
    for slope, width in (
        (drift.slope_per_year, DRIFT_PX),
        (drift.slope_low, DRIFT_END_PX),
        (drift.slope_high, DRIFT_END_PX),
    ):
        if slope is not None:
            values = [drift.value_on(day, slope) for day in days]
            axes.plot(
                days, values, color=theme.palette.ink, linewidth=points(theme, width), zorder=DRIFT_ZORDER
            )


def _draw_rate(
    axes: Any,
    library: Any,
    theme: Theme,
    panel: Panel,
    *,
    rate: str,
    shown: Sequence[tuple[ReadingRow, float]],
) -> None:
    dates = [row.date for row, _ in shown]
    values = [value for _, value in shown]
    halves = [panel.tolerance(row) or 0.0 for row, _ in shown]
    low = [max(value - half, 0.0) for value, half in zip(values, halves, strict=True)]
    high = [value + half for value, half in zip(values, halves, strict=True)]
    axes.fill_between(dates, low, high, color=theme.palette.mark, alpha=0.22, linewidth=0)
    axes.plot(dates, values, color=theme.palette.soft, linewidth=points(theme, 1.4), linestyle=LINES[rate])
    axes.annotate(
        RATE_SIGNS[rate],
        (1, values[-1]),
        xycoords=axes.get_yaxis_transform(),
        xytext=(points(theme, LABEL_GAP_PX), points(theme, LABEL_RISE_PX.get(rate, 0))),
        textcoords="offset points",
        va="center",
        color=theme.palette.soft,
        fontsize=points(theme, 12),
        fontfamily=library.family,
        annotation_clip=False,
    )


def _draw_mark(axes: Any, theme: Theme, row: ReadingRow, value: float) -> None:
    colours = theme.palette.verdict(row.verdict)
    filled = colours.fill if row.verdict != "unjudged" else theme.palette.paper
    axes.plot(
        [row.date],
        [value],
        marker=MARKERS.get(row.verdict, "s"),
        markersize=points(theme, 8.5 if row.decides else 6.5),
        markerfacecolor=filled if row.decides else theme.palette.paper,
        markeredgecolor=colours.outline,
        markeredgewidth=points(theme, 1.2),
        linestyle="",
        zorder=5,
    )
