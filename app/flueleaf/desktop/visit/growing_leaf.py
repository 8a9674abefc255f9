"""A leaf that is shown before all of it is made, and what keys and commands do meanwhile."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit import walking
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.typed_leaf import TypedLeaf

# Pressed alone these type nothing: a command comes, which may go elsewhere.
ALONE = (Qt.Key.Key_Control, Qt.Key.Key_Shift, Qt.Key.Key_Alt, Qt.Key.Key_AltGr, Qt.Key.Key_Meta)

Find = Callable[[], QWidget | None]  # returns where the cursor is to go, None while that is still to be made


class GrowingLeaf(TypedLeaf):
    """Grows while it is shown, from top to bottom; no key gets lost and none goes to a wrong field."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._later = self.typing.ear.later
        self._to_missing = False  # whether the cursor goes there once the leaf is whole
        self._awaited: Find | None = None  # where else it goes, once that is made
        self._later.made.connect(self._arrive)
        self._later.done.connect(self._arrive_anyway)

    @property
    def whole(self) -> bool:
        """Whether nothing of the leaf is still to be made."""
        return not self._later.busy

    def complete(self) -> None:
        """Make at once what of the leaf still waits to be made."""
        self._later.complete()

    def ends_with(self, widget: QWidget | None) -> bool:
        """Tell whether what comes after the section of a control is still to be made."""
        raise NotImplementedError

    def go_when_made(self, find: Find) -> None:
        """Go where ``find`` says, as soon as that is made; a key hurries it."""
        self.setFocus(Qt.FocusReason.OtherFocusReason)  # see keyPressEvent
        self._awaited = find
        self._arrive()
        if not self._later.busy:
            self._arrive_anyway()

    def go_to_missing(self) -> None:
        """Go to the first thing missing, as soon as the leaf is whole; a key hurries it."""
        self._awaited = None
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
        if self._cursor_waits:
            self._hurry()
        if onwards and self._later.busy and self.ends_with(QApplication.focusWidget()):
            self.complete()
        return super().focusNextPrevChild(onwards)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand on a key that is for the field the cursor is to go to, where that is still to be made."""
        if self._cursor_waits and event.key() not in ALONE:
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

    @property
    def _cursor_waits(self) -> bool:
        return self.hasFocus() and (self._to_missing or self._awaited is not None)

    def _hurry(self) -> None:
        while self._awaited is not None and self._later.busy:
            self._later.step()
        if self._to_missing:
            self._to_missing = False
            self.judge()
            self.go_to_first_missing()
            self._go_somewhere()
        for part in self.findChildren(Part):
            part.show()  # Qt does so at a later turn, and until then Tab passes over what stands in it

    def _arrive(self) -> None:
        """Go where the cursor is to go, if that is made by now; one that went elsewhere meanwhile stays."""
        found = self._awaited() if self._awaited is not None else None
        if found is not None:
            self._awaited = None
            if self.hasFocus():
                walking.go_to(found, self.scroll_area)

    def _arrive_anyway(self) -> None:
        if self._awaited is not None:
            self._awaited = None
            self._go_somewhere()

    def _go_somewhere(self) -> None:
        if self.hasFocus() and (first := self.first_focus()) is not None:
            first.setFocus(Qt.FocusReason.OtherFocusReason)
