"""CO typed at intervals while it settles: Enter stamps the time and says whether it stands still."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from decimal import Decimal

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QListWidget, QVBoxLayout, QWidget

from flueleaf.desktop.announcing import announce
from flueleaf.desktop.buttons import button
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.flow_layout import FlowLayout
from flueleaf.desktop.section import label
from flueleaf.desktop.settling.fill_offer import FillOffer
from flueleaf.desktop.settling.filling import Filling
from flueleaf.desktop.settling.settling_words import duration, live_words
from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.domain.judging.settling import LEAD, Settling
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.operations import settling

WIDE_PX, HIGH_PX, LINE_PX = 460, 480, 32
MOST_OF_SCREEN = 0.9


class LiveDialog(QDialog):
    """``filled`` tells what to take over; Escape leaves everything as it is."""

    filled = Signal(object)  # Filling

    def __init__(
        self,
        slip: str,
        *,
        now: Callable[[], dt.datetime],
        typed: Mapping[str, str],
        parent: QWidget | None = None,
    ) -> None:
        """Begin with nothing typed.

        Args:
            slip: what the slip is called that is to be filled.
            now: the clock.
            typed: by quantity key, what the slip holds already.
            parent: the window it lies on.
        """
        super().__init__(parent)
        self.setObjectName("live")
        self.setWindowTitle(_("Values while they settle"))
        self.setAccessibleName(_("Values while they settle, {slip}", slip=slip))
        self._now = now
        self.offer = FillOffer("live", typed, self)
        self.offer.taken.connect(self._on_taken)
        self.readings: list[tuple[dt.datetime, Decimal]] = []
        self.found = Settling(settled=False)
        theme = current()
        column = QVBoxLayout(self)
        set_margins(column, 6, 5, 6, 5)
        set_gap(column, 3)
        column.addWidget(label(_("Values while they settle"), role="title", wrap=True))
        column.addWidget(label(_("for the slip: {slip}", slip=slip), tone="soft", wrap=True))
        self.field = NumberField("live.co_ppm", QUANTITIES[LEAD], label=_("CO now"))
        self.field.moves_on = False
        self.field.entered.connect(self._on_entered)
        head = label(self.field.label, tone="soft")
        head.setBuddy(self.field.control())
        set_margins(head, 0, 1.5, 0, 0)
        line = QHBoxLayout()
        set_gap(line, 3)
        line.addWidget(head, 0, Qt.AlignmentFlag.AlignTop)
        line.addWidget(self.field, 1)
        column.addLayout(line)
        self.words = label(live_words(self.found), wrap=True)
        self.words.setObjectName("live.words")
        column.addWidget(self.words)
        self.list = QListWidget()
        self.list.setObjectName("live.list")
        self.list.setAccessibleName(_("typed so far, the last one first"))
        self.list.setMinimumHeight(theme.px(LINE_PX))
        column.addWidget(self.list, 1)
        column.addWidget(self.offer.there)
        bar = QWidget()
        buttons = FlowLayout(bar, gap_steps=3)
        for one in (self.offer.fill, self.offer.over, button(_("Close"), "live.close", self.reject)):
            buttons.addWidget(one)
        column.addWidget(bar)
        room = self.screen().availableSize()
        self.resize(
            min(theme.px(WIDE_PX), int(room.width() * MOST_OF_SCREEN)),
            min(theme.px(HIGH_PX), int(room.height() * MOST_OF_SCREEN)),
        )
        self.field.control().setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Enter to the field: it stamps the time."""
        if event.key() not in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            super().keyPressEvent(event)

    def _on_entered(self) -> None:
        value = self.field.value()
        if not self.field.check() or value is None:
            return
        self.readings.append((self._now(), value))
        self.found = settling.typed_so_far(self.readings)
        since = (self.readings[-1][0] - self.readings[0][0]).total_seconds()
        shown = _("{time}: {value} ppm", time=duration(max(int(since), 0)), value=f"{value:f}")
        self.list.insertItem(0, shown)
        self.field.set_text("")
        self.words.setText(live_words(self.found))
        announce(self.words, self.words.text())
        self.offer.show_found(self.found)

    def _on_taken(self, filling: Filling) -> None:
        self.filled.emit(filling)
        self.accept()
