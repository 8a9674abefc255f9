"""Premises: whose they are, what stands there, and everything that happened there."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date, until_words
from flueleaf.desktop.help.worked_out import due_at_hand, worked_out_command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.lists import (
    DRAFT_COLUMNS,
    DUE_COLUMNS,
    INVOICE_KEY,
    PAPER_COLUMNS,
    VISIT_COLUMNS,
    add_list,
    draft_rows,
    due_rows,
    paper_rows,
    visit_rows,
)
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_table_model import Column, Row
from flueleaf.desktop.section import Section
from flueleaf.desktop.words import _
from flueleaf.operations import explaining, pages
from flueleaf.operations.changes import Topic
from flueleaf.operations.pages import ApplianceRow, PremisesPage, QuoteRow

APPLIANCE_COLUMNS = (
    Column(_("appliance"), stretch=True),
    Column(_("where"), "soft"),
    Column(_("next due"), "date"),
    Column(_("last verdict"), "verdict"),
)


QUOTE_COLUMNS = (
    Column(_("date"), "date"),
    Column(_("quote"), stretch=True),
    Column(_("holds"), "soft"),
    Column(_("total"), "figure"),
)
MOST_INVOICED = 6  # buttons; an older quote is invoiced from its own page


class PremisesLeaf(Leaf):
    """One address."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._shown = pages.premises_page(desk.book, int(place.key), desk.today())
        self.watch(Topic.REGISTER, Topic.VISITS, Topic.DRAFTS, Topic.PAPERS, Topic.DUE, Topic.MONEY)
        self.fill()

    def fill(self) -> None:
        """Facts, appliances, quotes, unfinished and finished visits, papers."""
        page = self._shown = pages.premises_page(self.desk.book, int(self.place.key), self.desk.today())
        self.set_heading(address_line(page), f"{page.customer.name} · {_(page.customer.kind)}")
        self._add_people(page)
        appliances = [_appliance_row(row) for row in page.appliances]
        section = add_list(self, "appliances", APPLIANCE_COLUMNS, appliances, title=_("appliances"))
        section.add_buttons(
            button(_("New visit"), "premises.new_visit", self._new_visit, primary=True),
            button(_("New quote"), "premises.new_quote", self._new_quote),
            button(_("New appliance"), "premises.new_appliance", self._new_appliance),
        )
        self._add_quotes(page)
        if page.drafts:
            add_list(self, "unfinished", DRAFT_COLUMNS, draft_rows(page.drafts), title=_("unfinished"))
        due = due_rows(page.due, self.desk.today())
        add_list(self, "due", DUE_COLUMNS, due, title=_("due"), empty=_("Nothing is due."))
        add_list(self, "visits", VISIT_COLUMNS, visit_rows(page.visits), title=_("visits"))
        add_list(self, "papers", PAPER_COLUMNS, paper_rows(page.papers), title=_("papers"))

    def margin_widgets(self) -> Sequence[QWidget]:
        """How to reach the customer, and what comes next."""
        customer = self._shown.customer
        reach = [part for part in (customer.telephone, customer.email) if part]
        blocks = [
            MarginSection(
                _("reaching them"), reach or (_("no telephone or mail noted"),), name="reaching_them"
            )
        ]
        if self._shown.due:
            first = min(self._shown.due, key=lambda due: due.date)
            blocks.append(
                MarginSection(
                    _("next"), (f"{_(first.what)}, {long_date(first.date)}", _(first.why)), name="next"
                )
            )
        return blocks

    def premises_key(self) -> str:
        """These premises."""
        return self.place.key

    def commands(self) -> tuple[Command, ...]:
        """Going on from here."""
        return (
            Command(_("New appliance here"), ("Ctrl+Shift+A",), self._new_appliance),
            Command(_("Work done: invoice the newest quote"), (INVOICE_KEY,), self._invoice_newest),
            Command(_("Edit premises"), ("Ctrl+E",), self._edit),
            Command(_("Edit customer"), ("Ctrl+Shift+E",), self._edit_customer),
            worked_out_command(
                self,
                lambda: [explaining.explain_due(row) for row in self._shown.due],
                lambda: due_at_hand(self, self._shown.due),
            ),
        )

    def _add_people(self, page: PremisesPage) -> None:
        section = self.add_section(Section(_("who and where"), name="who_and_where"))
        section.add_fact(_("address"), "\n".join([*page.premises.address, page.premises.postcode]).strip())
        section.add_fact(_("customer"), page.customer.name)
        if page.premises.responsible:
            section.add_fact(_("lets you in"), page.premises.responsible)
        section.add_buttons(
            button(_("Edit premises"), "premises.edit", self._edit),
            button(_("Edit customer"), "premises.edit_customer", self._edit_customer),
        )

    def _add_quotes(self, page: PremisesPage) -> None:
        """The quotes that are no invoice yet; each can be made one once the work is done."""
        if not page.quotes:
            return
        today = self.desk.today()
        rows = [quote_row(row, today) for row in page.quotes]
        section = add_list(self, "quotes", QUOTE_COLUMNS, rows, title=_("quotes"))
        section.add_buttons(
            *(
                button(
                    _("Work done: invoice {number}", number=row.number),
                    f"premises.invoice.{row.number}",
                    partial(self._invoice, row.number),
                )
                for row in page.quotes[:MOST_INVOICED]
            )
        )

    def _invoice(self, number: str) -> None:
        self.place_wanted.emit(Place("quote_invoice", number))

    def _invoice_newest(self) -> None:
        if self._shown.quotes:
            self._invoice(self._shown.quotes[0].number)
        else:
            self.said.emit(_("There is no open quote for these premises."))

    def _new_quote(self) -> None:
        self.place_wanted.emit(Place("quote", within=self.place.key))

    def _new_visit(self) -> None:
        self.place_wanted.emit(Place("visit", within=self.place.key))

    def _new_appliance(self) -> None:
        self.place_wanted.emit(Place("appliance_form", within=self.place.key))

    def _edit(self) -> None:
        self.place_wanted.emit(Place("premises_form", self.place.key))

    def _edit_customer(self) -> None:
        self.place_wanted.emit(Place("customer_form", str(self._shown.customer.id)))


def address_line(page: PremisesPage) -> str:
    """Return the address on one line, as a leaf's heading shows it."""
    return f"{', '.join(page.premises.address)} {page.premises.postcode}".strip()


def quote_row(row: QuoteRow, today: dt.date) -> Row:
    """Return an open quote as a row that opens its paper; one that ran out says so."""
    cells = (long_date(row.date), row.number, until_words(row.valid_until, today), row.total)
    return Row(cells, Place("paper", row.number))


def _appliance_row(row: ApplianceRow) -> Row:
    appliance = row.appliance
    name = f"{appliance.make} {appliance.model}".strip()
    shown = " · ".join(part for part in (name, _(appliance.kind)) if part)
    due = long_date(row.next_due) if row.next_due else ""
    cells = (shown, appliance.location, due, row.last_verdict)
    return Row(cells, Place("appliance", str(appliance.id)))


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of the premises with the id ``place.key``."""
    return PremisesLeaf(desk, place)
