"""A layout that sets widgets side by side and begins a new line where the width ends."""

from __future__ import annotations

from PySide6.QtCore import QMargins, QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QSizePolicy, QWidget

from flueleaf.desktop.spacing import set_gap


class FlowLayout(QLayout):
    """Like words in a paragraph."""

    def __init__(self, parent: QWidget, *, gap_steps: float) -> None:
        """Make it without items.

        Args:
            parent: the widget it lays out.
            gap_steps: distance between items and between lines, in steps of the spacing grid.
        """
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        # Asked again and again while the page around it finds its place; told once until something changes.
        self._heights: dict[int, int] = {}
        self._smallest: QSize | None = None
        set_gap(self, gap_steps)
        self.setContentsMargins(QMargins())
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        parent.setSizePolicy(policy)

    def invalidate(self) -> None:
        """Forget what was worked out: an item, the text or the spacing is another now."""
        self._heights.clear()
        self._smallest = None
        super().invalidate()

    def addItem(self, item: QLayoutItem) -> None:  # noqa: N802
        """Take an item in."""
        self._items.append(item)

    def count(self) -> int:
        """Number of items."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """Return an item, None past the end."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """Give an item away, None past the end."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:  # noqa: N802
        """It takes no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:  # noqa: N802
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802
        """Height of the lines at a width."""
        if width not in self._heights:
            self._heights[width] = self._arrange(QRect(0, 0, width, 0), move=False)
        return self._heights[width]

    def setGeometry(self, rect: QRect) -> None:  # noqa: N802
        """Set the items into their lines."""
        super().setGeometry(rect)
        self._arrange(rect, move=True)

    def sizeHint(self) -> QSize:
        """All on one line."""
        sizes = [item.sizeHint() for item in self._shown()]
        wide = sum(size.width() for size in sizes) + self.spacing() * max(len(sizes) - 1, 0)
        return QSize(wide, max((size.height() for size in sizes), default=0))

    def minimumSize(self) -> QSize:  # noqa: N802
        """The largest item alone."""
        if self._smallest is None:
            smallest = QSize()
            for item in self._items:
                smallest = smallest.expandedTo(item.minimumSize())
            self._smallest = smallest
        return QSize(self._smallest)

    def _shown(self) -> list[QLayoutItem]:
        """Return the items that take room: a hidden widget leaves no gap."""
        return [item for item in self._items if not item.isEmpty()]

    def _arrange(self, rect: QRect, *, move: bool) -> int:
        x, y, line_high = rect.x(), rect.y(), 0
        for item in self._shown():
            size = item.sizeHint()
            wide = max(min(size.width(), rect.width()), item.minimumSize().width())
            size = QSize(wide, item.heightForWidth(wide) if item.hasHeightForWidth() else size.height())
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, line_high = rect.x(), y + line_high + self.spacing(), 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self.spacing()
            line_high = max(line_high, size.height())
        return y + line_high - rect.y()
