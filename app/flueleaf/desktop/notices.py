"""What the status line says for a while: how long, about which leaf, and what takes it back.

A notice is shown long enough to be read slowly, and the last one can be said again (WCAG 2.2, success
criterion 2.2.1, timing adjustable; read). A notice about a leaf goes when that leaf does.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QSize, Qt, QTimer
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from flueleaf.desktop.announcing import announce

LEAST_MS = 8000
MS_A_LETTER = 120  # a slow reader's 100 words of five letters a minute; common practice


class _Line(QLabel):
    """A text that asks for no width of the window, and for as many lines as its own width makes."""

    def __init__(self) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("tone", "soft")
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)

    def hasHeightForWidth(self) -> bool:  # noqa: N802 - an override of Qt
        """No: the window would ask for the height at no width at all."""
        return False

    def minimumSizeHint(self) -> QSize:
        """As high as the text at the width it has."""
        line_px = QFontMetrics(self.font()).height()
        return QSize(0, max(line_px, self.heightForWidth(self.width())) if self.text() else line_px)

    def sizeHint(self) -> QSize:
        """The same: there is nothing to grow into."""
        return self.minimumSizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for another height at another width."""
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()


class Notices(QObject):
    """The notice shown, the one shown last, and what takes back what the last one told of."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.shown = _Line()
        self.shown.setObjectName("notice")
        self.shown.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.last = ""
        self._about: QWidget | None = None
        self._undo: Callable[[], None] | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.clear)

    @property
    def text(self) -> str:
        """What is shown now."""
        return self.shown.text()

    def say(self, text: str, *, about: QWidget | None = None) -> None:
        """Show a text for as long as it takes to read.

        Args:
            text: what is said; "" says nothing and leaves what stands there.
            about: the leaf it is about; the notice goes when that is left.
        """
        if not text:
            return
        self.last, self._about = text, about
        self.shown.setText(text)
        self.shown.setToolTip(text)
        self.shown.setAccessibleName(text)
        self._timer.start(duration_ms(text))
        announce(self.shown, text)

    def say_undoable(self, text: str, undo: Callable[[], None]) -> None:
        """Show a text about something that ``undo`` takes back, until it was, or the next such notice."""
        self.say(text)
        self._undo = undo

    def undo(self) -> bool:
        """Take back what the last such notice told of; returns whether there was something."""
        undo, self._undo = self._undo, None
        if undo is None:
            return False
        undo()
        return True

    def repeat(self) -> bool:
        """Say the last notice again; returns whether there was one."""
        self.say(self.last)
        return bool(self.last)

    def left(self, leaf: QWidget | None) -> None:
        """Take away the notice about a leaf that is left."""
        if leaf is not None and self._about is leaf:
            self.clear()

    def clear(self) -> None:
        """Show nothing; the last notice can still be said again."""
        self._timer.stop()
        self._about = None
        self.shown.clear()
        self.shown.setToolTip("")
        self.shown.setAccessibleName("")


def duration_ms(text: str) -> int:
    """Return how long a text is shown, in milliseconds."""
    return max(LEAST_MS, len(text) * MS_A_LETTER)
