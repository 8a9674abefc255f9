"""The bullet graph of a verdict: the value, its limit or window, and the band the instrument cannot tell.

After S. Few's bullet graph (Perceptual Edge, "Bullet Graph Design Specification", 2006; recalled), reduced to
what a verdict needs. Legible without colour: bar against a standing limit line, the forbidden side hatched.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.theme import Theme, current
from flueleaf.desktop.verdict_mark import VerdictWord, paint_mark, verdict_word
from flueleaf.desktop.words import _

HEIGHT_PX = 20
EDGE_PX = 1.0  # left of every scale, whatever it shows, so that scales stand under each other
MARK_PX = 12
BAND_PX, BAR_PX = 12, 6  # the bar is narrower, so that the bands behind it stay in sight
OVERSHOOT = 1.25  # length of the scale over the limit, so that the limit line never stands at the edge
MARGIN_OF_WINDOW = 0.6  # of the window's width, shown on either side of it


@dataclass(frozen=True, slots=True)
class BulletFacts:
    """What a bullet graph shows, all in the unit of the quantity.

    Attributes:
        title: what is judged, as in "CO at maximum rate".
        value_text: the value with its unit and limit, as in "61 ppm of 350".
        verdict: within | near | over | unjudged.
        value: the number, None where it is missing.
        low, high: the limits; one may be None.
        guard: width of the band before the limit that the instrument cannot tell from it.
        source: whose limit it is.
        detail: one more quiet line, as in "chance over: below 0.1 %".
        key: the quantity judged, by which its explanation is found; "" where there is none.
    """

    title: str
    value_text: str
    verdict: str
    value: float | None = None
    low: float | None = None
    high: float | None = None
    guard: float = 0.0
    source: str = ""
    detail: str = ""
    key: str = ""

    @property
    def note(self) -> str:
        """What follows the verdict's word: whose limit it is within, near or over, else why none counts."""
        if self.source and self.verdict == "unjudged":
            return _("· {source}", source=self.source)
        return self.source

    @property
    def spoken(self) -> str:
        """The graph in words, for screen readers."""
        verdict = verdict_word(self.verdict)
        if self.source and self.verdict != "unjudged":
            verdict = _("{verdict} {limit}", verdict=verdict, limit=self.source)
        unjudged = self.source if self.verdict == "unjudged" else ""
        parts = (self.title, self.value_text, verdict, unjudged, self.detail)
        return ", ".join(part for part in parts if part)


def scale_ends(facts: BulletFacts) -> tuple[float, float]:
    """Return the ends of the scale: from 0 under an upper limit, else around the limits and the value."""
    value = facts.value
    if facts.high is not None and facts.low is None:
        end = max(facts.high * OVERSHOOT, (value or 0.0) * 1.06)
        return 0.0, end if end > 0 else 1.0
    ends = [end for end in (facts.low, facts.high) if end is not None]
    if not ends:
        return 0.0, max((value or 0.0) * OVERSHOOT, 1.0)
    width = (max(ends) - min(ends)) or max(4 * facts.guard, abs(ends[0]) * 0.02, 0.1)
    seen = [*ends, value] if value is not None else ends
    return min(seen) - width * MARGIN_OF_WINDOW, max(seen) + width * MARGIN_OF_WINDOW


