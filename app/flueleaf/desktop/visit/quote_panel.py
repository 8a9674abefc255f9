"""The open quotes for the premises of a visit, and the one its lines were brought in from."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.fields.dates import long_date, until_words
from flueleaf.desktop.flow_layout import FlowLayout
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.words import _
from flueleaf.domain.records.visits import Visit
from flueleaf.operations import quoting

MOST_OFFERED = 3  # more open quotes for one address are an oversight; the premises leaf lists them all

Quote = Any  # as the operations hand it over


class QuotePanel(QWidget):
    """Hidden while there is no open quote; ``number`` is that of the one brought in, "" for none."""

    def __init__(self, typing: Typing, bring_in: Callable[[Quote], None], leave: Callable[[], None]) -> None:
        """Make it, hidden.

        Args:
            typing: the desk and the ear.
            bring_in: puts a quote's lines into the visit.
            leave: takes the quote off the visit again; the lines stay.
        """
        super().__init__()
        self._typing = typing
        self._bring_in = bring_in
        self.number = ""
        self._open: tuple[Quote, ...] = ()
        self.said = label("", wrap=True)
        self.said.setObjectName("quote.said")
        self.note = label("", tone="strong", wrap=True)
        self.note.setObjectName("quote.note")
        self.offers = [
            button(_("Bring in the quote"), f"quote.bring_in.{n}", partial(self._bring, n))
            for n in range(MOST_OFFERED)
        ]
        self.leave = button(_("Leave the quote out"), "quote.leave", leave)
        bar = QWidget()
        flow = FlowLayout(bar, gap_steps=2)
        for one in self.buttons:
            flow.addWidget(one)
        column = QVBoxLayout(self)
        set_margins(column, 0, 0, 0, 2)
        set_gap(column, 1.5)
        for part in (self.said, self.note, bar):
            column.addWidget(part)
        self._show()

    @property
    def buttons(self) -> Sequence[QPushButton]:
        """Its buttons, in the order of the keyboard."""
        return (*self.offers, self.leave)

    @property
    def newest(self) -> Quote | None:
        """The newest open quote for these premises."""
        return self._open[0] if self._open else None

    @property
    def problem(self) -> str:
        """Why the quote brought in cannot become this visit's invoice, "" if it can."""
        if not self.number or self._brought() is not None:
            return ""
        return _("quote {number} is not open for these premises", number=self.number)

    def look_up(self, document: Mapping[str, Any]) -> None:
        """Show the quotes that are open for the premises of a visit."""
        self._open = quoting.open_quotes(self._typing.desk.book, document)
        self._show()

    def set_number(self, number: str) -> None:
        """Note which quote the lines came from."""
        self.number = number
        self._show()

    def compare(self, visit: Visit) -> None:
        """Say plainly where the invoice will not be the quote."""
        quote = self._brought()
        notes = []
        if quote is not None and visit.lines != quote.lines:
            notes.append(_("The lines differ from the quote, and so will the invoice."))
        if quote is not None and "invoice" not in visit.papers:
            notes.append(_("No invoice is asked for below, so the quote stays open."))
        if self.problem:
            notes.append(_("It was invoiced already, or is for another address. Leave it out to sign off."))
        self.note.setText(" ".join(notes))
        self.note.setVisible(bool(notes))

    def _bring(self, number: int) -> None:
        self._bring_in(self._open[number])

    def _brought(self) -> Quote | None:
        return next((quote for quote in self._open if quote.number == self.number), None)

    def _show(self) -> None:
        quote, today = self._brought(), self._typing.desk.today()
        offered = () if self.number else self._open[:MOST_OFFERED]
        for n, offer in enumerate(self.offers):
            offer.setVisible(n < len(offered))
            if n < len(offered):
                offer.setText(_("Bring in quote {number}", number=offered[n].number))
                offer.setAccessibleName(offer.text())
        self.leave.setVisible(bool(self.number))
        if quote is not None:
            self.said.setText(_("from quote {quote}", quote=said_of(quote, today)))
        elif self.number:
            self.said.setText(_("from quote {number}", number=self.number))
        else:
            told = "\n".join(said_of(one, today) for one in offered)
            self.said.setText(
                _("quoted for these premises: {told}", told=told) if len(offered) == 1 else told
            )
        self.note.setVisible(bool(self.number) and bool(self.note.text()))
        self.setVisible(bool(self.number or offered))


def said_of(quote: Quote, today: dt.date) -> str:
    """Return a quote in a line: number, day, sum, last day."""
    about = {"number": quote.number, "day": long_date(quote.date), "sum": quote.total.with_sign()}
    if quote.valid_until is None:
        return _("{number} of {day}, {sum}", **about)
    return _("{number} of {day}, {sum}, {until}", until=until_words(quote.valid_until, today), **about)
