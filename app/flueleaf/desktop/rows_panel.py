"""A list on a leaf: rows to walk through by the arrows and to open by Enter or a click."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QModelIndex, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QTableView, QWidget

from flueleaf.desktop.rows_delegate import ROW_PX, RowsDelegate
from flueleaf.desktop.rows_table_model import Column, Row, RowsTableModel
from flueleaf.desktop.theme import current

HEAD_PX = 24


class RowsPanel(QTableView):
    """As high as its rows; the leaf scrolls, never the list."""

    opened = Signal(object)  # Place

    def __init__(
        self,
        name: str,
        title: str,
        columns: Sequence[Column],
        rows: Sequence[Row] = (),
        parent: QWidget | None = None,
    ) -> None:
        """Make the list.

        Args:
            name: object name.
            title: what is listed, for screen readers.
            columns: the columns; heads are shown where one has a title.
            rows: the rows.
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(title)
        self._rows_model = RowsTableModel(columns, rows, self)
        self.setModel(self._rows_model)
        self.setItemDelegate(RowsDelegate(self._rows_model, self))
        self._set_up(headed=any(column.title for column in columns))
        self.clicked.connect(self._on_opened)
        self._fit()

    @property
    def rows_model(self) -> RowsTableModel:
        """The model behind the list."""
        return self._rows_model

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show other rows."""
        self._rows_model.set_rows(rows)
        self._fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the row at Enter; leave the list by the arrows at its ends as Tab would."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._on_opened(self.currentIndex())
            return
        last = self._rows_model.rowCount() - 1
        at_end = {Qt.Key.Key_Up: 0, Qt.Key.Key_Down: last}.get(Qt.Key(event.key()))
        if at_end is not None and self.currentIndex().row() == at_end:
            self.focusNextPrevChild(event.key() == Qt.Key.Key_Down)
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Stand on a row as soon as the keyboard arrives."""
        super().focusInEvent(event)
        if self._rows_model.rowCount():
            self.selectRow(max(self.currentIndex().row(), 0))

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show no chosen row while the keyboard is elsewhere."""
        super().focusOutEvent(event)
        self.clearSelection()

    def changeEvent(self, event: QEvent) -> None:
        """Keep the heights in step with the text scale."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_rows_model"):
            self._fit()

    def _set_up(self, *, headed: bool) -> None:
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setVisible(headed)
        header.setSectionsClickable(False)
        header.setHighlightSections(False)
        header.setMinimumSectionSize(1)
        for at, column in enumerate(self._rows_model.columns):
            stretch = QHeaderView.ResizeMode.Stretch if column.stretch else QHeaderView.ResizeMode.Fixed
            header.setSectionResizeMode(at, stretch)

    def _fit(self) -> None:
        theme = current()
        rows = self.verticalHeader()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setMinimumSectionSize(1)
        rows.setDefaultSectionSize(theme.px(ROW_PX))
        head = theme.px(HEAD_PX) if not self.horizontalHeader().isHidden() else 0
        if head:
            self.horizontalHeader().setFixedHeight(head)
        self.setFixedHeight(head + theme.px(ROW_PX) * self._rows_model.rowCount() + 2)
        header_font = theme.font("small")
        for at, column in enumerate(self._rows_model.columns):
            if not column.stretch:
                title = self.fontMetrics().horizontalAdvance(column.title) if header_font else 0
                wide = max(self.sizeHintForColumn(at), title + theme.space(4))
                self.setColumnWidth(at, wide)

    def _on_opened(self, index: QModelIndex) -> None:
        if (place := self._rows_model.place(index)) is not None:
            self.opened.emit(place)
