"""The leaf of a quote that is being typed."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.help.worked_out import worked_out_command
from flueleaf.desktop.place import Place
from flueleaf.desktop.quote.quote_left import left_of_quote
from flueleaf.desktop.quote.seal_part import SealPart
from flueleaf.desktop.sealing import Sealing
from flueleaf.desktop.visit import judging, walking
from flueleaf.desktop.visit.fold import unfold
from flueleaf.desktop.visit.heading import heading_of
from flueleaf.desktop.visit.history import History
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.people_part import PeoplePart
from flueleaf.desktop.visit.putting_away import put_away
from flueleaf.desktop.visit.typed_leaf import TypedLeaf
from flueleaf.desktop.visit.visit_margin import MarginFacts, VisitMargin
from flueleaf.desktop.words import _, _n
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.operations import book as books
from flueleaf.operations import explaining, quoting, register
from flueleaf.operations.explaining import Explanation

LINES_HINT = _("A line for each thing to be done or fitted. The next empty line comes by itself.")
CARE = (
    _("The customer holds you to the price and to what the lines say is included."),
    _("Once the work is done the quote becomes its invoice in one step."),
)


class TypedQuoteLeaf(TypedLeaf):
    """Everything typed is one document: read off the fields, judged at each key, kept in the book."""

    lasting = False  # listed as unfinished while it is a draft; sealed it is a paper

    def __init__(self, desk: Desk, place: Place, document: dict[str, Any], *, new: bool = False) -> None:
        """Make the leaf.

        Args:
            desk: what every leaf is given.
            place: with the id of the quote's draft.
            document: as begun or kept.
            new: nothing of it was typed yet.
        """
        super().__init__(desk, place)
        self.setObjectName("leaf.quote")
        self._business = books.business(desk.book)
        self._id = str(document["quote_id"])
        self._at = "" if new else quoting.left_at(desk.book, self._id)
        self.people = PeoplePart(self.typing, register.choices(desk.book).customers)
        self.lines = LinesPart(self.typing, self._business, hint=LINES_HINT)
        self.seal_part = SealPart(self.typing, self.seal)
        self._sealing = Sealing(self)
        self._sealing.sealed.connect(self._on_sealed)
        self._sealing.refused.connect(self._on_refused)
        self.people.premises_picked.connect(self._on_premises_picked)
        for part in self.parts:
            self._column.addWidget(part)
        self.show_document(document)
        self._steps = History(desk.book, self._id, self.document, self._show_state, self)
        self._steps.begin_again()
        self.undoing = self._steps

    @property
    def parts(self) -> list[Part]:
        """The sections, from top to bottom."""
        return [self.people, self.lines, self.seal_part]

    def document(self) -> dict[str, Any]:
        """Return the quote as typed."""
        return {"quote_id": self._id, **self.people.read(), "lines": self.lines.read()}

    def show_document(self, document: dict[str, Any]) -> None:
        """Show a quote."""
        self._ready = False
        self.people.fill(document)
        self.lines.fill(document.get("lines", ()))
        self._ready = True
        walking.set_tab_order(self.parts)
        self.judge()

    def judge(self) -> None:
        """Judge what is typed and show what follows from it."""
        document = self.document()
        judgement = quoting.judge(document, self._business, today=self.desk.today())
        self._left = left_of_quote(judgement, self._business, self.lines, self.locate)
        self.settle_refusal()
        self.lines.show_sum(judgement.tally)
        judging.show_states(self.parts, self._left)
        self._messages.show(judgement.faults, walking.field_of(QApplication.focusWidget()), self._left)
        self.people.sum_up()
        where, who, *__ = heading_of(document)
        self.set_heading(where or _("New quote"), who, _("quote"))
        self._refresh_margin()

    def seal(self) -> None:
        """Seal the quote, or show what is still open and go there."""
        self._judge_soon.stop()
        self.judge()
        if self._left:
            text = _n(
                "Not sealed: {count} thing is still open. First: {first}.",
                "Not sealed: {count} things are still open. First: {first}.",
                len(self._left),
                first=self._left[0].text,
            )
            self.refuse(self._left, text)
            return
        document, issued_at = self.document(), self.desk.now()
        self.keeper.keep()
        if self._sealing.begin(lambda book: quoting.seal(book, document, issued_at=issued_at)):
            self.keeper.stop()
            self.said.emit(_("Sealing …"))

    def margin_widgets(self) -> Sequence[QWidget]:
        """What is left before the quote can be sealed."""
        self._margin = VisitMargin(self.go_to_left)
        self._refresh_margin()
        return (self._margin,)

    def commands(self) -> tuple[Command, ...]:
        """The actions of a quote."""
        return (
            Command(_("Next section"), ("PgDown",), lambda: self._walk(walking.step(self.parts, 1))),
            Command(_("Section before"), ("PgUp",), lambda: self._walk(walking.step(self.parts, -1))),
            Command(_("To the work lines"), ("Ctrl+L",), lambda: self._walk(self.lines.charged.fields()[0])),
            Command(_("First thing left"), ("F8", "Ctrl+1"), self._go_to_first),
            Command(_("Seal the quote"), ("Ctrl+Return", "Ctrl+Enter"), self.seal),
            worked_out_command(self, self._explanations),
            Command(_("Put this draft away"), ("Ctrl+Shift+D",), self._put_away),
        )

    def _explanations(self) -> Sequence[Explanation]:
        judged = quoting.judge(self.document(), self._business, today=self.desk.today())
        return explaining.explain_sum(judged.lines, judged.tally) if judged.tally is not None else ()

    def premises_key(self) -> str:
        """The premises it was begun on."""
        return self.place.within

    def first_focus(self) -> QWidget | None:
        """Where the cursor was; in a new quote the first thing to type."""
        if (found := self._field(self._at)) is not None:
            self._at = ""
            unfold(found)
            return found.control()
        here = self.lines.charged.fields()[0] if self.people.known else self.people.address
        return here.control()

    def leaving(self) -> bool:
        """Keep what is typed; a sealing that has begun is waited for."""
        self._sealing.wait()
        kept = self.keeper.keep()
        if not self.keeper.stopped:
            self._steps.keep()
        return kept

    def _show_state(self, state: dict[str, Any], name: str) -> None:
        """Show an earlier state or a later one again, with the cursor where it was changed."""
        self._ready = False
        self.people.refill(state)
        self.lines.fill(state["lines"])
        self._ready = True
        self._on_grown()
        self.keeper.touch()
        self.judge()
        self._steps.settle()
        walking.go_back_to(self, self._field(name), self.scroll_area)

    def _field(self, name: str) -> Field | None:
        if name.startswith(("premises.", "customer.")):
            self.people.fold.build()
        return self._text.findChild(Field, name) if name else None

    def keep_draft(self) -> None:
        """Write the quote into the book."""
        quoting.keep(self.desk.book, self.document(), at=self.cursor_at())

    def locate(self, path: str) -> Field | None:
        """Return the field of a path of the document."""
        return self.people.locate(path) or self.lines.locate(path)

    def _refresh_margin(self) -> None:
        if self._margin is not None:
            self._margin.show_facts(
                MarginFacts(
                    notes=CARE, left=self._left, waits=_("left before sealing"), ready=_("ready to be sealed")
                )
            )

    def _walk(self, widget: QWidget | None) -> None:
        if widget is not None:
            walking.go_to(widget, self.scroll_area)

    def go_to_missing(self) -> None:
        """Go to the first field that sealing waits for."""
        self.go_to_first_missing()

    def _go_to_first(self) -> None:
        for left in self._left[:1]:
            self.go_to_left(left)

    def _put_away(self) -> None:
        """Put the draft away; the notice takes it back."""
        put_away(self, self.keeper, partial(quoting.put_away, self.desk.book, self._id))

    def _on_premises_picked(self, premises_id: int) -> None:
        begun = quoting.begin(self.desk.book, premises_id=premises_id)
        self._steps.part()
        self.show_document({**self.document(), **{key: begun[key] for key in ("customer", "premises")}})
        self._steps.note(self.people.address.objectName())
        self.keeper.touch()
        self._walk(self.lines.charged.fields()[0])

    def _on_sealed(self, sealed: quoting.SealedQuote) -> None:
        self.desk.hub.tell(sealed.changes)
        self.end(Place("paper", sealed.number))  # there is no way back to a draft that is sealed

    def _on_refused(self, problem: UserProblem) -> None:
        self.keeper.resume()
        if isinstance(problem, Refused):
            self.show_refused(problem.faults)
        self.said.emit(_("Not sealed. {problem}", problem=_(problem.text)))
