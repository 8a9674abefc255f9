"""A light sheet over the window: something to choose from on the left, what is said of it on the right.

Escape closes it, and the keyboard is back where it was. Nothing on it is typed into the book.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QHBoxLayout,
    QListWidget,
    QScrollArea,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.theme import current

Index = QModelIndex | QPersistentModelIndex
BAR_PX = 16  # kept free for the scroll bar
WIDE_PX, HIGH_PX, LIST_PX = 800, 580, 252
LIST_SHARE = 0.36  # of the sheet, where that is narrow
MOST_OF_SCREEN = 0.9  # of the screen, which the sheet never fills


class TitleDelegate(QStyledItemDelegate):
    """Gives each title the lines it needs: the view alone forgets the room beside it."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As wide as the list, as high as its lines."""
        theme = current()
        view = self.parent()
        assert isinstance(view, QListWidget)
        wide = view.width() - theme.space(4) - theme.px(BAR_PX)
        room = QRect(0, 0, max(wide, 1), 1 << 16)
        text = str(index.data())
        lines = option.fontMetrics.boundingRect(room, int(Qt.TextFlag.TextWordWrap), text)
        return QSize(wide, lines.height() + theme.space(2))


class SheetDialog(QDialog):
    """The frame: a list that the arrows walk through, and a page that follows it."""

    def __init__(self, name: str, title: str, parent: QWidget | None = None) -> None:
        """Make an empty sheet.

        Args:
            name: object name; the list and the page have it before their own.
            title: of the window, and of the list for screen readers.
            parent: the window it lies on.
        """
        super().__init__(parent)
        self.setObjectName(name)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._came_from = QApplication.focusWidget()
        self.listed = _title_list(name, title)
        self.left_column = QVBoxLayout()
        set_margins(self.left_column, 5, 6, 3, 4)
        set_gap(self.left_column, 2)
        self.left_column.addWidget(label(title, role="head", wrap=True))
        self.left_column.addWidget(self.listed, 1)
        left = QWidget()
        left.setProperty("ground", "desk")
        left.setLayout(self.left_column)
        self._left = left
        self.page = QScrollArea()
        self.page.setObjectName(f"{name}.page")
        self.page.setAccessibleName(title)
        self.page.setWidgetResizable(True)
        self.page.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(left)
        whole.addWidget(self.page, 1)
        self.listed.currentRowChanged.connect(self._on_row_changed)
        self.finished.connect(self._give_back)
        self._fit()

    def show_list(self, titles: Sequence[str], at: int = 0) -> None:
        """List other titles and stand on one of them; none shows an empty page."""
        self.listed.blockSignals(True)
        self.listed.clear()
        self.listed.addItems(list(titles))
        self.listed.blockSignals(False)
        if titles:
            self.listed.setCurrentRow(at)
        else:
            self._on_row_changed(-1)

    def page_of(self, row: int) -> QWidget:
        """Return what is said of a row; -1 where nothing is listed."""
        raise NotImplementedError

    def showEvent(self, event: QShowEvent) -> None:
        """Let what one stands on be seen."""
        super().showEvent(event)
        self.listed.scrollToItem(self.listed.currentItem())

    def _on_row_changed(self, row: int) -> None:
        made = self.page_of(row)
        made.setProperty("ground", "paper")
        theme = current()
        if (column := made.layout()) is not None:
            beside = min(theme.space(7), int(self.width() * 0.05))
            column.setContentsMargins(beside, theme.space(6), beside, theme.space(7))
        self.page.setWidget(made)
        self.page.setAccessibleDescription(made.accessibleName())

    def _give_back(self) -> None:
        try:
            if self._came_from is not None:
                self._came_from.setFocus(Qt.FocusReason.OtherFocusReason)
        except RuntimeError:
            self._came_from = None  # the field is gone: the page was filled anew meanwhile

    def _fit(self) -> None:
        theme, room = current(), self.screen().availableSize()
        wide = min(theme.px(WIDE_PX), int(room.width() * MOST_OF_SCREEN))
        self._left.setFixedWidth(min(theme.px(LIST_PX), int(wide * LIST_SHARE)))
        self.resize(wide, min(theme.px(HIGH_PX), int(room.height() * MOST_OF_SCREEN)))


def _title_list(name: str, title: str) -> QListWidget:
    listed = QListWidget()
    listed.setObjectName(f"{name}.list")
    listed.setAccessibleName(title)
    listed.setWordWrap(True)
    listed.setTextElideMode(Qt.TextElideMode.ElideNone)
    listed.setSpacing(current().px(1))
    listed.setItemDelegate(TitleDelegate(listed))
    listed.setResizeMode(QListWidget.ResizeMode.Adjust)
    listed.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    return listed