class Bullet(QWidget):
    """The graph alone."""

    def __init__(self, facts: BulletFacts, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts = facts
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.set_facts(facts)

    def set_facts(self, facts: BulletFacts) -> None:
        """Show another value."""
        self._facts = facts
        self.setAccessibleName(facts.spoken)
        self.update()

    def sizeHint(self) -> QSize:
        """Wide enough to read, one line high."""
        return QSize(current().px(160), current().px(HEIGHT_PX))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Paint ground, bands, value, limits, in this order."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        _Drawing(painter, self._facts, current(), QRectF(self.rect())).paint()


class _Drawing:
    """One painting of one graph: keeps the scale while the parts are painted."""

    def __init__(self, painter: QPainter, facts: BulletFacts, theme: Theme, room: QRectF) -> None:
        self._painter = painter
        self._facts = facts
        self._theme = theme
        self._room = room
        self._start, self._end = scale_ends(facts)

    def paint(self) -> None:
        self._band(self._start, self._end, self._theme.colour("hairline"), solid=True)
        for low, high in self._forbidden():
            self._band(low, high, self._theme.colour("paper"), solid=True)
            self._band(low, high, self._theme.colour("mark"), solid=False)
        for low, high in self._guards():
            self._band(low, high, self._theme.colour("mark"), solid=True, faint=True)
        self._value()
        for limit in (self._facts.low, self._facts.high):
            if limit is not None:
                self._limit(limit)

    def _x(self, value: float) -> float:
        share = (value - self._start) / (self._end - self._start)
        return EDGE_PX + share * (self._room.width() - 2 * EDGE_PX)

    def _forbidden(self) -> list[tuple[float, float]]:
        low, high = self._facts.low, self._facts.high
        below = [(self._start, low)] if low is not None else []
        return below + ([(high, self._end)] if high is not None else [])

    def _guards(self) -> list[tuple[float, float]]:
        low, high, guard = self._facts.low, self._facts.high, self._facts.guard
        if guard <= 0:
            return []
        above_low = [(low, min(low + guard, self._end))] if low is not None else []
        return above_low + ([(max(high - guard, self._start), high)] if high is not None else [])

    def _band(self, low: float, high: float, colour: QColor, *, solid: bool, faint: bool = False) -> None:
        tall = self._theme.px(BAND_PX)
        left, right = self._x(low), self._x(high)
        box = QRectF(left, (self._room.height() - tall) / 2, right - left, tall)
        if faint:
            colour.setAlphaF(0.45)
        style = Qt.BrushStyle.SolidPattern if solid else Qt.BrushStyle.BDiagPattern
        self._painter.fillRect(box, QBrush(colour, style))
        if not solid:
            self._painter.setPen(QPen(self._theme.colour("mark"), 1))
            self._painter.setBrush(Qt.BrushStyle.NoBrush)
            self._painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))

    def _value(self) -> None:
        facts = self._facts
        if facts.value is None:
            return
        if facts.low is not None or facts.high is None:
            mark = self._theme.px(MARK_PX)
            x = min(max(self._x(facts.value), mark / 2), self._room.width() - mark / 2)  # never cut in half
            paint_mark(self._painter, facts.verdict, QPointF(x, self._room.height() / 2), mark)
            return
        colours = self._theme.palette.verdict(facts.verdict)
        tall = self._theme.px(BAR_PX)
        left, right = self._x(0.0), max(self._x(facts.value), self._x(0.0) + 2)
        box = QRectF(left, (self._room.height() - tall) / 2, right - left, tall)
        style = Qt.BrushStyle.BDiagPattern if facts.verdict == "unjudged" else Qt.BrushStyle.SolidPattern
        self._painter.fillRect(box, QBrush(QColor(colours.fill), style))
        self._painter.setPen(QPen(QColor(colours.outline), 1))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))

    def _limit(self, limit: float) -> None:
        pen = QPen(self._theme.colour("ink"), self._theme.px(2))
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        self._painter.setPen(pen)
        x = self._x(limit)
        self._painter.drawLine(QPointF(x, 1), QPointF(x, self._room.height() - 1))


class VerdictPanel(QWidget):
    """A verdict that explains itself: title, value of limit, graph, word and whose limit.

    Where it can be explained further, a click asks for that; the leaf's key does the same.
    """

    pressed = Signal(str)  # the quantity

    def __init__(self, facts: BulletFacts, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = label("", tone="strong", wrap=True)
        self._value = label("", wrap=True)
        self._bullet = Bullet(facts)
        self._word = VerdictWord(facts.verdict)
        self._detail = label("", role="small", tone="soft", wrap=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        set_gap(column, 0.75)
        for part in (self._title, self._value, self._bullet, self._word, self._detail):
            column.addWidget(part)
        self.set_facts(facts)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Ask how it was worked out."""
        if self._key and event.button() == Qt.MouseButton.LeftButton:
            self.pressed.emit(self._key)

    def set_facts(self, facts: BulletFacts) -> None:
        """Show another value."""
        self._key = facts.key
        self.setCursor(Qt.CursorShape.PointingHandCursor if facts.key else Qt.CursorShape.ArrowCursor)
        self._title.setText(facts.title)
        self._value.setText(facts.value_text)
        self._bullet.set_facts(facts)
        self._word.set_verdict(facts.verdict, facts.note)
        self._detail.setText(facts.detail)
        self._detail.setVisible(bool(facts.detail))
        self.setAccessibleName(facts.spoken)
