"""The first leaf of an empty book: what it needs to know before its first paper, each a step away."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton

from flueleaf.desktop.buttons import button
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.section import Section
from flueleaf.operations import book as books
from flueleaf.operations import register
from flueleaf.operations.changes import Topic

EMPTY = "still empty"
LEAD = "Two things your papers and readings need, then the first visit."
WHO = "Your name, address, VAT and bank stand on each paper; without a name none can be sealed."
WITH_WHAT = "Its tolerance decides how near to a limit a reading may come; its certificate has a last day."
VISIT = "Customer, premises and appliance are typed in the visit itself; the book knows them from then on."
DEMO = "To look round first, close this and start flueleaf --demo: a copy with some years of invented visits."


class FirstLeaf(Leaf):
    """Shown at opening until the business has a name."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self.watch(Topic.BUSINESS, Topic.REGISTER)
        self.fill()

    def fill(self) -> None:
        """Each step with what is known of it; the one to take next is the primary one."""
        named = books.business(self.desk.book).name.strip()
        analysers = ", ".join(one.name for one in register.choices(self.desk.book).instruments)
        self.set_heading("A new book", LEAD)
        to_name = button("Your business", "first.business_form", self._to_business, primary=not named)
        to_analyser = button(
            "New analyser", "first.instrument_form", self._to_analyser, primary=bool(named) and not analysers
        )
        to_visit = button("New visit", "first.visit", self._to_visit, primary=bool(named and analysers))
        self._add_step(Section("who you are and how you charge", named or EMPTY), WHO, to_name)
        self._add_step(Section("which analyser", analysers or EMPTY), WITH_WHAT, to_analyser)
        self._add_step(Section("the first visit"), VISIT, to_visit)
        self.add_section(Section("looking round")).set_caution(DEMO)

    def _add_step(self, section: Section, why: str, step: QPushButton) -> None:
        self.add_section(section).set_caution(why)
        section.add_buttons(step)

    def _to_business(self) -> None:
        self.place_wanted.emit(Place("business_form", "own"))

    def _to_analyser(self) -> None:
        self.place_wanted.emit(Place("instrument_form"))

    def _to_visit(self) -> None:
        self.place_wanted.emit(Place("visit"))


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf."""
    return FirstLeaf(desk, place)
