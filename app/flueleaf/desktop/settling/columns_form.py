"""Which column of a logged run is which, chosen beside its first lines."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QScrollArea, QVBoxLayout, QWidget

from flueleaf.desktop.fields.choice_field import WIDTH_PX, ChoiceField
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap, set_gaps
from flueleaf.desktop.theme import current
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.operations.intake.log_columns import BESIDE, KEYS, TIME
from flueleaf.operations.settling import RunPage


def column_words() -> dict[str, str]:
    """Return, by key, what a column is called."""
    return {key: _("time") if key == TIME else _(QUANTITIES[key].label) for key in (*KEYS, *BESIDE)}


class ColumnsForm(QWidget):
    """A choice for each quantity; ``changed`` when another column was chosen."""

    changed = Signal()

    def __init__(self, page: RunPage, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("run.columns")
        headers = [header for header in page.header if header]
        self.fields: dict[str, ChoiceField] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        set_gap(column, 2)
        column.addWidget(label(_("Which column is which? It is remembered for this analyser."), wrap=True))
        cells = Cells()
        for key, words in column_words().items():
            made = ChoiceField(f"run.columns.{key}", words, headers)
            made.set_text(page.columns.get(key, ""))
            made.left.connect(self.changed)
            self.fields[key] = made
            cells.put(made, width_px=WIDTH_PX)
        column.addWidget(cells)
        column.addWidget(label(_("first lines of the file"), role="small", tone="soft"))
        column.addWidget(_samples(page))

    def chosen(self) -> Mapping[str, str]:
        """Return, by key, the header chosen; what is left empty is left out."""
        return {key: value for key, made in self.fields.items() if (value := made.value())}


def _samples(page: RunPage) -> QWidget:
    """Return the header and the first lines, which scroll sideways where there are many columns."""
    table = QWidget()
    grid = QGridLayout(table)
    grid.setContentsMargins(0, 0, 0, 0)
    set_gaps(grid, 4, 0.5)
    for row, cells in enumerate((page.header, *page.samples)):
        for at, cell in enumerate(cells):
            grid.addWidget(label(cell, role="small", tone="strong" if row == 0 else ""), row, at)
    grid.setColumnStretch(len(page.header), 1)
    scroll = QScrollArea()
    scroll.setObjectName("run.samples")
    scroll.setAccessibleName(_("first lines of the file"))
    scroll.setWidgetResizable(True)
    scroll.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    scroll.setWidget(table)
    scroll.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    scroll.setFixedHeight(table.sizeHint().height() + current().space(5))
    return scroll
