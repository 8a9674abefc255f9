"""The margin of the visit leaf: parts made once and filled anew at each key, so that typing never waits."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from flueleaf.desktop.announcing import announce
from flueleaf.desktop.bullet import BulletFacts, VerdictPanel
from flueleaf.desktop.command import native
from flueleaf.desktop.help.worked_out_dialog import KEY
from flueleaf.desktop.rule import Rule
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.theme import current
from flueleaf.desktop.verdict_mark import VerdictWord, verdict_word
from flueleaf.desktop.visit.at_hand import LastTime
from flueleaf.desktop.visit.figure_rows import Figure, FigureRows
from flueleaf.desktop.visit.flame_at_hand import MOST_DECIMALS
from flueleaf.desktop.visit.left import Left
from flueleaf.desktop.visit.steps_at_hand import MOST_LINES as MOST_STEPS
from flueleaf.desktop.visit.steps_at_hand import Steps
from flueleaf.desktop.words import _, _n

MOST_GRAPHS, MOST_LEFT, MOST_LINES = 4, 9, 6


@dataclass(frozen=True, slots=True)
class MarginFacts:
    """Everything the margin shows.

    Attributes:
        title: what is being typed; graphs: its verdicts; last: the same slip of the past.
        flame: what the physics says of the slip, the few figures looked at first.
        steps: of the procedure, those gone through and the next one.
        verdicts: of each appliance, name and word, where no slip is being typed.
        notes: doubts, then what to do at this slip or stage.
        left: what is left before sign-off, in the order of the leaf.
        waits, ready: the head above it, and the one that stands there while nothing is left.
    """

    title: str = ""
    graphs: Sequence[BulletFacts] = ()
    flame: Sequence[Figure] = ()
    last: LastTime | None = None
    steps: Steps = field(default_factory=Steps)
    verdicts: Sequence[tuple[str, str]] = ()
    notes: Sequence[str] = ()
    left: Sequence[Left] = ()
    waits: str = _("left before sign-off")
    ready: str = _("nothing holds up the sign-off")


class LeftLine(QWidget):
    """One thing left; a click goes there, as its key does."""

    pressed = Signal()

    def __init__(self, key: str) -> None:
        super().__init__()
        self.text = label("", role="small", wrap=True)
        self._key = label(native(key), role="small", tone="soft")
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setMinimumHeight(current().px(24))
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        set_gap(line, 2)
        line.addWidget(self.text, 1, Qt.AlignmentFlag.AlignTop)
        line.addWidget(self._key, 0, Qt.AlignmentFlag.AlignTop)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Go there."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.pressed.emit()


class MarginBlock(QWidget):
    """A head with a hairline, and what stands under it; hidden while there is nothing to say."""

    def __init__(self, parts: Sequence[QWidget]) -> None:
        super().__init__()
        self.head = label("", role="head", wrap=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        set_gap(column, 1.5)
        column.addWidget(self.head)
        column.addWidget(Rule())
        for part in parts:
            column.addWidget(part)

    def show_title(self, title: str) -> None:
        """Show the block under a title, or hide it without one."""
        if self.head.text() != title:
            self.head.setText(title)
            self.setAccessibleName(title)
        self.setVisible(bool(title))


class VisitMargin(QWidget):
    """Verdicts at hand, figures of the flame, last time, notes, what is left."""

    def __init__(
        self, go: Callable[[Left], None], explain: Callable[[str], None] = lambda _quantity: None
    ) -> None:
        """Make an empty margin.

        Args:
            go: goes to something left.
            explain: says how the verdict of a quantity was worked out.
        """
        super().__init__()
        self.setObjectName("visit.margin")
        self.setAccessibleName(_("verdicts and what is left"))
        self._told: dict[str, str] = {}  # the word last shown of each graph at hand
        empty = BulletFacts("", "", "unjudged")
        self.panels = [VerdictPanel(empty) for _each in range(MOST_GRAPHS)]
        self._words = [VerdictWord("unjudged") for _each in range(MOST_LINES)]
        self._last = [label("", wrap=True), label("", role="small", tone="soft", wrap=True)]
        self._gone = [label("", role="small", tone="soft", wrap=True) for _each in range(MOST_STEPS)]
        self._now = [label("", role="small", tone="strong", wrap=True), label("", role="small", wrap=True)]
        self._notes = [label("", role="small", wrap=True) for _each in range(MOST_LINES)]
        self.lines = [LeftLine(f"Ctrl+{n + 1}") for n in range(MOST_LEFT)]
        self._more = label("", role="small", tone="soft", wrap=True)
        self._left: Sequence[Left] = ()
        self.how, self.how_all = LeftLine(KEY), LeftLine(KEY)
        _set(self.how.text, _("How this was worked out"))
        _set(self.how_all.text, _("All figures, and how they were worked out"))
        self._at_hand = MarginBlock([*self.panels, *self._words, self.how])
        self.flame = FigureRows(most_decimals=MOST_DECIMALS)
        self._of_flame = MarginBlock([self.flame, self.how_all])
        self._past = MarginBlock(self._last)
        self._way = MarginBlock([*self._gone, *self._now])
        self._care = MarginBlock(self._notes)
        self._open = MarginBlock([*self.lines, self._more])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        set_gap(column, 5)
        for block in (self._at_hand, self._of_flame, self._past, self._way, self._open, self._care):
            column.addWidget(block)
        for n, line in enumerate(self.lines):
            line.pressed.connect(lambda n=n: go(self._left[n]))
        for panel in self.panels:
            panel.pressed.connect(explain)
        self.flame.pressed.connect(explain)
        for how in (self.how, self.how_all):
            how.pressed.connect(lambda: explain(""))

    @property
    def way(self) -> list[str]:
        """The steps of the procedure as shown, from top to bottom."""
        return [one.text() for one in (*self._gone, *self._now) if not one.isHidden()]

    @property
    def left(self) -> Sequence[Left]:
        """What the list holds, in its order."""
        return self._left

    def show_facts(self, facts: MarginFacts) -> None:
        """Show other facts; only what differs is touched."""
        self._at_hand.show_title(facts.title)
        for n, panel in enumerate(self.panels):
            if n < len(facts.graphs):
                panel.set_facts(facts.graphs[n])
            panel.setVisible(n < len(facts.graphs))
        for n, word in enumerate(self._words):
            if n < len(facts.verdicts):
                name, verdict = facts.verdicts[n]
                word.set_verdict(verdict, _("· {name}", name=name))
            word.setVisible(n < len(facts.verdicts))
        self.flame.set_figures(facts.flame)
        self._of_flame.show_title(_("of this flame") if facts.flame else "")
        self._past.show_title(facts.last.title if facts.last else "")
        _show(self._last, facts.last.lines if facts.last else ())
        self._way.show_title(_("step by step") if facts.steps.shown else "")
        _show(self._gone, facts.steps.gone)
        _show(self._now, [text for text in (facts.steps.now, facts.steps.does) if text])
        self._care.show_title(_("take care") if facts.notes else "")
        _show(self._notes, facts.notes)
        self._show_left(facts.left, facts.waits, facts.ready)
        self.how.setVisible(bool(facts.graphs) and not facts.flame)
        self._tell_changes(facts)

    def _tell_changes(self, facts: MarginFacts) -> None:
        """Tell screen readers which verdict at hand has become another; going elsewhere tells nothing."""
        before, self._told = self._told, {f"{facts.title}: {one.title}": one.verdict for one in facts.graphs}
        for one in facts.graphs:
            was = before.get(f"{facts.title}: {one.title}")
            if was is not None and was != one.verdict:
                text = _("{figure}: {verdict}", figure=one.title, verdict=verdict_word(one.verdict))
                announce(self, text, urgent=one.verdict == "over")

    def _show_left(self, left: Sequence[Left], waits: str, ready: str) -> None:
        self._left = list(left)[:MOST_LEFT]
        self._open.show_title(waits if any(one.holds_up for one in left) else ready)
        more = len(left) - len(self._left)
        text = _n("and {count} more; F8 goes through all of them",
                  "and {count} more; F8 goes through all of them", more)  # fmt: skip
        _show([self._more], [text] if more else ())
        for n, line in enumerate(self.lines):
            if n < len(self._left):
                _set(line.text, self._left[n].text)
            line.setVisible(n < len(self._left))


def _show(labels: Sequence[QLabel], texts: Sequence[str]) -> None:
    for n, shown in enumerate(labels):
        if n < len(texts):
            _set(shown, texts[n])
        shown.setVisible(n < len(texts))


def _set(shown: QLabel, text: str) -> None:
    if shown.text() != text:
        shown.setText(text)
