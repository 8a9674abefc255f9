"""Rows of text that can be opened: visits, papers, appliances, things due."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from flueleaf.desktop.place import Place

Kind = Literal["text", "soft", "group", "date", "figure", "verdict"]
Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        title: its head.
        kind: text · soft (secondary text) · group (soft, painted once where it repeats) · date · figure
            (aligned on the decimal point) · verdict (mark and word).
        stretch: takes the room that is left.
    """

    title: str
    kind: Kind = "text"
    stretch: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its texts, and the place it opens."""

    cells: tuple[str, ...]
    place: Place | None = None


class RowsTableModel(QAbstractTableModel):
    """A table of texts; read only."""

    def __init__(
        self, columns: Sequence[Column], rows: Sequence[Row] = (), parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self._rows = tuple(rows)

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows shown."""
        return self._rows

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show other rows."""
        self.beginResetModel()
        self._rows = tuple(rows)
        self.endResetModel()

    def place(self, index: Index) -> Place | None:
        """Return the place a row opens."""
        return self._rows[index.row()].place if index.isValid() else None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """Number of rows."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """Number of columns."""
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Text of a cell; a screen reader hears the column's name with it."""
        if not index.isValid():
            return None
        text = self._rows[index.row()].cells[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return text
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{self.columns[index.column()].title} {text}".strip()
        if role == Qt.ItemDataRole.ToolTipRole and self.columns[index.column()].stretch:
            return text
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Titles of the columns, set over their text."""
        if orientation == Qt.Orientation.Vertical or not 0 <= section < len(self.columns):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.columns[section].title
        if role == Qt.ItemDataRole.TextAlignmentRole:
            right = self.columns[section].kind == "figure"
            side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
            return int(side | Qt.AlignmentFlag.AlignVCenter)
        return None
