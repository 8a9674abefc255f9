"""The four marks of a verdict: different in shape as well as in colour, and always beside the word."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetrics, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QWidget

from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _

VERDICTS = ("within", "near", "over", "unjudged")
WORDS = {"within": _("within"), "near": _("near"), "over": _("over"), "unjudged": _("unjudged")}
MARK_PX = 11


def verdict_word(verdict: str) -> str:
    """Return a verdict in the window's language."""
    return WORDS.get(verdict, verdict)


def paint_mark(painter: QPainter, verdict: str, centre: QPointF, size: float) -> None:
    """Paint the mark of a verdict: disc within, diamond near, triangle over, hollow square unjudged."""
    colours = current().palette.verdict(verdict)
    half = size / 2
    painter.setPen(QPen(QColor(colours.outline), max(1.0, size / 9)))
    painter.setBrush(QColor(colours.fill))
    x, y = centre.x(), centre.y()
    if verdict == "within":
        painter.drawEllipse(centre, half * 0.92, half * 0.92)
    elif verdict == "near":
        corners = ((x, y - half), (x + half, y), (x, y + half), (x - half, y))
        painter.drawPolygon(QPolygonF([QPointF(*corner) for corner in corners]))
    elif verdict == "over":
        corners3 = ((x, y - half), (x + half, y + half * 0.85), (x - half, y + half * 0.85))
        painter.drawPolygon(QPolygonF([QPointF(*corner) for corner in corners3]))
    else:
        painter.setBrush(QBrush(QColor(colours.outline), Qt.BrushStyle.BDiagPattern))
        painter.drawRect(QRectF(x - half * 0.85, y - half * 0.85, half * 1.7, half * 1.7))


class Mark(QWidget):
    """The mark alone, for use beside its word."""

    def __init__(self, verdict: str = "unjudged", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._verdict = verdict
        self.setFixedSize(self.sizeHint())

    def set_verdict(self, verdict: str) -> None:
        """Show another verdict."""
        self._verdict = verdict
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        """Grow with the text."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.setFixedSize(self.sizeHint())

    def sizeHint(self) -> QSize:
        """A little wider than the mark, as high as a line of words."""
        line = QFontMetrics(current().font(strong=True)).height()
        return QSize(current().px(MARK_PX + 3), max(line, current().px(MARK_PX + 3)))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Paint the mark in the middle."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        middle = QPointF(self.width() / 2, self.height() / 2)
        paint_mark(painter, self._verdict, middle, current().px(MARK_PX))


class VerdictWord(QWidget):
    """A verdict as mark and word, with quiet words after it."""

    def __init__(self, verdict: str, after: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._mark = Mark(verdict)
        self._word = label(verdict_word(verdict), tone="strong")
        self._after = label("", tone="soft", wrap=True)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        set_gap(line, 1.5)
        self._after.setAlignment(Qt.AlignmentFlag.AlignTop)
        for part in (self._mark, self._word):  # on the first line of the words after them
            line.addWidget(part, 0, Qt.AlignmentFlag.AlignTop)
        line.addWidget(self._after, 1)
        self.set_verdict(verdict, after)

    def set_verdict(self, verdict: str, after: str = "") -> None:
        """Show another verdict."""
        self._mark.set_verdict(verdict)
        self._word.setText(verdict_word(verdict))
        self._after.setText(after)
        self.setAccessibleName(f"{verdict_word(verdict)} {after}".strip())
