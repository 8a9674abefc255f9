"""Premises: whose they are, what stands there, and everything that happened there."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.lists import (
    DRAFT_COLUMNS,
    DUE_COLUMNS,
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
from flueleaf.operations import pages
from flueleaf.operations.changes import Topic
from flueleaf.operations.pages import ApplianceRow, PremisesPage

APPLIANCE_COLUMNS = (
    Column("appliance", stretch=True),
    Column("where", "soft"),
    Column("next due", "date"),
    Column("last verdict", "verdict"),
)


class PremisesLeaf(Leaf):
    """One address."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._shown = pages.premises_page(desk.book, int(place.key))
        self.watch(Topic.REGISTER, Topic.VISITS, Topic.DRAFTS, Topic.PAPERS, Topic.DUE)
        self.fill()

    def fill(self) -> None:
        """Facts, appliances, unfinished and finished visits, papers."""
        page = self._shown = pages.premises_page(self.desk.book, int(self.place.key))
        self.set_heading(address_line(page), f"{page.customer.name} · {page.customer.kind}")
        self._add_people(page)
        appliances = [_appliance_row(row) for row in page.appliances]
        section = add_list(self, "appliances", APPLIANCE_COLUMNS, appliances)
        section.add_buttons(
            button("New visit", "premises.new_visit", self._new_visit, primary=True),
            button("New appliance", "premises.new_appliance", self._new_appliance),
        )
        if page.drafts:
            add_list(self, "unfinished", DRAFT_COLUMNS, draft_rows(page.drafts))
        add_list(self, "due", DUE_COLUMNS, due_rows(page.due, self.desk.today()), empty="Nothing is due.")
        add_list(self, "visits", VISIT_COLUMNS, visit_rows(page.visits))
        add_list(self, "papers", PAPER_COLUMNS, paper_rows(page.papers))

    def margin_widgets(self) -> Sequence[QWidget]:
        """How to reach the customer, and what comes next."""
        customer = self._shown.customer
        reach = [part for part in (customer.telephone, customer.email) if part]
        blocks = [MarginSection("reaching them", reach or ("no telephone or mail noted",))]
        if self._shown.due:
            first = min(self._shown.due, key=lambda due: due.date)
            blocks.append(MarginSection("next", (f"{first.what}, {long_date(first.date)}", first.why)))
        return blocks

    def premises_key(self) -> str:
        """These premises."""
        return self.place.key

    def commands(self) -> tuple[Command, ...]:
        """Going on from here."""
        return (
            Command("New appliance here", ("Ctrl+Shift+A",), self._new_appliance),
            Command("Edit premises", ("Ctrl+E",), self._edit),
            Command("Edit customer", ("Ctrl+Shift+E",), self._edit_customer),
        )

    def _add_people(self, page: PremisesPage) -> None:
        section = self.add_section(Section("who and where"))
        section.add_fact("address", "\n".join([*page.premises.address, page.premises.postcode]).strip())
        section.add_fact("customer", page.customer.name)
        if page.premises.responsible:
            section.add_fact("lets you in", page.premises.responsible)
        section.add_buttons(
            button("Edit premises", "premises.edit", self._edit),
            button("Edit customer", "premises.edit_customer", self._edit_customer),
        )

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


def _appliance_row(row: ApplianceRow) -> Row:
    appliance = row.appliance
    name = f"{appliance.make} {appliance.model}".strip()
    shown = " · ".join(part for part in (name, appliance.kind) if part)
    due = long_date(row.next_due) if row.next_due else ""
    cells = (shown, appliance.location, due, row.last_verdict)
    return Row(cells, Place("appliance", str(appliance.id)))


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of the premises with the id ``place.key``."""
    return PremisesLeaf(desk, place)
