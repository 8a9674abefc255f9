"""A list on a leaf: rows to walk through by the arrows and to open by Enter or a click."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QModelIndex, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QTableView, QWidget

from flueleaf.desktop.place import Place
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
        *,
        heads: bool = True,
    ) -> None:
        """Make the list.

        Args:
            name: object name.
            title: what is listed, for screen readers.
            columns: the columns; heads are shown where one has a title.
            rows: the rows.
            parent: the widget it stands in.
            heads: whether heads are shown; without them a screen reader still hears the titles.
        """
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(title)
        self._rows_model = RowsTableModel(columns, rows, self)
        self.setModel(self._rows_model)
        self._painting = RowsDelegate(self._rows_model, self)
        self.setItemDelegate(self._painting)
        self._headed = heads and any(column.title for column in columns)
        self._wide_px: list[int] = []
        self._set_up()
        self._invite()
        self.clicked.connect(self._on_opened)
        self._fit()

    @property
    def rows_model(self) -> RowsTableModel:
        """The model behind the list."""
        return self._rows_model

    def chosen(self) -> Place | None:
        """Return the place of the row one stood on last, else of the first one; None without rows."""
        index = self.currentIndex()
        return self._rows_model.place(index if index.isValid() else self._rows_model.index(0, 0))

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show other rows."""
        self._rows_model.set_rows(rows)
        self._invite()
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

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Choose between rows of one line and of two."""
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self._settle()

    def changeEvent(self, event: QEvent) -> None:
        """Keep the heights in step with the text scale."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_rows_model"):
            self._fit()

    def _set_up(self) -> None:
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setSectionsClickable(False)
        header.setHighlightSections(False)
        header.setMinimumSectionSize(1)
        for at, column in enumerate(self._rows_model.columns):
            stretch = QHeaderView.ResizeMode.Stretch if column.stretch else QHeaderView.ResizeMode.Fixed
            header.setSectionResizeMode(at, stretch)

    def _invite(self) -> None:
        """Take the keyboard only where a row leads somewhere; a table of figures is read, not worked."""
        leads = any(row.place is not None for row in self._rows_model.rows)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if leads else Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor if leads else Qt.CursorShape.ArrowCursor)
        modes = QAbstractItemView.SelectionMode
        self.setSelectionMode(modes.SingleSelection if leads else modes.NoSelection)

    def _fit(self) -> None:
        theme = current()
        rows = self.verticalHeader()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setMinimumSectionSize(1)
        self.horizontalHeader().setFixedHeight(theme.px(HEAD_PX))
        self.clearSpans()  # over a span only the first of its columns has a width of its own
        heads = QFontMetrics(theme.font("small"))
        self._wide_px = [
            max(self.sizeHintForColumn(at), heads.horizontalAdvance(column.title) + theme.space(5))
            for at, column in enumerate(self._rows_model.columns)
        ]
        self._settle()

    def _settle(self) -> None:
        """Set rows on two lines where one is too narrow, and take the height they need."""
        theme = current()
        model = self._rows_model
        stacked = self.width() < sum(self._wide_px)
        self._painting.stacked = stacked
        self.clearSpans()
        for at, column in enumerate(model.columns):
            if not column.stretch:  # in a row of two lines every column would widen the span beyond the list
                self.setColumnWidth(at, 1 if stacked else self._wide_px[at])
        if stacked and model.columnCount() > 1:
            for row in range(model.rowCount()):
                self.setSpan(row, 0, 1, model.columnCount())
        self.horizontalHeader().setVisible(self._headed and not stacked)
        head = theme.px(HEAD_PX) if self._headed and not stacked else 0
        self.verticalHeader().setDefaultSectionSize(theme.px(ROW_PX))
        heights = [
            self._painting.stacked_height(row, self.width()) if stacked else theme.px(ROW_PX)
            for row in range(model.rowCount())
        ]
        for row, height in enumerate(heights):
            self.setRowHeight(row, height)
        self.setFixedHeight(head + sum(heights) + 2)

    def _on_opened(self, index: QModelIndex) -> None:
        if (place := self._rows_model.place(index)) is not None:
            self.opened.emit(place)
