"""Looking at photographs on a leaf that adds none: a signed-off visit, the form of an appliance."""

from __future__ import annotations

from collections.abc import Callable

from flueleaf.desktop.command import Command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.photo.photo_shelf import PhotoShelf
from flueleaf.desktop.words import _
from flueleaf.operations.photos import Photo


def looking_commands(leaf: Leaf, listed: Callable[[], tuple[Photo, ...]]) -> tuple[Command, ...]:
    """Return the actions of a leaf beside which photographs can stand; none where there are none.

    Args:
        leaf: beside whose page they stand; the shelf made here belongs to it.
        listed: reads from the book which there are.
    """
    shelf = PhotoShelf(leaf, listed)
    return shelf_commands(shelf) if shelf.photos else ()


def shelf_commands(shelf: PhotoShelf) -> tuple[Command, ...]:
    """Return the actions every leaf with photographs has."""
    return (
        Command(_("Show or hide the photograph"), ("Ctrl+Shift+H",), shelf.toggle),
        Command(_("Next photograph"), ("Ctrl+PgDown",), lambda: shelf.step(1)),
        Command(_("Photograph before"), ("Ctrl+PgUp",), lambda: shelf.step(-1)),
        Command(_("To the photograph and back"), ("Ctrl+Shift+J",), shelf.go_to_view),
    )
