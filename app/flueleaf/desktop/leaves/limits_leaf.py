"""Limits and fuels: every slot of the rule tables, whose figure it holds, and the owner's own fuels."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.fuel_words import PARTS
from flueleaf.desktop.leaves.lists import add_list
from flueleaf.desktop.leaves.slot_words import CAUTION, limit_words, status_words
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_table_model import Column, Row
from flueleaf.desktop.words import _, _n
from flueleaf.operations import owned
from flueleaf.operations.changes import Topic
from flueleaf.operations.owned import FuelRow, Slot

COLUMNS = (Column(_("what"), stretch=True), Column(_("limit"), "soft"), Column(_("how it stands"), "soft"))
FUEL_COLUMNS = (
    Column(_("fuel"), stretch=True),
    Column(_("made of"), "soft"),
    Column(_("how it stands"), "soft"),
)
MOST_PARTS = 3  # of a fuel, named in its row


class LimitsLeaf(Leaf):
    """A list for each table, those that judge first, and the owner's fuels."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._slots: tuple[Slot, ...] = ()
        self.watch(Topic.TABLES)
        self.fill()

    def fill(self) -> None:
        """The tables, then the fuels."""
        self._slots = owned.slots(self.desk.book, self.desk.today())
        self.set_heading(_("Limits and fuels"), _("what readings are judged by, and whose figure it is"))
        for name, slots in _by_table(self._slots).items():
            rows = [_row(slot) for slot in slots]
            add_list(self, name, COLUMNS, rows, title=_(slots[0].group).lower(), state=_state(slots))
        self._add_fuels()

    def margin_widgets(self) -> Sequence[QWidget]:
        """What an entry does, and how many slots wait for one."""
        empty = sum(1 for slot in self._slots if slot.rule.status == "empty" and not slot.rule.information)
        waiting = _n(
            "{count} empty slot judges nothing until you fill it.",
            "{count} empty slots judge nothing until you fill them.",
            empty,
        )
        lines = (CAUTION, waiting) if empty else (CAUTION,)
        return (MarginSection(_("what an entry does"), lines, name="what_an_entry_does"),)

    def commands(self) -> tuple[Command, ...]:
        """A fuel of one's own."""
        return (Command(_("New fuel"), ("Ctrl+Shift+A",), self._new_fuel),)

    def _add_fuels(self) -> None:
        rows = [_fuel_row(row) for row in owned.fuels(self.desk.book)]
        section = add_list(
            self,
            "own_fuels",
            FUEL_COLUMNS,
            rows,
            title=_("fuels of your own"),
            empty=_("None yet. The fuels that are shipped can always be chosen."),
        )
        section.add_buttons(button(_("New fuel"), "limits.new_fuel", partial(self._new_fuel)))

    def _new_fuel(self) -> None:
        self.place_wanted.emit(Place("fuel_form"))


def _by_table(slots: Sequence[Slot]) -> dict[str, list[Slot]]:
    """Return the slots by the key of their table, tables that can judge before those that only inform."""
    found: dict[str, list[Slot]] = {}
    for slot in sorted(slots, key=lambda slot: slot.rule.information):
        found.setdefault(slot.key.partition(".")[0], []).append(slot)
    return found


def _state(slots: Sequence[Slot]) -> str:
    empty = sum(1 for slot in slots if slot.rule.status == "empty")
    return _n("{count} empty", "{count} empty", empty) if empty else ""


def _row(slot: Slot) -> Row:
    cells = (_(slot.rule.title), limit_words(slot.rule, slot.rule.limit), status_words(slot))
    return Row(cells, Place("limit_form", slot.key))


def _fuel_row(row: FuelRow) -> Row:
    largest = sorted(row.fuel.parts.items(), key=lambda part: -part[1])[:MOST_PARTS]
    parts = ", ".join(f"{PARTS[name]} {share * 100:.3g} %" for name, share in largest)
    state = _("taken back: offered no more") if row.withdrawn else _("can be chosen for an appliance")
    return Row((row.fuel.name, parts, state), Place("fuel_form", row.fuel.name))


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of limits and fuels."""
    return LimitsLeaf(desk, place)
