"""The finder: one line to type in, and what it finds, always at the left of the window."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QModelIndex, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QLineEdit, QListView, QVBoxLayout, QWidget

from flueleaf.desktop.finder_delegate import FinderDelegate
from flueleaf.desktop.finder_table_model import FinderTableModel, Found
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _

LONGEST_SEARCH = 200
PROMPT = _("find by name, street, serial")


class FinderPanel(QWidget):
    """Typing searches; arrows walk through what was found; Enter opens it; Escape goes back to the leaf."""

    chosen = Signal(object)  # Found
    left = Signal()

    def __init__(self, search: Callable[[str], Sequence[Found]], parent: QWidget | None = None) -> None:
        """Make the finder.

        Args:
            search: returns what is to be listed for a text, also for none.
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self._search = search
        self.setObjectName("finder")
        self.setProperty("ground", "desk")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.edit = QLineEdit()
        self.edit.setObjectName("finder.text")
        self.edit.setAccessibleName(_("find"))
        self.edit.setPlaceholderText(PROMPT)
        self.edit.setMaxLength(LONGEST_SEARCH)
        self.edit.setClearButtonEnabled(False)
        self.list = QListView()
        self.list.setObjectName("finder.list")
        self.list.setAccessibleName(_("found"))
        self._model = FinderTableModel(self)
        self.list.setModel(self._model)
        self.list.setItemDelegate(FinderDelegate(self))
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setUniformItemSizes(False)
        self._line = QVBoxLayout()
        self._line.addWidget(self.edit)
        self._column = QVBoxLayout(self)
        self._column.addLayout(self._line)
        self._column.addWidget(self.list, 1)
        self._fit()
        self.edit.textChanged.connect(self.refresh)
        self.edit.installEventFilter(self)
        self.list.installEventFilter(self)
        self.list.clicked.connect(self._on_chosen)
        self.refresh()

    def begin(self) -> None:
        """Put the cursor into the line, with what stands there ready to be typed over."""
        self.edit.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.edit.selectAll()

    def refresh(self) -> None:
        """Search again; the first thing found is chosen, so that Enter opens it."""
        text = self.edit.text().strip()
        self._model.show_found(self._search(text))
        if text and (first := self._model.first_row()) >= 0:
            self.list.setCurrentIndex(self._model.index(first))

    def changeEvent(self, event: QEvent) -> None:
        """Lay the lines out again at another text scale."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()
            self.list.doItemsLayout()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Let the line and the list be worked as one."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            key = event.key()
            if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
                self._on_chosen(self.list.currentIndex())
                return True
            if key == Qt.Key.Key_Escape:
                self.left.emit()
                return True
            if watched is self.edit and key in {Qt.Key.Key_Down, Qt.Key.Key_Up}:
                self._walk(1 if key == Qt.Key.Key_Down else -1)
                return True
        return super().eventFilter(watched, event)

    def _fit(self) -> None:
        theme = current()
        self._line.setContentsMargins(theme.space(3), 0, theme.space(3), 0)
        self._column.setContentsMargins(0, theme.space(4), 0, 0)
        self._column.setSpacing(theme.space(2))

    def _walk(self, by: int) -> None:
        row = self.list.currentIndex().row() + by
        while 0 <= row < self._model.rowCount():
            if self._model.found(self._model.index(row)) is not None:
                self.list.setCurrentIndex(self._model.index(row))
                return
            row += by

    def _on_chosen(self, index: QModelIndex) -> None:
        if (found := self._model.found(index)) is not None:
            self.edit.clear()  # the next search begins anew, and what is due is seen again meanwhile
            self.chosen.emit(found)
