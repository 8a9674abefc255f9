"""What can be taken over from last time: plate data and checks, never readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueleaf.desktop.command import Command

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


def carry_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:  # noqa: ARG001
    """Return the actions."""
    return ()
