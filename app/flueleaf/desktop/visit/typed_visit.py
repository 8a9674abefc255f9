"""The leaf of a visit that is being typed."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShortcut, QShowEvent
from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.command import Command, sequence
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit import judging, walking
from flueleaf.desktop.visit.fold import unfold
from flueleaf.desktop.visit.growing_leaf import GrowingLeaf
from flueleaf.desktop.visit.heading import heading_of
from flueleaf.desktop.visit.history import History
from flueleaf.desktop.visit.left import (
    Left,
    all_left,
    unanswered,
    unbilled,
    unexplained,
    unnamed,
    without_notes,
    without_vat_number,
)
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.pieces import VisitPieces
from flueleaf.desktop.visit.signing import Signing
from flueleaf.desktop.visit.visit_commands import visit_commands
from flueleaf.desktop.visit.visit_margin import MOST_LEFT, VisitMargin
from flueleaf.desktop.visit.what_is_at_hand import margin_facts
from flueleaf.desktop.visit.work_panel import WorkPanel
from flueleaf.desktop.visit.worked_out_commands import show_of_quantity
from flueleaf.desktop.words import _, _n
from flueleaf.domain.records.business import Business
from flueleaf.operations import book as books
from flueleaf.operations import drafting, register
from flueleaf.operations.drafting import Judgement, Past


class TypedVisitLeaf(GrowingLeaf):
    """Everything typed is one document: read off the fields, judged at each key, kept in the book."""

    def __init__(self, desk: Desk, place: Place, document: dict[str, Any], *, new: bool = False) -> None:
        """Make the leaf.

        Args:
            desk: what every leaf is given.
            place: with the id of the visit.
            document: as begun or kept.
            new: nothing of it was typed yet.
        """
        super().__init__(desk, place)
        self.setObjectName("leaf.visit")
        self._business = books.business(desk.book)
        known = register.choices(desk.book)
        self.pieces = VisitPieces(
            self.typing, known, self._business, place=self._column.addWidget, sign_off=self.sign_off
        )
        self._past, self._past_of = Past(), ""
        self._sums = judging.Sums()
        self.judgement: Judgement | None = None
        visit_id = str(document["visit_id"])
        self._at = "" if new else drafting.left_at(desk.book, visit_id)
        self.pieces.quote.number = "" if new else drafting.quote_of(desk.book, visit_id)
        self.signing = Signing(self)
        self._commands = visit_commands(self)
        self._connect()
        self._steps = History(
            desk.book, visit_id, self.pieces.state, self._show_state, self, prepare=self._take_up_steps
        )
        self.show_document(document if new else drafting.with_begun(desk.book, document), new=new)
        self._steps.begin()
        self._took_up = False  # the steps kept when the leaf was closed
        self.undoing = self._steps

    @property
    def parts(self) -> list[Part]:
        """The sections, from top to bottom."""
        return self.pieces.parts

    @property
    def works(self) -> list[WorkPanel]:
        """The appliances of the visit."""
        return self.pieces.works

    @property
    def past(self) -> Past:
        """What the book knows of the appliances."""
        return self._past

    @property
    def business(self) -> Business:
        """Whose visit it is."""
        return self._business

    def document(self) -> dict[str, Any]:
        """Return the visit as typed, in the shape of the contract's evening."""
        return self.pieces.document()

    def show_document(self, document: dict[str, Any], *, new: bool = False) -> None:
        """Show a visit; a new one asks for its record by itself."""
        self._ready = False
        self.pieces.show_document(document, new=new)
        self._ready = True
        self._on_grown()
        self._show_heading(document)  # the rest when the judgement is made, over all of it

    def change_works(self, works: Sequence[dict[str, Any]]) -> None:
        """Show other works, and keep that, as one step."""
        cursor = self.cursor_at()
        self._ready = False
        self.pieces.refill_works(works)
        self._ready = True
        self._on_grown()
        self.keeper.touch()
        self.note_step(cursor)
        if self.whole:
            self.judge()
            self._steps.settle()
        else:
            self._judge_soon.start()

    def note_step(self, field: str) -> None:
        """Note a change that is a step of its own, made from a field by its name."""
        self._steps.step(field)

    def judge(self) -> None:
        """Judge what is typed and show what follows from it; nothing is read from the book unless it must."""
        pieces = self.pieces
        pieces.follow_purpose()
        self.complete()
        document = self.document()
        self._look_back(document)
        self.judgement = drafting.judge(document, self._past, today=self.desk.today(), before=self.judgement)
        tally, money_faults = self._sums.of(self.judgement, self._business)
        pieces.lines.show_sum(tally)
        if tally is not None and len(tally.line_nets) == 1:
            pieces.signing_off.want("invoice")
        judging.show_works(self.works, self.judgement, self._past)
        holding = all_left(self.judgement, self.works, pieces.lines, pieces.locate)
        holding += unexplained(self.judgement, self.works, pieces.locate)
        if self.judgement.visit.papers:
            holding += unnamed(self._business)
        if pieces.quote.problem:
            holding.append(Left(pieces.quote.problem, None, ""))
        self._left = [
            *self._in_order(holding),
            *without_notes(self.judgement, self.works, pieces.locate),
            *unbilled(self.judgement, tally, pieces.locate),
            *without_vat_number(self._business, self.judgement.visit.papers),
            *unanswered(self.works),
        ]
        self.settle_refusal()
        judging.show_states(self.parts, holding)
        focused = walking.field_of(QApplication.focusWidget())
        self._messages.show((*self.judgement.faults, *money_faults), focused, holding)
        pieces.quote.compare(self.judgement.visit)
        pieces.people.sum_up()
        self._show_heading(document)
        self.refresh_margin()

    def _show_heading(self, document: dict[str, Any]) -> None:
        where, who, when = heading_of(document)
        self.set_heading(where or _("New visit"), who, when)

    def refresh_margin(self) -> None:
        """Show in the margin what belongs to the field in focus."""
        if self._margin is not None and self.judgement is not None:
            self._margin.show_facts(margin_facts(self, self.judgement, self._past))
            if self._margin.parentWidget() is not None:  # alone it would be a window
                self._margin.show()

    def sign_off(self) -> None:
        """Seal the visit, or show what is still open and go there."""
        self._judge_soon.stop()
        self.judge()
        holding = [one for one in self._left if one.holds_up]
        if not holding:
            self.signing.begin(self.document(), self.pieces.quote.number)
            return
        text = _n(
            "Not signed off: {count} thing is still open. First: {first}.",
            "Not signed off: {count} things are still open. First: {first}.",
            len(holding),
            first=holding[0].text,
        )
        self.refuse(holding, text)

    def locate(self, path: str) -> Field | None:
        """Return the field of a path of the document, the nearest one where it has none of its own."""
        return self.pieces.locate(path)

    def ends_with(self, widget: QWidget | None) -> bool:
        """Tell whether what comes after the section of a control is still to be made."""
        return self.pieces.ends_with(widget)

    def margin_widgets(self) -> Sequence[QWidget]:
        """The margin, made once for each time it is asked for."""
        self._margin = VisitMargin(self.go_to_left, partial(show_of_quantity, self))
        if self.judgement is None:
            self._margin.hide()  # it says nothing before the judgement is made
        self.refresh_margin()
        return (self._margin,)

    def commands(self) -> tuple[Command, ...]:
        """The actions of a visit."""
        return self._commands

    def first_focus(self) -> QWidget | None:
        """Where the cursor was; in a new visit the first thing to type."""
        if (found := self._where_it_was()) is not None:
            unfold(found)
            return found.control()
        if self._at:
            self.go_when_made(self._where_it_was)
            return self
        if not self.pieces.people.known:
            return self.pieces.people.address.control()
        return self.pieces.arrival.purpose.control()

    def _where_it_was(self) -> Field | None:
        """Return the field the cursor was in, once; None while that is still to be made."""
        found = self.pieces.field_here(self._at) if self._at else None
        if found is not None or self.whole:
            self._at = ""
        return found

    def showEvent(self, event: QShowEvent) -> None:
        """Bring the cursor into view once the page is laid out."""
        super().showEvent(event)
        QTimer.singleShot(0, self, self._show_cursor)

    def leaving(self) -> bool:
        """Keep what is typed; a sign-off that has begun is waited for."""
        self.signing.wait()
        kept = self.keeper.keep()
        if not self.keeper.stopped and (self._took_up or self._steps.can_undo):
            self._take_up_steps()
            self._steps.keep()
        return kept

    def _connect(self) -> None:
        self.typing.ear.later.done.connect(self._on_whole)
        self.pieces.people.premises_picked.connect(self._on_premises_picked)
        # What is opened, added or said above the cursor moves it; the new height comes a few events later.
        self.scroll_area.verticalScrollBar().rangeChanged.connect(self._show_cursor)
        for number in range(2, MOST_LEFT + 1):
            jump = QShortcut(sequence(f"Ctrl+{number}"), self)
            jump.activated.connect(lambda n=number: self._go_to_number(n))
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._on_focus_changed)

    def catch_up(self) -> None:
        """Judge now what waits to be judged, so that nothing is told of fields that are gone."""
        if self._judge_soon.isActive() or not self.whole:
            self.complete()
            self._judge_soon.stop()
            self.judge_typed()

    def _go_to_number(self, number: int) -> None:
        self.catch_up()
        for left in self._left[number - 1 : number]:
            self.go_to_left(left)

    def keep_draft(self) -> None:
        """Write the visit, and the quote its lines came from, into the book."""
        quote_number = self.pieces.quote.number
        begun = [work.begun_slips() for work in self.works]
        at = self.cursor_at()
        drafting.keep(self.desk.book, self.document(), at=at, quote_number=quote_number, begun=begun)

    def cursor_at(self) -> str:
        """Return the name of the field the cursor is in, or goes to as soon as it is made; "" for none."""
        return self._at if self._at and self.hasFocus() else super().cursor_at()

    def _in_order(self, left: Sequence[Left]) -> list[Left]:
        fields = [field for part in self.parts for field in part.fields()]
        places = {id(field): n for n, field in enumerate(fields)}
        return sorted(left, key=lambda one: places.get(id(one.field), len(fields)))

    def _look_back(self, document: dict[str, Any]) -> None:
        plates = [work.get("appliance", {}) for work in document["works"]]
        keys = ("serial", "kind", "location", "fuel")
        told = (document["premises"], document.get("date"), [[p.get(k) for k in keys] for p in plates])
        if (now := repr(told)) != self._past_of:
            self._past, self._past_of = drafting.look_back(self.desk.book, document), now
            self.pieces.quote.look_up(document)

    def _show_state(self, state: dict[str, Any], field: str) -> None:
        """Show an earlier state or a later one again, with the cursor where it was changed."""
        self.complete()
        self._ready = False
        self.pieces.show_state(state)
        self._ready = True
        self._on_grown()
        self.keeper.touch()
        self.judge()
        self._steps.settle()
        walking.go_back_to(self, self.pieces.field(field), self.scroll_area)

    def _on_whole(self) -> None:
        self._judge_soon.start()  # not in the turn that made the last of it

    def _take_up_steps(self) -> None:
        """Go on with the steps kept when the leaf was closed, once the leaf is whole and judged."""
        if not self._took_up:
            self._took_up = True
            self.judge()
            if self._steps.can_undo:
                self._steps.go_on()
            else:
                self._steps.begin_again()

    def judge_typed(self) -> None:
        """Judge what is typed, once the leaf is whole."""
        if self._later.busy:  # it is judged once it is whole
            self._steps.settle()
            return
        if self._took_up:
            self.judge()
        else:
            self._take_up_steps()
        self._steps.settle()  # what the judgement filled in belongs to what was typed
        self.grown_whole()

    def _on_premises_picked(self, premises_id: int) -> None:
        begun = drafting.begin(
            self.desk.book, today=self.desk.today(), purpose=self.pieces.purpose, premises_id=premises_id
        )
        self._steps.part()
        self.show_document({**self.document(), **{k: begun[k] for k in ("customer", "premises", "works")}})
        self._steps.note(self.pieces.people.address.objectName())
        self.typing.ear.typed.emit()
        walking.go_to(self.pieces.arrival.purpose, self.scroll_area)

    def _show_cursor(self) -> None:
        if (now := QApplication.focusWidget()) is not None and self.isAncestorOf(now):
            walking.show_around(now, self.scroll_area)

    def _on_focus_changed(self, _old: QWidget | None, now: QWidget | None) -> None:
        if now is not None and self.isAncestorOf(now):
            walking.show_around(now, self.scroll_area)
            self.refresh_margin()
