"""The doubts about the slips, each to be looked into or confirmed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.help.worded_label import set_tone
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.visit.slip_column import Spot
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import Doubt


class DoubtLine(QWidget):
    """One doubt, and the button by which the engineer stands by the figures."""

    confirmed = Signal(object, str, bool)  # Spot, code, whether it stands

    def __init__(self, prefix: str) -> None:
        """Make a line that says nothing yet.

        Args:
            prefix: of the name of its button, ``works.0``.
        """
        super().__init__()
        self._prefix = prefix
        self.doubt: Doubt | None = None
        self._words = label("", role="small", wrap=True)
        self.button = button("", "", self._turn, deliberate=True)
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        set_gap(across, 4)
        across.addWidget(self._words, 1)
        across.addWidget(self.button, 0, Qt.AlignmentFlag.AlignTop)

    @property
    def spot(self) -> Spot | None:
        """The slip it is about; None where it is about the whole visit, which nobody can confirm."""
        doubt = self.doubt
        return _spot(doubt) if doubt is not None and doubt.point and doubt.rate else None

    @property
    def is_open(self) -> bool:
        """Whether it waits for a look."""
        return self.spot is not None and self.doubt is not None and not self.doubt.confirmed

    def show_doubt(self, doubt: Doubt) -> None:
        """Show another doubt, or the same one confirmed."""
        if doubt == self.doubt:
            return
        self.doubt = doubt
        told, spot = _(doubt.text), self.spot
        words = _("{slip}: {doubt}", slip=spot.words, doubt=told) if spot is not None else told
        self._words.setText(words)
        set_tone(self._words, "soft" if doubt.confirmed else "")
        self.button.setVisible(spot is not None)
        if spot is None:
            return
        self.button.setObjectName(_name(self._prefix, doubt))
        turn = _("Stands – take back") if doubt.confirmed else _("Checked, stands")
        self.button.setText(turn)
        self.button.setAccessibleName(turn)
        self.button.setAccessibleDescription(
            _("{slip}: {doubt} Space confirms, Enter goes on.", slip=spot.words, doubt=told)
        )

    def forget(self) -> None:
        """Say nothing; its button has no name meanwhile, so that nobody finds it by one."""
        self.hide()
        self.doubt = None
        self.button.setObjectName("")

    def _turn(self) -> None:
        if (spot := self.spot) is not None and self.doubt is not None:
            self.confirmed.emit(spot, self.doubt.code, not self.doubt.confirmed)


class DoubtsPanel(QWidget):
    """A line a doubt; one about a slip can be confirmed: checked, and it stands.

    Doubts come and go with each digit: lines that were made stay, and are filled anew. The room they took
    stays too until the field is left, so that the page does not move under the hand.
    """

    confirmed = Signal(object, str, bool)  # Spot, code, whether it stands
    grown = Signal()

    def __init__(self, prefix: str) -> None:
        super().__init__()
        self._prefix = prefix
        self._shown: tuple[Doubt, ...] = ()
        self._lines: list[DoubtLine] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        set_gap(self._column, 2)
        self._column.addStretch(1)

    @property
    def lines(self) -> list[DoubtLine]:
        """The lines that say something."""
        return self._lines[: len(self._shown)]

    @property
    def buttons(self) -> list[QPushButton]:
        """The buttons of the doubts shown, from top to bottom."""
        return [line.button for line in self.lines if line.spot is not None]

    def show_doubts(self, doubts: Sequence[Doubt]) -> None:
        """Show doubts; the cursor stays at the button of its doubt."""
        if tuple(doubts) == self._shown:
            return
        focused = QApplication.focusWidget()
        name = focused.objectName() if focused is not None and self.isAncestorOf(focused) else ""
        before = self.buttons
        self._shown = tuple(doubts)
        if name and name not in {_name(self._prefix, doubt) for doubt in self._shown}:
            next(line for line in self._lines if line.button is focused).forget()  # Qt moves the cursor on
        while len(self._lines) < len(self._shown):
            self._add_line()
        for line, doubt in zip(self._lines, self._shown, strict=False):
            line.show_doubt(doubt)
            line.show()
        for line in self._lines[len(self._shown) :]:
            line.forget()
        if self.isVisible() and self.height() > self.minimumHeight():
            self.setMinimumHeight(self.height())
        self.setVisible(bool(self._shown) or self.minimumHeight() > 0)
        named = [made for made in self.buttons if made.objectName() == name]
        if named and focused not in named:
            named[0].setFocus(Qt.FocusReason.OtherFocusReason)
        if self.buttons != before:
            self.grown.emit()

    def release(self) -> None:
        """Give back the room of doubts that are gone."""
        self.setMinimumHeight(0)
        self.setVisible(bool(self._shown))

    def confirm(self, spot: Spot | None) -> bool:
        """Confirm the first open doubt, of one slip if one is meant; returns whether there was one."""
        for line in self.lines:
            if line.is_open and spot in (None, line.spot):
                line.button.click()
                return True
        return False

    def _add_line(self) -> None:
        made = DoubtLine(self._prefix)
        made.confirmed.connect(self.confirmed)
        self._column.insertWidget(len(self._lines), made)
        self._lines.append(made)


def _name(prefix: str, doubt: Doubt) -> str:
    """Return what the button of a doubt is called; "" where it has none."""
    if not (doubt.point and doubt.rate):
        return ""
    place = f"{doubt.point}.{doubt.rate}.{doubt.attempt or 1}".replace(" ", "_")
    return f"{prefix}.doubts.{place}.{doubt.code}"


def _spot(doubt: Doubt) -> Spot:
    """Return the slip that a doubt is about."""
    assert doubt.point is not None
    assert doubt.rate is not None
    return Spot(doubt.point, doubt.rate, doubt.attempt or 1)
