"""O2 against CO2: the fuel's line of complete combustion, and the readings with their tolerance."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.charts.chart_panel import ChartPanel, points, set_quiet, write
from flueleaf.desktop.charts.history_chart import MARKERS, RATE_SIGNS, RATE_WORDS, flue_rows
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.theme import Theme
from flueleaf.desktop.words import _
from flueleaf.operations.pages import AppliancePage, ReadingRow

HEIGHT_PX = 270
SMALLEST_SPAN_PCT = 4.0


class CombustionChart(ChartPanel):
    """Where a reading lies off the line, analyser, fuel or seal wants a second look."""

    def __init__(self, page: AppliancePage, parent: QWidget | None = None) -> None:
        super().__init__(
            "chart.combustion", combustion_words(page), height_px=HEIGHT_PX, wait_ms=120, parent=parent
        )
        self._shown = page

    def draw(self, library: Any, figure: Any, theme: Theme) -> None:
        """Draw the line, earlier readings small, the last ones with their tolerance crosses."""
        page = self._shown
        axes = figure.subplots()
        figure.subplots_adjust(left=0.09, right=0.9, top=0.91, bottom=0.18)
        set_quiet(axes, library, theme)
        write(axes, library, theme, at=(0, 1.04), text=_("CO2, %"), transform=axes.transAxes,
              color=theme.palette.ink)  # fmt: skip
        axes.set_xlabel(
            _("O2, %"), fontsize=points(theme, 12), fontfamily=library.family, color=theme.palette.ink
        )
        if page.fuel_line:
            o2, co2 = zip(*page.fuel_line, strict=True)
            axes.plot(o2, co2, color=theme.palette.ink, linewidth=points(theme, 1.4))
        last_visit = page.last[0].visit_id if page.last else ""
        for row in both_gases(page):
            if row.visit_id != last_visit:
                axes.plot([float(row.values["o2_pct"])], [float(row.values["co2_pct"])], marker=".",
                          markersize=points(theme, 6), color=theme.palette.mark, linestyle="")  # fmt: skip
        for row in both_gases(page):
            if row.visit_id == last_visit:
                _draw_cross(axes, library, theme, page, row)
        if rows := both_gases(page):
            axes.set_xlim(*_span([float(row.values["o2_pct"]) for row in rows], page.o2_tolerance_pct))
            axes.set_ylim(*_span([float(row.values["co2_pct"]) for row in rows], page.co2_tolerance_pct))


def combustion_words(page: AppliancePage) -> str:
    """Return in words what the chart shows."""
    last_visit = page.last[0].visit_id if page.last else ""
    rows = [row for row in both_gases(page) if row.visit_id == last_visit]
    if not rows:
        return _("No slip with both O2 and CO2 yet.")
    slips = [
        _(
            "{rate} O2 {o2} %, CO2 {co2} %",
            rate=RATE_WORDS[row.rate],
            o2=row.values["o2_pct"],
            co2=row.values["co2_pct"],
        )
        for row in rows
    ]
    return _(
        "{date}: {slips}. The line is complete combustion of {fuel}; the crosses are the analyser’s "
        "tolerance, ±{o2} % O2, ±{co2} % CO2.",
        date=long_date(rows[-1].date),
        slips="; ".join(slips),
        fuel=_(page.appliance.fuel),
        o2=f"{page.o2_tolerance_pct:g}",
        co2=f"{page.co2_tolerance_pct:g}",
    )


def both_gases(page: AppliancePage) -> list[ReadingRow]:
    """Return the deciding slips of the flue that tell both O2 and CO2."""
    return [row for row in flue_rows(page) if {"o2_pct", "co2_pct"} <= row.values.keys() and row.decides]


def _span(values: list[float], tolerance: float) -> tuple[float, float]:
    """Return the ends of an axis: the readings with room for their crosses, never less than so many %."""
    low, high = min(values) - tolerance, max(values) + tolerance
    wider = max(SMALLEST_SPAN_PCT - (high - low), 1.0) / 2
    return max(low - wider, 0.0), high + wider


def _draw_cross(axes: Any, library: Any, theme: Theme, page: AppliancePage, row: ReadingRow) -> None:
    o2, co2 = float(row.values["o2_pct"]), float(row.values["co2_pct"])
    colours = theme.palette.verdict(row.verdict)
    axes.errorbar(
        [o2],
        [co2],
        xerr=[page.o2_tolerance_pct],
        yerr=[page.co2_tolerance_pct],
        ecolor=colours.outline,
        elinewidth=points(theme, 1.2),
        marker=MARKERS.get(row.verdict, "s"),
        markersize=points(theme, 7),
        markerfacecolor=colours.fill,
        markeredgecolor=colours.outline,
        linestyle="",
        zorder=5,
    )
    axes.annotate(
        RATE_SIGNS[row.rate],
        (o2, co2),
        xytext=(points(theme, 12), points(theme, 10)),
        textcoords="offset points",
        color=theme.palette.soft,
        fontsize=points(theme, 12),
        fontfamily=library.family,
    )
