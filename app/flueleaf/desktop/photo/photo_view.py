"""The picture of a photograph: fitted, drawn nearer, and moved under the window it is seen through."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.theme import current

NEARER = 1.25  # one step
NEAREST = 8.0
STEP = 0.15  # of what is seen, at one press of an arrow key
_MOVES = {
    Qt.Key.Key_Left: (-STEP, 0.0),
    Qt.Key.Key_Right: (STEP, 0.0),
    Qt.Key.Key_Up: (0.0, -STEP),
    Qt.Key.Key_Down: (0.0, STEP),
}


class PhotoView(QWidget):
    """Shows one picture; the keyboard comes here only when it is called."""

    size_wanted = Signal()  # a picture of another size would be sharper now
    left = Signal()  # Escape: back to the fields

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("photo.view")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._image = QImage()
        self._zoom = 1.0
        self._centre = QPointF(
            0.5, 0.5
        )  # which point of the picture is in the middle, as shares of its sides
        self._held: QPointF | None = None

    @property
    def zoom(self) -> float:
        """How many times larger than fitted the picture is."""
        return self._zoom

    @property
    def centre(self) -> QPointF:
        """Which point of the picture is in the middle, as shares of its sides."""
        return self._centre

    @property
    def image(self) -> QImage:
        """The picture shown; null while it is being read."""
        return self._image

    def show_image(self, image: QImage) -> None:
        """Show a picture; how near one is and where stay as they are."""
        self._image = image
        self._look_at(self._centre)

    def show_nothing(self) -> None:
        """Show an empty page, fitted again, until the picture comes."""
        self._image = QImage()
        self.fit()

    def wanted_px(self) -> QSize:
        """Return the size a sharp picture would be fitted into, in pixels of the screen."""
        times = self._zoom * self.devicePixelRatioF()
        return QSize(max(round(self.width() * times), 1), max(round(self.height() * times), 1))

    def fit(self) -> None:
        """Show the whole picture."""
        self._zoom = 1.0
        self._look_at(QPointF(0.5, 0.5))
        self.size_wanted.emit()

    def zoom_by(self, times: float) -> None:
        """Go nearer or farther; the point in the middle stays there."""
        self._zoom = min(max(self._zoom * times, 1.0), NEAREST)
        self._look_at(self._centre)
        self.size_wanted.emit()

    def move_by(self, right: float, down: float) -> None:
        """Move by shares of what is seen."""
        drawn = self._drawn().size()
        if drawn.isEmpty():
            return
        step = QPointF(right * self.width() / drawn.width(), down * self.height() / drawn.height())
        self._look_at(self._centre + step)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Plus, minus and Ctrl with up or down go nearer and farther, arrows move, 0 fits, Escape leaves."""
        key, control = event.key(), bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if key in {Qt.Key.Key_Plus, Qt.Key.Key_Equal} or (control and key == Qt.Key.Key_Up):
            self.zoom_by(NEARER)
        elif key == Qt.Key.Key_Minus or (control and key == Qt.Key.Key_Down):
            self.zoom_by(1 / NEARER)
        elif key in {Qt.Key.Key_0, Qt.Key.Key_Home}:
            self.fit()
        elif key == Qt.Key.Key_Escape:
            self.left.emit()
        elif key in _MOVES and not control:
            self.move_by(*_MOVES[Qt.Key(key)])
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Go nearer and farther by the wheel."""
        if turned := event.angleDelta().y():
            self.zoom_by(NEARER if turned > 0 else 1 / NEARER)
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the picture."""
        self._held = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the picture held."""
        if self._held is not None and self.width() and self.height():
            moved = self._held - event.position()
            self._held = event.position()
            self.move_by(moved.x() / self.width(), moved.y() / self.height())

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go of the picture."""
        self._held = None

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for a picture of the new size."""
        super().resizeEvent(event)
        self._look_at(self._centre)
        self.size_wanted.emit()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the part that is seen, and the ring of focus."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        drawn = self._drawn()
        if not drawn.isEmpty():
            seen = drawn.intersected(QRectF(self.rect()))
            times = self._image.width() / drawn.width()
            source = QRectF(
                (seen.x() - drawn.x()) * times,
                (seen.y() - drawn.y()) * times,
                seen.width() * times,
                seen.height() * times,
            )
            painter.drawImage(seen, self._image, source)
        if self.hasFocus():
            painter.setPen(QPen(current().colour("focus"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _drawn(self) -> QRectF:
        """Return where the whole picture would lie, in coordinates of this widget."""
        if self._image.isNull() or not self.width() or not self.height():
            return QRectF()
        wide, high = float(self._image.width()), float(self._image.height())
        times = min(self.width() / wide, self.height() / high) * self._zoom
        wide, high = wide * times, high * times
        # A picture smaller than the widget stands at its upper left, under the line that names it.
        left = self.width() / 2 - self._centre.x() * wide if wide > self.width() else 0.0
        top = self.height() / 2 - self._centre.y() * high if high > self.height() else 0.0
        return QRectF(left, top, wide, high)

    def _look_at(self, centre: QPointF) -> None:
        """Put a point of the picture in the middle, as far as no empty page comes into view."""
        drawn = self._drawn().size()
        self._centre = QPointF(
            _within(centre.x(), self.width(), drawn.width()),
            _within(centre.y(), self.height(), drawn.height()),
        )
        self.update()


def _within(share: float, seen: float, whole: float) -> float:
    if whole <= seen or not whole:
        return 0.5
    half = seen / whole / 2
    return min(max(share, half), 1 - half)
