"""Tonight: what is unfinished, what falls due, who owes, and what was issued last."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date, weekday_date
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.lists import (
    DRAFT_COLUMNS,
    DUE_COLUMNS,
    PAPER_COLUMNS,
    PAYMENT_KEY,
    READY,
    add_list,
    draft_rows,
    due_rows,
    paper_rows,
)
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.rows_table_model import Column, Row
from flueleaf.operations import pages
from flueleaf.operations.changes import Topic
from flueleaf.operations.pages import OwingRow, TonightPage

OWING_COLUMNS = (
    Column("due", "date"),
    Column("customer", stretch=True),
    Column("invoice", "soft"),
    Column("overdue", "soft"),
    Column("owing", "figure"),
)


class TonightLeaf(Leaf):
    """The opening leaf."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._page_shown = TonightPage(desk.today())
        self.watch(Topic.DRAFTS, Topic.VISITS, Topic.DUE, Topic.MONEY, Topic.PAPERS, Topic.REGISTER)
        self.fill()

    def fill(self) -> None:
        """Four lists, the unfinished first; nothing to do is said, not left blank."""
        page = self._page_shown = pages.tonight(self.desk.book, self.desk.today())
        self.set_heading("Tonight", weekday_date(page.today))
        done = "Nothing is left unfinished."
        section = add_list(self, "unfinished", DRAFT_COLUMNS, draft_rows(page.drafts), empty=done)
        section.add_buttons(
            button("New visit", "tonight.new_visit", self._new_visit, primary=not page.drafts)
        )
        add_list(
            self,
            "due soon",
            DUE_COLUMNS,
            due_rows(page.due, page.today, where=True),
            empty="Nothing falls due soon.",
        )
        self._add_owing(page)
        add_list(self, "papers issued last", PAPER_COLUMNS, paper_rows(page.papers, where=True))

    def margin_widgets(self) -> Sequence[QWidget]:
        """What is missing from each unfinished visit."""
        left = [
            MarginSection(draft.title, draft.missing or (READY[draft.kind],))
            for draft in self._page_shown.drafts
        ]
        return left or [MarginSection("tonight", ("No visit waits to be finished.",))]

    def commands(self) -> tuple[Command, ...]:
        """What may be done with who owes."""
        return (Command("Note a payment", (PAYMENT_KEY,), self._note_payment),)

    def _add_owing(self, page: TonightPage) -> None:
        rows = [_owing_row(row) for row in page.owing]
        section = add_list(self, "who owes", OWING_COLUMNS, rows, empty="Every invoice is paid.")
        if rows:
            section.add_buttons(button("Note a payment", "tonight.payment", self._note_payment))

    def _note_payment(self) -> None:
        """For the invoice one stood on last; the first one where one has not been there."""
        panel = self.findChild(RowsPanel, f"{self.objectName()}.who_owes")
        place = panel.chosen() if panel is not None else None
        if place is None:
            self.said.emit("Nobody owes anything.")
        else:
            self.place_wanted.emit(Place("payment", place.key))

    def _new_visit(self) -> None:
        self.place_wanted.emit(Place("visit"))


def _owing_row(row: OwingRow) -> Row:
    late = f"{row.overdue_days} days late" if row.overdue_days > 0 else ""
    return Row((long_date(row.due), row.customer, row.number, late, row.owing), Place("paper", row.number))


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf."""
    return TonightLeaf(desk, place)
