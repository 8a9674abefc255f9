"""A label whose glossary words are underlined with dots and open their line at a click.

The text stays plain and is drawn by the label itself; only the dots are added, where the same line breaks
put the words. The keyboard comes to the same words by the glossary's key.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator, Sequence
from typing import Protocol, TypeVar, runtime_checkable

from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPen, QTextLayout, QTextOption
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from flueleaf.desktop.measured_label import MeasuredLabel
from flueleaf.desktop.theme import current
from flueleaf.operations import glossary
from flueleaf.operations.glossary import Place, Word

LINE_SEPARATOR = "\u2028"
_Label = TypeVar("_Label", bound=QLabel)


@runtime_checkable
class ShowsWords(Protocol):
    """A window that opens the glossary."""

    def show_word(self, word: Word) -> None:
        """Open the glossary at a word."""


class WordedLabel(MeasuredLabel):
    """Plain, wrapped text with its words pointed out."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setMouseTracking(True)
        self._boxes_of: object = None  # what the boxes were found for: the same text is painted many times
        self._boxes: Sequence[tuple[Place, QRectF]] = ()

    @property
    def words(self) -> tuple[Word, ...]:
        """The glossary words in the text, in its order."""
        return tuple(place.word for place in _places(self.text()))

    def word_at(self, point: QPoint) -> Word | None:
        """Return the word at a point of the label."""
        for place, box in self.boxes():
            if box.contains(QPointF(point)):
                return place.word
        return None

    def boxes(self) -> Sequence[tuple[Place, QRectF]]:
        """Return each word with the box it fills; one broken over two lines has two."""
        within = (self.text(), self.contentsRect(), self.font(), self.alignment())
        if within != self._boxes_of:
            self._boxes_of, self._boxes = within, list(self._find_boxes())
        return self._boxes

    def _find_boxes(self) -> Iterator[tuple[Place, QRectF]]:
        layout = self._laid_out()
        corner = QPointF(self.contentsRect().topLeft())
        if self.alignment() & Qt.AlignmentFlag.AlignVCenter:
            corner.setY(corner.y() + int((self.contentsRect().height() - _height(layout)) / 2))
        for place in _places(self.text()):
            for n in range(layout.lineCount()):
                line = layout.lineAt(n)
                first = max(place.start, line.textStart())
                last = min(place.end, line.textStart() + line.textLength())
                if first < last:
                    left, right = _x(line, first), _x(line, last)
                    box = QRectF(left, line.y(), right - left, line.height())
                    yield place, box.translated(corner)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the text, then the dots."""
        super().paintEvent(event)
        if not _places(self.text()):
            return
        painter = QPainter(self)
        pen = QPen(current().colour("mark"), max(1.0, current().px(1)))
        pen.setStyle(Qt.PenStyle.CustomDashLine)
        pen.setDashPattern([1.0, 2.0])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        for _place, box in self.boxes():
            y = box.bottom() - 0.5
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Show by the pointer that a word can be pressed."""
        on_word = self.word_at(event.position().toPoint()) is not None
        self.setCursor(Qt.CursorShape.PointingHandCursor if on_word else Qt.CursorShape.ArrowCursor)
        super().mouseMoveEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Open the line of the word."""
        word = self.word_at(event.position().toPoint())
        if word is not None and event.button() == Qt.MouseButton.LeftButton:
            window = self.window()
            if isinstance(window, ShowsWords):
                window.show_word(word)
            return
        super().mouseReleaseEvent(event)

    def _laid_out(self) -> QTextLayout:
        """Break the text into lines as the label does."""
        layout = QTextLayout(self.text().replace("\n", LINE_SEPARATOR), self.font(), self)
        option = QTextOption(self.alignment() & Qt.AlignmentFlag.AlignHorizontal_Mask)
        option.setWrapMode(
            QTextOption.WrapMode.WordWrap if self.wordWrap() else QTextOption.WrapMode.ManualWrap
        )
        layout.setTextOption(option)
        layout.beginLayout()
        y = 0.0
        while (line := layout.createLine()).isValid():
            line.setLineWidth(self.contentsRect().width())
            line.setPosition(QPointF(0.0, y))
            y += line.height()
        layout.endLayout()
        return layout


def worded(text: str, *, role: str = "", tone: str = "", wrap: bool = True) -> WordedLabel:
    """Return a label in a role and tone of the theme, its words pointed out; see ``section.label``."""
    return set_in(WordedLabel(text), role=role, tone=tone, wrap=wrap)


def set_in(made: _Label, *, role: str, tone: str, wrap: bool) -> _Label:
    """Set a label in a role and tone of the theme, broken into lines where it wraps; returns the label."""
    if role:
        made.setProperty("role", role)
    if tone:
        made.setProperty("tone", tone)
    if wrap:
        made.setWordWrap(True)
        made.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    return made


def set_tone(made: QLabel, tone: str) -> None:
    """Set a label that is on the page already in another tone; "" is that of running text."""
    if (made.property("tone") or "") != tone:
        made.setProperty("tone", tone)
        made.style().unpolish(made)
        made.style().polish(made)


@functools.lru_cache(maxsize=512)
def _places(text: str) -> tuple[Place, ...]:
    """Remember where words stand: the same texts are painted again and again."""
    return glossary.places(text)


def _height(layout: QTextLayout) -> float:
    """Return the height of all lines."""
    return sum(layout.lineAt(n).height() for n in range(layout.lineCount()))


def _x(line: object, cursor: int) -> float:
    """Return where a letter begins; the binding hands back the letter along with it."""
    found = line.cursorToX(cursor)  # type: ignore[attr-defined]
    return float(found[0] if isinstance(found, tuple) else found)
