"""The column on the right of the leaf."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.words import _


class MarginPanel(QScrollArea):
    """Shows what the leaf gives for the margin."""

    filled = Signal(bool)  # whether there is anything in it

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("margin")
        self.setAccessibleName(_("margin"))
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)  # no stop of Tab; F6 comes here, to scroll by keys
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.show_widgets(())

    def show_widgets(self, widgets: Sequence[QWidget]) -> None:
        """Replace what is shown."""
        page = QWidget()
        page.setProperty("ground", "paper")
        column = QVBoxLayout(page)
        set_margins(column, 5, 8, 4, 8)
        set_gap(column, 6)
        for widget in widgets:
            column.addWidget(widget)
        column.addStretch(1)
        self.setWidget(page)
        self.filled.emit(bool(widgets))
