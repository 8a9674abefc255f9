"""The doubts about the slips, each to be looked into or confirmed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.visit.slip_column import Spot
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import Doubt


class DoubtsPanel(QWidget):
    """A line a doubt; one about a slip can be confirmed: checked, and it stands."""

    confirmed = Signal(object, str, bool)  # Spot, code, whether it stands
    grown = Signal()

    def __init__(self, prefix: str) -> None:
        super().__init__()
        self._prefix = prefix
        self._shown: tuple[Doubt, ...] = ()
        self.buttons: list[QPushButton] = []
        self._open: list[tuple[Spot, QPushButton]] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        set_gap(self._column, 2)

    def show_doubts(self, doubts: Sequence[Doubt]) -> None:
        """Show doubts; the lines are made anew only where they differ, and the cursor stays."""
        if tuple(doubts) == self._shown:
            return
        self._shown = tuple(doubts)
        focused = QApplication.focusWidget()
        name = focused.objectName() if focused is not None and self.isAncestorOf(focused) else ""
        while (item := self._column.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.setParent(None)
                old.deleteLater()
        self.buttons, self._open = [], []
        for doubt in self._shown:
            self._column.addWidget(self._line(doubt))
        self.setVisible(bool(self._shown))
        for made in self.buttons:
            if made.objectName() == name:
                made.setFocus(Qt.FocusReason.OtherFocusReason)
        self.grown.emit()

    def confirm(self, spot: Spot | None) -> bool:
        """Confirm the first open doubt, of one slip if one is meant; returns whether there was one."""
        for about, made in self._open:
            if spot in (None, about):
                made.click()
                return True
        return False

    def _line(self, doubt: Doubt) -> QWidget:
        line = QWidget()
        across = QHBoxLayout(line)
        across.setContentsMargins(0, 0, 0, 0)
        set_gap(across, 4)
        words = _(doubt.text)
        if doubt.point and doubt.rate:
            words = _("{slip}: {doubt}", slip=_spot(doubt).words, doubt=words)
        text = label(words, role="small", tone="soft" if doubt.confirmed else "", wrap=True)
        across.addWidget(text, 1)
        if doubt.point and doubt.rate:
            across.addWidget(self._button(doubt), 0, Qt.AlignmentFlag.AlignTop)
        return line

    def _button(self, doubt: Doubt) -> QPushButton:
        spot = _spot(doubt)
        place = f"{spot.point}.{spot.rate}.{spot.attempt}".replace(" ", "_")
        name = f"{self._prefix}.doubts.{place}.{doubt.code}"

        def turn() -> None:
            self.confirmed.emit(spot, doubt.code, not doubt.confirmed)

        words = _("Stands – take back") if doubt.confirmed else _("Checked, stands")
        made = button(words, name, turn, deliberate=True)
        made.setAccessibleDescription(
            _("{slip}: {doubt} Space confirms, Enter goes on.", slip=spot.words, doubt=_(doubt.text))
        )
        self.buttons.append(made)
        if not doubt.confirmed:
            self._open.append((spot, made))
        return made


def _spot(doubt: Doubt) -> Spot:
    """Return the slip that a doubt is about."""
    assert doubt.point is not None
    assert doubt.rate is not None
    return Spot(doubt.point, doubt.rate, doubt.attempt or 1)
