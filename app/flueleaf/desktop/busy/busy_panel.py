"""The calm line that says what is going on: a thin bar, how far it is, and a button that stops it."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from flueleaf.desktop.announcing import announce
from flueleaf.desktop.busy.busy import Busy
from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import sequence
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _, _n

BAR_PX = (120, 6)
MINUTE_S = 60


class _Bar(QWidget):
    """How much is done, as a filled line; the words beside it say the same."""

    def __init__(self) -> None:
        super().__init__()
        self.part = 0.0
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """As long and thick as the text scale asks for."""
        return QSize(current().px(BAR_PX[0]), current().px(BAR_PX[1]))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the whole in the tone of rules, the part done in the accent."""
        painter, box = QPainter(self), self.rect()
        painter.fillRect(box, current().colour("hairline"))
        painter.fillRect(
            QRect(0, 0, round(box.width() * self.part), box.height()), current().colour("accent")
        )
        painter.end()


class BusyPanel(QWidget):
    """Stands in the status line while work is going on; Escape stops the work."""

    def __init__(self, busy: Busy, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._busy = busy
        self.setObjectName("busy")
        self._bar = _Bar()
        self._text = label("", role="small")
        self._stop = button(_("Stop"), "busy.stop", self._on_stop)
        self._stop.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        set_gap(line, 3)
        for widget in (self._bar, self._text, self._stop):
            line.addWidget(widget)
        self._escape = QShortcut(sequence("Esc"), self, self._on_stop)
        self._escape.setContext(Qt.ShortcutContext.WindowShortcut)
        self._escape.setEnabled(False)
        busy.began.connect(self._on_began)
        busy.advanced.connect(self._on_advanced)
        busy.ended.connect(self._on_ended)
        self.hide()

    @property
    def text(self) -> str:
        """What the line says."""
        return self._text.text()

    def _on_began(self, title: str) -> None:
        self._bar.part = 0.0
        self._say(title)
        self._bar.updateGeometry()
        self._escape.setEnabled(True)
        self.show()
        announce(self, title)

    def _on_advanced(self, done: int, of: int) -> None:
        self._bar.part = done / of if of else 1.0
        self._bar.update()
        if self._busy.stopping:
            return
        title, left_s = self._busy.title, self._busy.left_s(done, of)
        if left_s is None:
            self._say(_("{title}: {done} of {of}", title=title, done=done, of=of))
        else:
            left = left_words(left_s)
            self._say(_("{title}: {done} of {of}, {left}", title=title, done=done, of=of, left=left))

    def _on_stop(self) -> None:
        if self._busy.going_on:
            self._busy.cancel()
            self._say(_("Stopping…"))

    def _on_ended(self) -> None:
        self._escape.setEnabled(False)
        self.hide()

    def _say(self, text: str) -> None:
        self._text.setText(text)
        self.setAccessibleName(text)


def left_words(left_s: int) -> str:
    """Return the time left in round words: an estimate to the second would only be restless."""
    if left_s < 10:
        return _("a few seconds left")
    if left_s < MINUTE_S:
        return _("about {seconds} seconds left", seconds=-(-left_s // 10) * 10)
    return _n("about {count} minute left", "about {count} minutes left", -(-left_s // MINUTE_S))
