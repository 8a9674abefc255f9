"""Paints the cells of a row: text, figures aligned on the decimal point, verdicts as mark and word."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QPointF, QRect, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from flueleaf.desktop.rows_table_model import Column, Kind, RowsTableModel
from flueleaf.desktop.theme import Theme, current
from flueleaf.desktop.unbroken import unbroken
from flueleaf.desktop.verdict_mark import MARK_PX, VERDICTS, paint_mark
from flueleaf.desktop.words import _

ROW_PX = 30
WRAPPED = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop


@dataclass(frozen=True, slots=True)
class _Stacked:
    """A row on several lines: its texts, and the rectangles of the first cell and of the others."""

    first: str
    verdict: str
    others: str
    above: QRect
    below: QRect


class RowsDelegate(QStyledItemDelegate):
    """Draws rows without cells: a hairline under each, and a ring round the one the keyboard is on."""

    def __init__(self, model: RowsTableModel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._model = model
        self.stacked = False

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint one cell."""
        theme = current()
        box: QRect = option.rect
        state: QStyle.StateFlag = option.state
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = bool(state & QStyle.StateFlag.State_Selected) and bool(state & QStyle.StateFlag.State_Active)
        if chosen:
            painter.fillRect(box, theme.colour("chosen"))
        painter.setPen(QPen(theme.colour("focus" if chosen else "hairline"), 2 if chosen else 1))
        low = box.bottom() if not chosen else box.bottom() - 1
        painter.drawLine(box.left(), low, box.right() + 1, low)
        if self.stacked:
            self._paint_stacked(painter, theme, box, index.row())
        else:
            self._paint_text(painter, theme, box, index)
        painter.restore()

    def sizeHint(
        self,
        option: QStyleOptionViewItem,  # noqa: ARG002
        index: QModelIndex | QPersistentModelIndex,
    ) -> QSize:
        """Room for the text, and the row's height."""
        theme = current()
        text = str(index.data() or "")
        kind = self._model.columns[index.column()].kind
        metrics = QFontMetrics(_font(theme, kind))
        wide = metrics.horizontalAdvance(text)
        if kind == "figure":
            wide = metrics.horizontalAdvance(text.partition(".")[0])
            wide += self._longest_fraction(index.column(), metrics) + theme.space(2)
        mark = theme.px(MARK_PX) + theme.space(2) if kind == "verdict" and text else 0
        return QSize(wide + mark + theme.space(5), theme.px(ROW_PX))

    def _paint_text(
        self, painter: QPainter, theme: Theme, box: QRect, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        column = self._model.columns[index.column()]
        text = "" if self._repeats(index) else str(index.data() or "")
        room = box.adjusted(theme.space(1), 0, -theme.space(2), 0)
        painter.setFont(_font(theme, column.kind))
        painter.setPen(theme.colour("soft" if column.kind in {"soft", "group"} else "ink"))
        middle = Qt.AlignmentFlag.AlignVCenter
        metrics = painter.fontMetrics()
        if column.kind == "verdict" and text in VERDICTS:
            side = theme.px(MARK_PX)
            paint_mark(painter, text, QPointF(room.left() + side / 2 + 1, room.center().y() + 1), side)
            painter.setPen(theme.colour("ink"))
            room.setLeft(room.left() + side + theme.space(1.5))
        if column.kind == "figure":
            behind = self._longest_fraction(index.column(), metrics)
            whole, point, fraction = text.partition(".")
            at_point = room.right() - behind
            painter.drawText(QRect(room.left(), box.top(), at_point - room.left(), box.height()),
                             Qt.AlignmentFlag.AlignRight | middle, whole)  # fmt: skip
            painter.drawText(QRect(at_point, box.top(), behind + theme.space(1), box.height()),
                             Qt.AlignmentFlag.AlignLeft | middle, point + fraction)  # fmt: skip
            return
        shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | middle, shown)

    def stacked_height(self, row: int, width: int) -> int:
        """Return the height of a row set on two or more lines within a width."""
        theme = current()
        parts = self._stacked_parts(theme, QRect(0, 0, width, 0), row)
        return parts.below.bottom() + theme.space(2)

    def _stacked_parts(self, theme: Theme, box: QRect, row: int) -> _Stacked:
        """Return the texts of a row and where they stand: first cell and verdict, the other cells below."""
        cells = list(zip(self._model.columns, self._model.rows[row].cells, strict=True))
        first = next((text for column, text in cells if column.stretch), "")
        verdict = next((text for column, text in cells if column.kind == "verdict"), "")
        others = unbroken(
            " · ".join(
                _labelled(column, text)
                for column, text in cells
                if text and not column.stretch and column.kind != "verdict"
            )
        )
        metrics = QFontMetrics(theme.font())
        room = box.adjusted(theme.space(1), theme.space(1), -theme.space(1), 0)
        beside = metrics.horizontalAdvance(verdict) + 2 * theme.px(MARK_PX) if verdict else 0
        above = metrics.boundingRect(room.adjusted(0, 0, -beside, 9999), WRAPPED, first)
        top = max(above.bottom(), room.top() + metrics.height()) + theme.space(0.5)
        below = metrics.boundingRect(QRect(room.left(), top, room.width(), 9999), WRAPPED, others)
        return _Stacked(first, verdict, others, above, below)

    def _paint_stacked(self, painter: QPainter, theme: Theme, box: QRect, row: int) -> None:
        parts = self._stacked_parts(theme, box, row)
        painter.setFont(theme.font())
        painter.setPen(theme.colour("ink"))
        painter.drawText(parts.above, WRAPPED, parts.first)
        if parts.verdict in VERDICTS:
            metrics = painter.fontMetrics()
            line = QRect(box.left(), parts.above.top(), box.width() - theme.space(1), metrics.height())
            painter.drawText(line, Qt.AlignmentFlag.AlignRight, parts.verdict)
            side = theme.px(MARK_PX)
            left = line.right() - metrics.horizontalAdvance(parts.verdict) - side
            paint_mark(painter, parts.verdict, QPointF(left, line.center().y() + 1), side)
        painter.setPen(theme.colour("soft"))
        painter.drawText(parts.below, WRAPPED, parts.others)

    def _repeats(self, index: QModelIndex | QPersistentModelIndex) -> bool:
        at = index.column()
        if self._model.columns[at].kind != "group" or index.row() == 0:
            return False
        above = self._model.rows[index.row() - 1].cells[at]
        return above == self._model.rows[index.row()].cells[at]

    def _longest_fraction(self, column: int, metrics: QFontMetrics) -> int:
        fractions = ("".join(row.cells[column].partition(".")[1:]) for row in self._model.rows)
        return max((metrics.horizontalAdvance(fraction) for fraction in fractions), default=0)


def _labelled(column: Column, text: str) -> str:
    """Return a cell as it stands in a row on several lines: a figure says what it is."""
    if column.kind != "figure" or not column.title:
        return text
    return _("{name}: {figure}", name=column.title, figure=text)


def _font(theme: Theme, kind: Kind) -> QFont:
    return theme.font(figures=kind in {"figure", "date"})
