"""The sections of a visit that is being typed, and the one document they make together."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.theme import current
from flueleaf.desktop.visit.arrival_part import ArrivalPart
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.people_part import PeoplePart
from flueleaf.desktop.visit.premises_shared import share
from flueleaf.desktop.visit.quote_panel import QuotePanel
from flueleaf.desktop.visit.sign_off_part import SignOffPart
from flueleaf.desktop.visit.work_panel import WorkPanel, parts_of
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.visits import PURPOSES, Purpose
from flueleaf.operations.intake.documents import line_document
from flueleaf.operations.pages import RegisterPage


class VisitPieces:
    """Where and for whom, when, the works, the lines, the sign-off."""

    def __init__(
        self, typing: Typing, known: RegisterPage, business: Business, sign_off: Callable[[], None]
    ) -> None:
        """Make the sections, empty.

        Args:
            typing: the desk and the ear.
            known: what is offered while typing.
            business: whose visit it is.
            sign_off: what the button of the last section does.
        """
        self._typing = typing
        self._known = known
        self._visit_id = ""
        self.people = PeoplePart(typing, known.customers)
        self.arrival = ArrivalPart(typing)
        self.works: list[WorkPanel] = []
        self._holder = QWidget()
        self.quote = QuotePanel(typing, self.bring_in, self.leave_quote)
        self.lines = LinesPart(typing, business, above=self.quote)
        self.signing_off = SignOffPart(typing, sign_off)
        self._column = QVBoxLayout(self._holder)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(current().space(8))

    @property
    def widgets(self) -> tuple[QWidget, ...]:
        """What stands on the page, from top to bottom."""
        return (self.people, self.arrival, self._holder, self.lines, self.signing_off)

    @property
    def parts(self) -> list[Part]:
        """The sections, from top to bottom."""
        return [self.people, self.arrival, *parts_of(self.works), self.lines, self.signing_off]

    @property
    def purpose(self) -> Purpose:
        """The purpose chosen, service while there is none."""
        text = self.arrival.purpose.text()
        return next((purpose for purpose in PURPOSES if purpose == text), "service")

    def document(self) -> dict[str, Any]:
        """Return the visit as typed, in the shape of the contract's evening."""
        lines = self.lines.read()
        return {
            "visit_id": self._visit_id,
            **self.arrival.read(),
            **self.people.read(),
            "works": [work.read() for work in self.works],
            **({"lines": lines} if lines else {}),
            **self.signing_off.read(),
        }

    def show_document(self, document: dict[str, Any], *, new: bool) -> None:
        """Show a visit; a new one asks for its record by itself."""
        self._visit_id = str(document["visit_id"])
        self.people.fill(document)
        self.arrival.fill(document)
        self.show_works(document.get("works") or [{}])
        self.lines.fill(document.get("lines", ()))
        self.signing_off.fill(document)
        if new:
            self.signing_off.want_record(self.purpose)

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
        self.lines.fill(document.get("lines", ()))
        self.signing_off.fill(document)
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
        """Return a field by its name; one that is folded away is made."""
        head, _, rest = name.partition(".")
        if head in ("premises", "customer"):
            self.people.fold.build()
        elif head == "works":
            number, _, rest = rest.partition(".")
            if number.isdigit() and int(number) < len(self.works):
                self.works[int(number)].make(rest)
        found = (widget.findChild(Field, name) for widget in self.widgets)
        return next((one for one in found if one is not None), None)

    def show_works(self, works: Sequence[dict[str, Any]]) -> None:
        """Show these works in place of those there are."""
        while self.works:
            self._take_away(self.works.pop())
        for work in works:
            self._add_work(work)
        self.share()

    def share(self) -> None:
        """Let what belongs to the premises be answered once."""
        share(self.works)

    def follow_purpose(self) -> None:
        """Show the stages and papers of the purpose chosen."""
        self.signing_off.set_purpose(self.purpose)
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
