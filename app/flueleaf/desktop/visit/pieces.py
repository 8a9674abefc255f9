"""The sections of a visit that is being typed, and the one document they make together."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.visit.arrival_part import ArrivalPart
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.form import digits
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.people_part import PeoplePart
from flueleaf.desktop.visit.premises_shared import share
from flueleaf.desktop.visit.quote_panel import QuotePanel
from flueleaf.desktop.visit.sign_off_part import SignOffPart, records_for, signing_of
from flueleaf.desktop.visit.work_panel import WorkPanel, parts_of
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.visits import PURPOSES, Purpose
from flueleaf.operations.intake.documents import line_document
from flueleaf.operations.pages import RegisterPage

LINES_AT_ONCE = 2


class VisitPieces:
    """Where and for whom, when, the works, the lines, the sign-off."""

    def __init__(
        self,
        typing: Typing,
        known: RegisterPage,
        business: Business,
        *,
        place: Callable[[QWidget], object],
        sign_off: Callable[[], None],
    ) -> None:
        """Make the first sections, empty; work lines and sign-off come after what is filled in above them.

        Args:
            typing: the desk and the ear.
            known: what is offered while typing.
            business: whose visit it is.
            place: puts a section on the page, under the earlier ones.
            sign_off: what the button of the last section does.
        """
        self._typing = typing
        self._known = known
        self._business = business
        self._place = place
        self._sign_off = sign_off
        self._visit_id = ""
        self.people = PeoplePart(typing, known.customers)
        self.arrival = ArrivalPart(typing)
        self.works: list[WorkPanel] = []
        self._holder = QWidget()
        self.quote = QuotePanel(typing, self.bring_in, self.leave_quote)
        self._lines: LinesPart | None = None
        self._lines_begun: LinesPart | None = None  # not on the page yet
        self._signing_off: SignOffPart | None = None
        self._asks_record = False
        self._tail: dict[str, Any] = {}  # what lines and sign-off are filled in with, once they are made
        self._column = QVBoxLayout(self._holder)
        self._column.setContentsMargins(0, 0, 0, 0)
        set_gap(self._column, 8)
        for widget in (self.people, self.arrival, self._holder):
            place(widget)

    @property
    def lines(self) -> LinesPart:
        """The work lines; asked for, they are made."""
        while self._lines is None:
            self._make_lines()
        return self._lines

    @property
    def signing_off(self) -> SignOffPart:
        """The end of the visit; asked for, it is made."""
        if self._signing_off is None:
            while self._lines is None:
                self._make_lines()
            made = SignOffPart(self._typing, self._sign_off)
            made.fill(self._tail)
            if self._asks_record:
                made.want_record(self.purpose)
            made.set_purpose(self.purpose)
            self._signing_off = made
            self._place(made)
            self._typing.ear.grown.emit()
        return self._signing_off

    @property
    def widgets(self) -> tuple[QWidget, ...]:
        """What stands on the page by now, from top to bottom."""
        tail = (part for part in (self._lines, self._signing_off) if part is not None)
        return (self.people, self.arrival, self._holder, *tail)

    @property
    def parts(self) -> list[Part]:
        """The sections there are by now, from top to bottom."""
        tail = (part for part in (self._lines, self._signing_off) if part is not None)
        return [self.people, self.arrival, *parts_of(self.works), *tail]

    @property
    def purpose(self) -> Purpose:
        """The purpose chosen, service while there is none."""
        text = self.arrival.purpose.text()
        return next((purpose for purpose in PURPOSES if purpose == text), "service")

    def document(self) -> dict[str, Any]:
        """Return the visit as typed, in the shape of the contract's evening."""
        lines = self._lines.read() if self._lines is not None else digits(self._tail.get("lines", []))
        return {
            "visit_id": self._visit_id,
            **self.arrival.read(),
            **self.people.read(),
            "works": [work.read() for work in self.works],
            **({"lines": lines} if lines else {}),
            **(self._signing_off.read() if self._signing_off is not None else self._signing_coming()),
        }

    def _signing_coming(self) -> dict[str, Any]:
        """Return what the sign-off will read once it is made."""
        asked = {"papers": records_for(self.purpose)} if self._asks_record else {}
        return signing_of({**self._tail, **asked})

    def show_document(self, document: dict[str, Any], *, new: bool) -> None:
        """Show a visit; a new one asks for its record by itself."""
        self._visit_id = str(document["visit_id"])
        self.people.fill(document)
        self.arrival.fill(document)
        self.show_works(document.get("works") or [{}])
        self._fill_tail(document, new=new)

    def _fill_tail(self, document: Mapping[str, Any], *, new: bool = False) -> None:
        """Fill lines and sign-off, those that are not there yet when they are made."""
        if self._lines is not None:
            self._lines.fill(document.get("lines", ()))
        if self._signing_off is not None:
            self._signing_off.fill(document)
            if new:
                self._signing_off.want_record(self.purpose)
        self._asks_record = new
        self._tail = {key: document[key] for key in ("lines", "papers", "sign_off") if key in document}
        if self._signing_off is None:
            self._typing.ear.later.put(self, [self._make_lines, self._make_sign_off])

    def _make_lines(self) -> bool:
        """Make the next few work lines; with the last of them the section takes its place."""
        if self._lines is not None:
            return False
        lines = self._tail.get("lines", ())
        begun = self._lines_begun or LinesPart(self._typing, self._business, above=self.quote)
        self._lines_begun = begun
        shown = min(len(begun.charged.rows) - 1 + LINES_AT_ONCE, len(lines))
        begun.fill(lines[:shown])
        if shown < len(lines):
            return True
        self._lines, self._lines_begun = begun, None
        self._place(begun)
        self._typing.ear.grown.emit()
        return False

    def _make_sign_off(self) -> bool:
        return self.signing_off is None

    def state(self) -> dict[str, Any]:
        """Return everything that can be taken back: the document, slips begun but empty, and the quote."""
        document = self.document()
        for work, panel in zip(document["works"], self.works, strict=True):
            if panel.combustion is not None and (columns := panel.combustion.slips.columns):
                work["slips"] = [column.read() for column in columns]
        return {"document": document, "quote": self.quote.number}

    def show_state(self, state: Mapping[str, Any]) -> None:
        """Show an earlier state, in the fields there are as far as they fit it."""
        document = state["document"]
        self.people.refill(document)
        self.arrival.fill(document)
        self.refill_works(document["works"])
        self._fill_tail(document)
        self.quote.set_number(str(state["quote"]))

    def refill_works(self, works: Sequence[dict[str, Any]]) -> None:
        """Show these works in the panels of those there are; panels are added or taken away as needed."""
        for panel, work in zip(self.works, works, strict=False):
            panel.refill(work, self.purpose)
        while len(self.works) > len(works):
            self._take_away(self.works.pop())
        for work in works[len(self.works) :]:
            self._add_work(work)
        self.share()

    def field(self, name: str) -> Field | None:
        """Return a field by its name; one that is folded away or still to come is made."""
        later = self._typing.ear.later
        while (found := self.field_here(name)) is None and later.busy:
            later.step()
        return found

    def field_here(self, name: str) -> Field | None:
        """Return a field by its name, None while it is still to come; one that is folded away is made."""
        if name.startswith(("premises.", "customer.")):
            self.people.fold.build()
        self._make(name)
        return self._found(name)

    def _make(self, name: str) -> None:
        """Make a field of a work by its name, where what it stands in is there."""
        head, _, rest = name.partition(".")
        number, _, rest = rest.partition(".")
        if head == "works" and number.isdigit() and int(number) < len(self.works):
            self.works[int(number)].make(rest)

    def _found(self, name: str) -> Field | None:
        found = (widget.findChild(Field, name) for widget in self.widgets)
        return next((one for one in found if one is not None), None)

    def show_works(self, works: Sequence[dict[str, Any]]) -> None:
        """Show these works in place of those there are."""
        while self.works:
            self._take_away(self.works.pop())
        for work in works:
            self._add_work(work)
        self.share()

    def ends_with(self, widget: QWidget | None) -> bool:
        """Tell whether what comes after the section of a control is still to be made."""
        parts = self.parts
        here = next((part for part in parts if widget is not None and part.isAncestorOf(widget)), None)
        if here is None:
            return False
        ends_work = any(work.waits and work.parts[-1] is here for work in self.works)
        return ends_work or here is parts[-1] or parts[parts.index(here) + 1].waits

    def share(self) -> None:
        """Let what belongs to the premises be answered once."""
        share(self.works)

    def follow_purpose(self) -> None:
        """Show the stages and papers of the purpose chosen."""
        if self._signing_off is not None:
            self._signing_off.set_purpose(self.purpose)
        for work in self.works:
            work.set_purpose(self.purpose)

    def bring_in(self, quote: Any) -> None:
        """Put a quote's lines before those typed; the invoice that is asked for with it will name it."""
        self.lines.fill([*(line_document(line) for line in quote.lines), *self.lines.read()])
        self.signing_off.want("invoice", anyway=True)
        self._take_quote(quote.number)

    def leave_quote(self) -> None:
        """Forget which quote the lines came from; the lines stay."""
        self._take_quote("")

    def _add_work(self, work: Mapping[str, Any]) -> None:
        panel = WorkPanel(self._typing, len(self.works), self._known)
        panel.built.connect(self.share)
        self.works.append(panel)
        panel.fill(work, self.purpose)
        self._column.addWidget(panel)

    def _take_away(self, panel: WorkPanel) -> None:
        panel.hide()
        self._column.removeWidget(panel)
        panel.setParent(None)  # at once, so that nobody finds it by its name any more
        panel.deleteLater()

    def _take_quote(self, number: str) -> None:
        self._typing.ear.left.emit()  # a step of its own, whatever was typed before it
        self.quote.set_number(number)
        self._typing.ear.grown.emit()
        self._typing.ear.typed.emit()
        self.lines.charged.rows[-1].form.fields[0].setFocus()

    def locate(self, path: str) -> Field | None:
        """Return the field of a path of the document, the nearest one where it has none of its own."""
        if path.startswith("works["):
            number, _, rest = path.removeprefix("works[").partition("]")
            return self.works[int(number)].locate(rest.lstrip(".")) if int(number) < len(self.works) else None
        for part in (self.people, self.arrival, self.lines, self.signing_off):
            if (found := part.locate(path)) is not None:
                return found
        return None
