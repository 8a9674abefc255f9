"""The frame of a chart: room kept for it until matplotlib is there, and its words below."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from flueleaf.desktop.charts.plotting import plotting
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.theme import Theme, current

DOTS_PER_INCH = 100.0
POINTS_PER_PIXEL = 72.0 / DOTS_PER_INCH


class ChartPanel(QWidget):
    """One figure, drawn anew when the theme changes; subclasses draw in ``draw``."""

    def __init__(
        self, name: str, words: str, *, height_px: int, wait_ms: int = 0, parent: QWidget | None = None
    ) -> None:
        """Keep the room for a chart.

        Args:
            name: object name.
            words: what the chart shows, in words; stands below it and is what a screen reader hears.
            height_px: height of the figure at 100 % text.
            wait_ms: how long after the leaf it is drawn.
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(words)
        self._height_px = height_px
        self._figure: Any = None
        self._canvas: Any = None
        self._drawn_with: Theme | None = None
        # The leaf is painted first, then one chart after the other, so that no single wait is felt.
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(wait_ms)
        self._soon.timeout.connect(self._show_figure)
        self._room = QWidget()
        self._room.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._inner = QVBoxLayout(self._room)
        self._inner.setContentsMargins(0, 0, 0, 0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        set_gap(column, 2)
        column.addWidget(self._room)
        column.addWidget(label(words, tone="soft", wrap=True))
        self._fit()

    @property
    def is_drawn(self) -> bool:
        """Whether the figure is on the screen."""
        return self._canvas is not None

    def draw(self, library: Any, figure: Any, theme: Theme) -> None:
        """Draw the figure; ``library`` is what ``plotting`` loaded."""
        raise NotImplementedError

    def showEvent(self, event: QShowEvent) -> None:
        """Ask for the library when first seen."""
        super().showEvent(event)
        if plotting().library is not None:
            self._soon.start()
        else:
            plotting().ready.connect(self._soon.start, Qt.ConnectionType.UniqueConnection)
            plotting().begin()

    def changeEvent(self, event: QEvent) -> None:
        """Draw anew in another theme."""
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange, QEvent.Type.PaletteChange}:
            self._fit()
            if self._canvas is not None and self._drawn_with != current():
                self._redraw()

    def _fit(self) -> None:
        self._room.setFixedHeight(current().px(self._height_px))

    def _show_figure(self) -> None:
        if self._canvas is not None:
            return
        library = plotting().library
        self._figure = library.Figure(dpi=DOTS_PER_INCH)
        self._canvas = library.Canvas(self._figure)
        self._canvas.setObjectName(f"{self.objectName()}.figure")
        self._canvas.setAccessibleName(self.accessibleName())
        self._canvas.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._inner.addWidget(self._canvas)
        self._redraw()

    def _redraw(self) -> None:
        theme = current()
        self._drawn_with = theme
        self._figure.clear()
        self._figure.set_facecolor(theme.palette.paper)
        self.draw(plotting().library, self._figure, theme)
        self._canvas.draw_idle()


def points(theme: Theme, length_px: float) -> float:
    """Return a length of the theme in the points matplotlib counts in."""
    return length_px * theme.scale * POINTS_PER_PIXEL


def set_quiet(axes: Any, library: Any, theme: Theme) -> None:
    """Give a pair of axes the page's look: two thin axes, few ticks, the page's typeface."""
    palette = theme.palette
    axes.set_facecolor(palette.paper)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set_color(palette.mark)
        axes.spines[side].set_linewidth(points(theme, 1))
    axes.tick_params(
        colors=palette.soft,
        labelsize=points(theme, 12),
        labelfontfamily=library.family,
        width=points(theme, 1),
        length=points(theme, 4),
    )
    axes.yaxis.set_major_locator(library.MaxNLocator(nbins=4, steps=[1, 2, 2.5, 5, 10]))
    axes.grid(axis="y", color=palette.hairline, linewidth=points(theme, 1))
    axes.set_axisbelow(True)


def write(axes: Any, library: Any, theme: Theme, *, at: tuple[float, float], text: str, **more: Any) -> None:
    """Write small text into the axes, in data coordinates unless ``transform`` says otherwise."""
    settings = {"color": theme.palette.soft, "fontsize": points(theme, 12), "fontfamily": library.family}
    axes.text(*at, text, **{**settings, **more})
