"""What can be taken over: from the first appliance of the visit, and from last time; never readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from flueleaf.desktop.command import Command
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.walking import part_of
from flueleaf.desktop.words import _

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


def carry_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:
    """Return the actions."""
    do = CarryActions(leaf)
    return (Command(_("Answer for this appliance alone, or as at the first"), ("Ctrl+Shift+J",), do.turn),)


class CarryActions:
    """The actions, on one leaf."""

    def __init__(self, leaf: TypedVisitLeaf) -> None:
        self._leaf = leaf

    def turn(self) -> None:
        """Open what belongs to the premises in the section in focus, or let it follow again."""
        part = part_of(self._leaf.parts, QApplication.focusWidget())
        if isinstance(part, StagePart) and any(entry.leader is not None for entry in part.shared):
            part.turn()
        else:
            self._leaf.said.emit(_("Nothing in this section is answered at another appliance."))
