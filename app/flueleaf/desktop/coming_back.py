"""Coming back to a leaf with lists: one stands again on the row one had opened."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt

from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel


def stand_on(leaf: Leaf, place: Place) -> None:
    """Go to the row of a leaf that opens a place; where no list has it, nothing moves."""
    for panel in leaf.findChildren(RowsPanel):
        places = [row.place for row in panel.rows_model.rows]
        if place in places:
            row = places.index(place)
            panel.setCurrentIndex(panel.rows_model.index(row, 0))
            panel.setFocus(Qt.FocusReason.OtherFocusReason)
            _show_row(leaf, panel, row)
            return


def _show_row(leaf: Leaf, panel: RowsPanel, row: int) -> None:
    """Bring the row into sight: the page scrolls, never the list."""
    page = leaf.scroll_area.widget()
    assert page is not None
    high = panel.rowHeight(row)
    top = panel.viewport().mapTo(page, QPoint(0, panel.rowViewportPosition(row))).y()
    leaf.scroll_area.ensureVisible(0, top + high // 2, 0, 2 * high)
