"""CO over the time of a logged run, with its settled window shaded."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.charts.chart_panel import ChartPanel, points, set_quiet, write
from flueleaf.desktop.settling.settling_words import S_PER_MIN, run_words
from flueleaf.desktop.theme import Theme
from flueleaf.desktop.words import _
from flueleaf.domain.judging.settling import LEAD, Settling, Trace

HEIGHT_PX = 220
MOST_POINTS = 2000  # more than there are pixels: of more, lowest and highest of each stretch are drawn
ROOM_ABOVE = 1.15


class RunChart(ChartPanel):
    """The words below it say the same."""

    def __init__(self, trace: Trace, found: Settling, parent: QWidget | None = None) -> None:
        super().__init__("chart.run", run_words(found), height_px=HEIGHT_PX, parent=parent)
        self._points = thinned(
            [float(time) / S_PER_MIN for time in trace.times_s], [float(value) for value in trace.values]
        )
        self._found = found

    def draw(self, library: Any, figure: Any, theme: Theme) -> None:
        """Draw the shade first, then the readings as they follow each other."""
        axes = figure.subplots()
        figure.subplots_adjust(left=0.1, right=0.97, top=0.88, bottom=0.22)
        set_quiet(axes, library, theme)
        write(axes, library, theme, at=(0, 1.05), text=_("CO, ppm"), transform=axes.transAxes,
              color=theme.palette.ink)  # fmt: skip
        axes.set_xlabel(
            _("minutes"), fontsize=points(theme, 12), fontfamily=library.family, color=theme.palette.ink
        )
        found = self._found
        if found.settled and found.from_s is not None and found.to_s is not None:
            begin, end = (float(edge) / S_PER_MIN for edge in (found.from_s, found.to_s))
            axes.axvspan(begin, end, color=theme.palette.selection, linewidth=0)
            for edge in (begin, end):
                axes.axvline(edge, color=theme.palette.mark, linewidth=points(theme, 1))
            median = float(found.medians[LEAD])
            axes.plot([begin, end], [median, median], color=theme.palette.ink, linewidth=points(theme, 2.4))
        minutes, values = self._points
        axes.plot(minutes, values, color=theme.palette.accent, linewidth=points(theme, 1.2))
        axes.set_ylim(0, max([*values, 1.0]) * ROOM_ABOVE)


def thinned(times: list[float], values: list[float]) -> tuple[list[float], list[float]]:
    """Return as many points as can be seen; no spike is lost."""
    if len(values) <= MOST_POINTS:
        return times, values
    step = -(-2 * len(values) // MOST_POINTS)
    kept: list[int] = []
    for begin in range(0, len(values), step):
        part = range(begin, min(begin + step, len(values)))
        ends = {min(part, key=values.__getitem__), max(part, key=values.__getitem__)}
        kept += sorted(ends)
    return [times[n] for n in kept], [values[n] for n in kept]
