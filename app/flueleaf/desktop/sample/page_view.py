"""A page of paper as large as there is room for it."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from flueleaf.desktop.theme import current

A4 = (210.0, 297.0)  # ISO 216
SMALLEST_PX = 160


class PageView(QWidget):
    """Shows the picture of a page, or empty paper while there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._image = QImage()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    @property
    def image(self) -> QImage:
        """The picture shown; a null one while there is none."""
        return self._image

    def show_image(self, image: QImage) -> None:
        """Show another picture."""
        self._image = image
        self.update()

    def page_size(self) -> QSize:
        """Return how large the page is on the screen, in pixels of the theme."""
        wide = min(self.width(), self.height() * A4[0] / A4[1])
        return QSize(round(wide), round(wide * A4[1] / A4[0]))

    def minimumSizeHint(self) -> QSize:
        """Small, yet a page."""
        wide = current().px(SMALLEST_PX)
        return QSize(wide, round(wide * A4[1] / A4[0]))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw the page with a hairline round it."""
        size = self.page_size()
        page = QRectF(0.5, 0.5, size.width() - 1, size.height() - 1)
        painter = QPainter(self)
        painter.fillRect(page, Qt.GlobalColor.white)
        if not self._image.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(page, self._image)
        painter.setPen(current().colour("mark"))
        painter.drawRect(page)
        painter.end()
