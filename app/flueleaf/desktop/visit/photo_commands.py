"""What can be done with the photographs of a visit that is being typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueleaf.desktop.command import Command

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


def photo_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:  # noqa: ARG001
    """Return the actions."""
    return ()
