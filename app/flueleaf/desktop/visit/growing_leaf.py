"""A leaf that is shown before all of it is made, and what keys and commands do meanwhile."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.ear import Ear, Typing


class GrowingLeaf(Leaf):
    """Grows while it is shown, from top to bottom; no key gets lost and none goes to a wrong field."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self.typing = Typing(desk, Ear(self))
        self._later = self.typing.ear.later
        self._to_missing = False  # whether the cursor goes there once the leaf is whole

    @property
    def whole(self) -> bool:
        """Whether nothing of the leaf is still to be made."""
        return not self._later.busy

    def complete(self) -> None:
        """Make at once what of the leaf still waits to be made."""
        self._later.complete()

    def judge(self) -> None:
        """Make all of the leaf and judge it."""
        raise NotImplementedError

    def ends_with(self, widget: QWidget | None) -> bool:
        """Tell whether what comes after the section of a control is still to be made."""
        raise NotImplementedError

    def go_to_first_missing(self) -> None:
        """Go to the first thing missing on the whole leaf; where nothing is, the cursor stays."""
        raise NotImplementedError

    def go_to_missing(self) -> None:
        """Go to the first thing missing, as soon as the leaf is whole; a key hurries it."""
        self._to_missing = self._later.busy
        if self._to_missing:
            self.setFocus(Qt.FocusReason.OtherFocusReason)  # see keyPressEvent
        else:
            self.go_to_first_missing()

    def grown_whole(self) -> None:
        """Called when the leaf was made and judged: go where the cursor was to go."""
        if self._to_missing and self.hasFocus():
            self._hurry()
        self._to_missing = False

    def focusNextPrevChild(self, onwards: bool) -> bool:  # noqa: N802
        """Go to the next field, made before that where it is still to come."""
        if self._to_missing:
            self._hurry()
        if onwards and self._later.busy and self.ends_with(QApplication.focusWidget()):
            self.complete()
        return super().focusNextPrevChild(onwards)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand on a key that is for the first field missing, where that is still to be made."""
        if self._to_missing:
            self._hurry()
            focused = QApplication.focusWidget()
            if focused is not None and focused is not self:
                QApplication.sendEvent(focused, event)
                return
        super().keyPressEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        """Grow from now on."""
        super().showEvent(event)
        self._later.run(shown=True)

    def hideEvent(self, event: QHideEvent) -> None:
        """Rest while nobody looks."""
        super().hideEvent(event)
        self._later.run(shown=False)

    def put_aside(self) -> None:
        """Grow no more."""
        self._later.stop()
        super().put_aside()

    def _hurry(self) -> None:
        self._to_missing = False
        self.judge()
        self.go_to_first_missing()
        if self.hasFocus() and (first := self.first_focus()) is not None:
            first.setFocus(Qt.FocusReason.OtherFocusReason)
