"""The quiet line that says a photograph can stand beside the page, or that there are some.

It is no stop of the keyboard, so that Enter goes through the readings as before: it names the key, and a
click does the same.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QLabel, QSizePolicy


class PhotoNote(QObject):
    """What the lines of one leaf say; its shelf keeps it up to date and hears a click."""

    changed = Signal()
    pressed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.text = ""

    def say(self, text: str) -> None:
        """Say something else; "" takes the lines away."""
        if text != self.text:
            self.text = text
            self.changed.emit()


class PhotoLine(QLabel):
    """One line of a page."""

    def __init__(self, note: PhotoNote) -> None:
        super().__init__()
        self.setObjectName("photo.line")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("role", "small")
        self.setProperty("tone", "soft")
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._note = note
        note.changed.connect(self._on_changed)
        self.setText(note.text)
        if not note.text:
            self.hide()  # but not shown where there is one: without a parent yet it would be a window

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Do what the key does that it names."""
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self._note.pressed.emit()
            return
        super().mouseReleaseEvent(event)

    def _on_changed(self) -> None:
        self.setText(self._note.text)
        self.setHidden(not self._note.text)
