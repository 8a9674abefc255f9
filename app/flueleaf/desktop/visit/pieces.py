"""The sections of a visit that is being typed, and the one document they make together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.theme import current
from flueleaf.desktop.visit.arrival_part import ArrivalPart
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.people_part import PeoplePart
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
        column = QVBoxLayout(self._holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(current().space(8))

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

    def show_works(self, works: Sequence[dict[str, Any]]) -> None:
        """Show these works in place of those there are."""
        column = self._holder.layout()
        assert column is not None
        for old in self.works:
            old.hide()
            column.removeWidget(old)
            old.setParent(None)  # at once, so that nobody finds it by its name any more
            old.deleteLater()
        self.works = [WorkPanel(self._typing, n, self._known) for n in range(len(works))]
        for panel, work in zip(self.works, works, strict=True):
            panel.fill(work, self.purpose)
            column.addWidget(panel)

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

    def _take_quote(self, number: str) -> None:
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
