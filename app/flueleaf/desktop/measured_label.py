"""A label whose wrapped text is measured once: layouts ask for its height many times over, at each change."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QLabel, QWidget

MOST_WIDTHS = 16


class MeasuredLabel(QLabel):
    """Remembers its height for each width it was asked about, until its text or its looks change."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._heights: dict[int, int] = {}

    def setText(self, text: str) -> None:  # noqa: N802
        """Show another text."""
        self._heights = {}
        super().setText(text)

    def setContentsMargins(self, *margins: Any) -> None:  # noqa: N802
        """Set the distances round the text."""
        self._heights = {}
        super().setContentsMargins(*margins)

    def changeEvent(self, event: QEvent) -> None:
        """Measure anew in another font or style."""
        self._heights = {}
        super().changeEvent(event)

    def heightForWidth(self, width: int) -> int:  # noqa: N802
        """Return the height that the text takes at a width, in px; -1 where it is not wrapped."""
        if not self.wordWrap():
            return super().heightForWidth(width)
        found = self._heights.get(width)
        if found is None:
            if len(self._heights) == MOST_WIDTHS:
                self._heights = {}
            found = self._heights[width] = super().heightForWidth(width)
        return found
