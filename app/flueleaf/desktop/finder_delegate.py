"""Paints the lines of the finder: small heads, and titles with a quieter line under them."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from flueleaf.desktop.finder_table_model import HEAD_ROLE, SUBTITLE_ROLE
from flueleaf.desktop.theme import Theme, current

Index = QModelIndex | QPersistentModelIndex


class FinderDelegate(QStyledItemDelegate):
    """Two heights: heads and one-line things, and things with a second line."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: ARG002
        """Height by what the line holds."""
        theme = current()
        if index.data(HEAD_ROLE):
            return QSize(0, theme.px(34))
        return QSize(0, theme.px(44 if index.data(SUBTITLE_ROLE) else 28))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one line."""
        theme = current()
        box: QRect = option.rect
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            self._paint_chosen(painter, theme, box, active=bool(option.state & QStyle.StateFlag.State_Active))
        room = box.adjusted(theme.space(3), 0, -theme.space(2), 0)
        left = Qt.AlignmentFlag.AlignLeft
        if index.data(HEAD_ROLE):
            painter.setFont(theme.font("small"))
            painter.setPen(theme.colour("soft"))
            low = room.adjusted(0, 0, 0, -theme.space(1.5))
            painter.drawText(low, left | Qt.AlignmentFlag.AlignBottom, str(index.data()))
            painter.restore()
            return
        subtitle = str(index.data(SUBTITLE_ROLE) or "")
        upper = room.adjusted(0, theme.space(1), 0, -room.height() // 2) if subtitle else room
        self._write(painter, theme, upper, str(index.data()), soft=False)
        if subtitle:
            lower = room.adjusted(0, room.height() // 2, 0, -theme.space(1))
            self._write(painter, theme, lower, subtitle, soft=True)
        painter.restore()

    def _write(self, painter: QPainter, theme: Theme, room: QRect, text: str, *, soft: bool) -> None:
        painter.setFont(theme.font("small" if soft else "body"))
        painter.setPen(theme.colour("soft" if soft else "ink"))
        shown = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)

    def _paint_chosen(self, painter: QPainter, theme: Theme, box: QRect, *, active: bool) -> None:
        painter.fillRect(box, theme.colour("chosen"))
        if active:
            painter.setPen(QPen(theme.colour("focus"), 2))
            painter.drawLine(box.left() + 1, box.top(), box.left() + 1, box.bottom())
