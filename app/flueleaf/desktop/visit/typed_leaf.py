"""A leaf typed into as one document, a visit or a quote: heard, judged, kept, and what is left of it."""

from __future__ import annotations

from collections.abc import Sequence

import shiboken6
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit import judging, walking
from flueleaf.desktop.visit.draft_keeper import DraftKeeper
from flueleaf.desktop.visit.ear import Ear, Typing
from flueleaf.desktop.visit.history import History
from flueleaf.desktop.visit.left import Left, fault_message
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.visit_margin import VisitMargin
from flueleaf.domain.problems import Fault


class TypedLeaf(Leaf):
    """Everything typed is one document: read off the fields, judged at each key, kept in the book."""

    _steps: History

    def __init__(self, desk: Desk, place: Place) -> None:
        """Make the leaf without sections; subclasses add them, then ``_steps``, and set ``_ready``."""
        super().__init__(desk, place)
        self.typing = Typing(desk, Ear(self))
        self.keeper = DraftKeeper(self.keep_draft, self)
        self._left: list[Left] = []
        self._margin: VisitMargin | None = None
        self._refusal, self._refused_for = "", [""]  # what was said of what is left, and of which it spoke
        self._messages = judging.Messages(self.locate)
        self._ready = False  # what is being filled in is not typed
        self._order_due = False  # whether the order of Tab has to be made anew
        self._judge_soon = QTimer(self)
        self._judge_soon.setSingleShot(True)
        self._judge_soon.setInterval(0)
        self._judge_soon.timeout.connect(self.judge_typed)
        self.typing.ear.typed.connect(self._on_typed)
        self.typing.ear.left.connect(self._on_left)
        self.typing.ear.grown.connect(self._on_grown)
        self.keeper.kept.connect(self.kept)
        self.keeper.failed.connect(self.said)

    @property
    def parts(self) -> list[Part]:
        """The sections, from top to bottom."""
        raise NotImplementedError

    @property
    def left(self) -> Sequence[Left]:
        """What is still open, in the order of the leaf."""
        return self._left

    def locate(self, path: str) -> Field | None:
        """Return the field of a path of the document."""
        raise NotImplementedError

    def judge(self) -> None:
        """Judge what is typed and show what follows from it."""
        raise NotImplementedError

    def judge_typed(self) -> None:
        """Judge once the keys typed by now are heard; what follows from them belongs to the same step."""
        self.judge()
        self._steps.settle()

    def keep_draft(self) -> None:
        """Write the document and where the cursor is into the book."""
        raise NotImplementedError

    def refuse(self, open_ones: Sequence[Left], text: str) -> None:
        """Tell at the fields and in the status line why nothing is sealed, and go to the first of them."""
        self._messages.tell(open_ones)
        self._refusal, self._refused_for = text, [one.text for one in open_ones]
        self.said.emit(text)
        self.go_to_left(open_ones[0])

    def settle_refusal(self) -> None:
        """Take away what was said of things left, once one of them is put right: the margin has the rest."""
        if self._refusal and self._refused_for != [one.text for one in self._left if one.holds_up]:
            self.settled.emit(self._refusal)
            self._refusal = ""

    def show_refused(self, faults: Sequence[Fault]) -> None:
        """Show what the book had against the sealing, and go to the first of it."""
        self.judge()
        left = [Left(fault.where, self.locate(fault.where), fault_message(fault)) for fault in faults]
        self._messages.tell(left)
        for one in left[:1]:
            self.go_to_left(one)

    def go_to_left(self, left: Left) -> None:
        """Go to the field of something still open; one that went with its stage leads nowhere."""
        if left.field is not None:
            if shiboken6.isValid(left.field):
                walking.go_to(left.field, self.scroll_area)
        elif left.place is not None:
            self.keeper.touch()  # even when nothing was typed yet: from there one comes back to this draft
            self.place_wanted.emit(left.place)

    def go_to_first_missing(self) -> None:
        """Go to the first field that sealing waits for; where there is none, the cursor stays."""
        for left in [one for one in self._left if one.field is not None][:1]:
            self.go_to_left(left)

    def cursor_at(self) -> str:
        """Return the name of the field the cursor is in, "" where it is in none."""
        field = walking.field_of(QApplication.focusWidget())
        return field.objectName() if field is not None and self.isAncestorOf(field) else ""

    def focusNextPrevChild(self, onwards: bool) -> bool:  # noqa: N802
        """Go to the next field, in the order of what is there by now.

        What the page asks comes and goes with each digit: its order is made when somebody goes on.
        """
        if self._order_due:
            self._order_due = False
            # One that is being taken off the page hands its cursor on as well, while others are gone from it.
            walking.set_tab_order([part for part in self.parts if self.isAncestorOf(part)])
        return super().focusNextPrevChild(onwards)

    def put_aside(self) -> None:
        """Come to rest: the margin goes before this leaf does."""
        self.keeper.stop()
        self._margin = None
        super().put_aside()
        self._judge_soon.stop()

    def _on_typed(self) -> None:
        if self._ready:
            self.keeper.touch()
            self._judge_soon.start()
            self._steps.note(self.typing.ear.field or self.cursor_at())

    def _on_left(self) -> None:
        if self._ready:
            self._steps.part()
            self.keeper.keep()
            self._judge_soon.start()

    def _on_grown(self) -> None:
        if self._ready:
            self._order_due = True
