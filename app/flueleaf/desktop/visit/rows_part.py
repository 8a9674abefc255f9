"""Rows that grow while typing: as soon as the last one is begun, an empty one stands under it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.form import Form


class TypedRow:
    """One row: its form and its cells. A row without a text in it is not there for the document."""

    def __init__(self, form: Form, cells: QWidget) -> None:
        self.form = form
        self.cells = cells

    @property
    def blank(self) -> bool:
        """Whether nothing was typed."""
        return not any(field.text().strip() for field in self.form.fields)


class TypedRows(QWidget):
    """The rows of one list of the document."""

    def __init__(self, typing: Typing, make: Callable[[int], TypedRow]) -> None:
        """Make the first, empty row.

        Args:
            typing: the desk and the ear.
            make: returns a row by its number.
        """
        super().__init__()
        self._typing = typing
        self._make = make
        self.rows: list[TypedRow] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        set_gap(self._column, 1)
        self.grow()

    def fields(self) -> list[Field]:
        """Return the fields, row by row."""
        return [field for row in self.rows for field in row.form.fields]

    def fill(self, pieces: Sequence[Mapping[str, Any]]) -> None:
        """Show a list, with an empty row at its end; rows there are already are filled anew."""
        while len(self.rows) > len(pieces) + 1:
            cells = self.rows.pop().cells
            self._column.removeWidget(cells)
            cells.setParent(None)  # at once, so that nobody finds it by its name any more
            cells.deleteLater()
        while len(self.rows) < len(pieces) + 1:
            self.grow()
        for row, piece in zip(self.rows, (*pieces, {}), strict=True):
            row.form.fill(piece)

    def read(self) -> list[dict[str, Any]]:
        """Return the rows that are not blank."""
        return [row.form.read() for row in self.filled()]

    def filled(self) -> list[TypedRow]:
        """Return the rows that are not blank, in the order of ``read``."""
        return [row for row in self.rows if not row.blank]

    def grow(self) -> TypedRow:
        """Add an empty row."""
        row = self._make(len(self.rows))
        self.rows.append(row)
        self._column.addWidget(row.cells)
        self._typing.ear.listen(row.form.fields)
        for field in row.form.fields:
            field.edited.connect(self._on_edited)
            field.entered.connect(partial(self._on_entered, row))
        return row

    def locate(self, number: int, key: str) -> Field | None:
        """Return a field by the number of its row in ``read``."""
        filled = self.filled()
        row = filled[number] if number < len(filled) else self.rows[-1]
        return row.form.locate(key) or next(iter(row.form.fields), None)

    def _on_entered(self, row: TypedRow) -> None:
        """Go to the end of the empty last row, so that Enter leads out of the list from there."""
        if row is self.rows[-1] and row.blank:
            row.form.fields[-1].control().setFocus(Qt.FocusReason.TabFocusReason)

    def _on_edited(self, _text: str) -> None:
        if not self.rows[-1].blank:
            self.grow()
            self._typing.ear.grown.emit()


def narrow_cells() -> Cells:
    """Return cells whose messages stand below the row."""
    return Cells(messages_below=True)
