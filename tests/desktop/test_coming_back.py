"""Coming back to a list, by the way back or from a form that was kept, stands on the row one had opened."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

LIMITS = Place("limits", "own")


def last_row(window: MainWindow) -> Place:
    """Return where the last row of the last list of limits leads: out of sight at opening."""
    assert window.leaf is not None
    places = [
        row.place
        for panel in window.leaf.findChildren(RowsPanel)
        for row in panel.rows_model.rows
        if row.place is not None and row.place.leaf == "limit_form"
    ]
    return places[-1]


def stands_on(window: MainWindow) -> Place | None:
    panel = QApplication.focusWidget()
    assert isinstance(panel, RowsPanel)
    assert window.leaf is not None
    index = panel.currentIndex()
    middle = panel.viewport().mapTo(window.leaf.scroll_area.viewport(), panel.visualRect(index).center())
    assert window.leaf.scroll_area.viewport().rect().contains(middle)
    return panel.rows_model.place(index)


def test_the_way_back_stands_on_the_row_that_was_opened(window: MainWindow) -> None:
    window.go(LIMITS)
    row = last_row(window)
    window.go(row)
    window.go_back()
    assert stands_on(window) == row


def test_a_form_that_ends_leads_to_its_row(window: MainWindow) -> None:
    window.go(LIMITS)
    row = last_row(window)
    window.go(row)
    if isinstance(window.leaf, FormLeaf):
        window.leaf.leave()
    else:
        window.go_back()
    assert stands_on(window) == row


def test_where_no_row_leads_there_the_leaf_opens_as_ever(window: MainWindow) -> None:
    window.go(LIMITS)
    opened = stands_on(window)
    window.go(Place("business_form", "own"))
    window.go_back()
    assert stands_on(window) == opened
