"""How a figure of the visit was worked out, and what a word means."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueleaf.desktop.command import Command

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


def worked_out_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:  # noqa: ARG001
    """Return the actions."""
    return ()
