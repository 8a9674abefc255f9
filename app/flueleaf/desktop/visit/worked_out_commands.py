"""How a figure of the visit was worked out."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from flueleaf.desktop.command import Command
from flueleaf.desktop.help.worked_out import show_worked_out, worked_out_command
from flueleaf.desktop.visit import judging, walking
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.desktop.visit.supply_part import SupplyPart
from flueleaf.operations import explaining
from flueleaf.operations.explaining import Explanation

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


def worked_out_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:
    """Return the action: it opens on the figure of the field in focus."""
    return (worked_out_command(leaf, partial(explanations, leaf), partial(key_at_hand, leaf)),)


def show_of_quantity(leaf: TypedVisitLeaf, quantity: str) -> None:
    """Open the sheet on a quantity of the slip in focus, as a click on its verdict wants."""
    slip, _, _ = key_at_hand(leaf).rpartition(".")
    show_worked_out(leaf, explanations(leaf), f"{slip}.{quantity}")


def explanations(leaf: TypedVisitLeaf) -> Sequence[Explanation]:
    """Return what can be explained of the appliance in focus, and of the bill."""
    if leaf.judgement is None:
        return ()
    number = work_at_hand(leaf)
    found: list[Explanation] = []
    if number < len(leaf.judgement.visit.works):
        found += explaining.explain_work(leaf.judgement, leaf.past, number)
        fuel = leaf.judgement.visit.works[number].appliance.fuel
        supply = leaf.works[number].read().get("supply", {})
        found += explaining.explain_supply(fuel, supply, leaf.past.tables)
    tally, _ = judging.tally_of(leaf.judgement, leaf.business)
    if tally is not None:
        found += explaining.explain_sum(leaf.judgement.visit.lines, tally)
    return found


def work_at_hand(leaf: TypedVisitLeaf) -> int:
    """Return the number of the appliance in focus, the first where none is."""
    focused = QApplication.focusWidget()
    held = [n for n, work in enumerate(leaf.works) if focused is not None and work.isAncestorOf(focused)]
    return held[0] if held else 0


def key_at_hand(leaf: TypedVisitLeaf) -> str:
    """Return the key of the figure in focus, or its beginning."""
    focused = QApplication.focusWidget()
    field = walking.field_of(focused)
    for work in leaf.works:
        column = work.combustion.slips.column_of(field) if work.combustion is not None else None
        if column is not None:
            quantity = next((key for key, one in column.fields.items() if one is field), "")
            spot = column.spot
            return f"{spot.point}.{spot.rate}.{spot.attempt}.{quantity}"
    part = walking.part_of(leaf.parts, focused)
    if isinstance(part, LinesPart):
        return "bill."
    return "supply." if isinstance(part, SupplyPart) else ""
