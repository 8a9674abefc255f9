"""Distances inside a layout in steps of the spacing grid, which follow the text scale while it is shown.

A layout made once and set with ``current().space(…)`` keeps the pixels of the scale it was made at. These
functions note the steps at the layout itself; ``follow`` sets all of them anew when the scale is another.
"""

from __future__ import annotations

from PySide6.QtWidgets import QApplication, QGridLayout, QLayout, QWidget

from flueleaf.desktop.theme import current

_GAP, _GAPS, _MARGINS = "gap_steps", "gaps_steps", "margins_steps"


def set_gap(layout: QLayout, steps: float) -> None:
    """Set the distance between the items of a layout, in steps of the grid."""
    layout.setProperty(_GAP, float(steps))
    layout.setSpacing(current().space(steps))


def set_gaps(grid: QGridLayout, across: float, down: float) -> None:
    """Set the distances between columns and between rows, in steps of the grid."""
    grid.setProperty(_GAPS, [float(across), float(down)])
    grid.setHorizontalSpacing(current().space(across))
    grid.setVerticalSpacing(current().space(down))


def set_margins(of: QLayout | QWidget, left: float, top: float, right: float, bottom: float) -> None:
    """Set the distances round a layout or a widget, in steps of the grid."""
    steps = (left, top, right, bottom)
    of.setProperty(_MARGINS, [float(one) for one in steps])
    of.setContentsMargins(*(current().space(one) for one in steps))


def follow() -> None:
    """Set every distance noted anew, at the text scale in force now."""
    for top in QApplication.topLevelWidgets():
        for layout in top.findChildren(QLayout):
            if (gap := layout.property(_GAP)) is not None:
                set_gap(layout, gap)
            if isinstance(layout, QGridLayout) and (gaps := layout.property(_GAPS)) is not None:
                set_gaps(layout, *gaps)
            _follow_margins(layout)
        for widget in top.findChildren(QWidget):
            _follow_margins(widget)


def _follow_margins(of: QLayout | QWidget) -> None:
    if (margins := of.property(_MARGINS)) is not None:
        set_margins(of, *margins)
