"""Fields set side by side like words, each under its label; what has no room left goes to the next line."""

from __future__ import annotations

import bisect
from functools import partial

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.flow_layout import FlowLayout
from flueleaf.desktop.help.worded_label import worded
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import GRID_PX, current

UNIT_PX, GAP_PX, LINE_PX = 168, 12, 30


class Cell(QWidget):
    """One field under its label, of one width, narrower only where the page is."""

    def __init__(self, field: Field, words: str, width_px: int) -> None:
        super().__init__()
        self._width_px = width_px
        self.words: QLabel = worded(words, role="small", tone="soft", wrap=False)
        self.words.setBuddy(field.control())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.words)
        column.addWidget(field)
        column.addStretch(1)

    def sizeHint(self) -> QSize:
        """The width it was given, the height it needs."""
        return QSize(current().px(self._width_px), super().sizeHint().height())


class Figure(QWidget):
    """A computed figure under its words, as wide as it was given."""

    def __init__(self, text: QLabel, head: QLabel, width_px: int) -> None:
        super().__init__()
        self._text, self._width_px = text, width_px
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(head, 0, Qt.AlignmentFlag.AlignRight)
        column.addWidget(text, 0, Qt.AlignmentFlag.AlignRight)
        column.addStretch(1)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Keep the measures in step with the text scale."""
        if event.type() == QEvent.Type.FontChange:
            self._fit()
        super().changeEvent(event)

    def _fit(self) -> None:
        self._text.setMinimumHeight(current().px(LINE_PX))
        self.setFixedWidth(current().px(self._width_px))


class Cells(QWidget):
    """Cells on a common grid of widths, so that they line up below each other."""

    def __init__(self, parent: QWidget | None = None, *, messages_below: bool = False) -> None:
        """Make an empty row of cells.

        Args:
            parent: the widget it stands in.
            messages_below: the cells are too narrow for a message, so it stands under all of them.
        """
        super().__init__(parent)
        self._messages_below = messages_below
        self._first = True
        self._words: list[QLabel] = []
        self._below: list[int] = []  # the cells with a message of theirs
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._bar = QWidget()
        self._flow = FlowLayout(self._bar, gap_steps=GAP_PX / GRID_PX)
        self._column.addWidget(self._bar)

    def put(self, field: Field, *, units: int = 1, width_px: int = 0, words: str = "") -> Field:
        """Add a field.

        Args:
            field: the field.
            units: its width on the common grid.
            width_px: a width of its own instead.
            words: its label, else the field's own.
        """
        cell = Cell(field, words or field.label, width_px or units * UNIT_PX + (units - 1) * GAP_PX)
        self._words.append(cell.words)
        self._flow.addWidget(cell)
        if self._messages_below:
            field.put_message(partial(self._put_below, len(self._words)))
        return field

    def _put_below(self, number: int, message: QLabel) -> None:
        """Set the message of a cell, counted from 1, under all of them, in their order."""
        bisect.insort(self._below, number)
        self._column.insertWidget(self._below.index(number) + 1, message)

    def put_text(self, text: QLabel, width_px: int, words: str) -> None:
        """Add a computed figure at the end of the row."""
        head = label(words, role="small", tone="soft")
        self._words.append(head)
        self._flow.addWidget(Figure(text, head, width_px))

    def set_first(self, first: bool) -> None:
        """Say whether this is the first of like rows; the others show no labels while they stand in line."""
        self._first = first
        self._show_words()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show the labels of every row where its cells do not fit side by side."""
        super().resizeEvent(event)
        if not self._first:
            QTimer.singleShot(0, self, self._show_words)  # not from within the layout that is resizing it

    def _show_words(self) -> None:
        wrapped = self._flow.sizeHint().width() > self.width()
        for words in self._words:
            words.setVisible(self._first or wrapped)
