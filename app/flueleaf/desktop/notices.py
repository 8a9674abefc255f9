"""What the status line says for a while: how long, about which leaf, and what takes it back.

A notice is shown long enough to be read slowly, and the last one can be said again (WCAG 2.2, success
criterion 2.2.1, timing adjustable; read); then it is shown whole, however long it is. A notice about a leaf
goes when that leaf does.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer
from PySide6.QtGui import QFontMetrics, QResizeEvent, QTextLayout
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from flueleaf.desktop.announcing import announce

LEAST_MS = 8000
MOST_LINES = 2
MS_A_LETTER = 120  # a slow reader's 100 words of five letters a minute; common practice


class _Line(QLabel):
    """A text that asks for no width of the window, and for two lines at most unless it is wanted whole.

    What has no room in two lines is left out at their end.
    """

    def __init__(self) -> None:
        super().__init__()
        self.whole = ""
        self._most_lines = MOST_LINES
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("tone", "soft")
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)

    def say(self, text: str, *, all_lines: bool = False) -> None:
        """Show a text, all its lines if it is wanted whole."""
        self.whole = text
        self._most_lines = len(text) if all_lines else MOST_LINES
        self.setToolTip(text)
        self.setAccessibleName(text)
        self._fit()

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
            self._fit()
            self.updateGeometry()

    def changeEvent(self, event: QEvent) -> None:
        """Break the lines anew in another size of letters."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        """Show as much of the text as the lines hold that it may have."""
        width, layout = self.contentsRect().width(), QTextLayout(self.whole, self.font())
        layout.beginLayout()
        starts = []
        while (line := layout.createLine()).isValid():
            line.setLineWidth(width)
            starts.append(line.textStart())
        layout.endLayout()
        if len(starts) <= self._most_lines:
            self.setText(self.whole)
            return
        last = starts[self._most_lines - 1]
        rest = QFontMetrics(self.font()).elidedText(self.whole[last:], Qt.TextElideMode.ElideRight, width)
        self.setText(self.whole[:last] + rest)


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
        return self.shown.whole

    def say(self, text: str, *, about: QWidget | None = None) -> None:
        """Show a text for as long as it takes to read.

        Args:
            text: what is said; "" says nothing and leaves what stands there.
            about: the leaf it is about; the notice goes when that is left.
        """
        if not text:
            return
        self.last, self._about = text, about
        self.shown.say(text)
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
        """Say the last notice again, in as many lines as it needs; returns whether there was one."""
        self.say(self.last)
        self.shown.say(self.last, all_lines=True)
        return bool(self.last)

    def left(self, leaf: QWidget | None) -> None:
        """Take away the notice about a leaf that is left."""
        if leaf is not None and self._about is leaf:
            self.clear()

    def settle(self, text: str) -> None:
        """Take away a notice that does not hold any more; another one stays."""
        if text and self.text == text:
            self.clear()

    def clear(self) -> None:
        """Show nothing; the last notice can still be said again."""
        self._timer.stop()
        self._about = None
        self.shown.say("")


def duration_ms(text: str) -> int:
    """Return how long a text is shown, in milliseconds."""
    return max(LEAST_MS, len(text) * MS_A_LETTER)
