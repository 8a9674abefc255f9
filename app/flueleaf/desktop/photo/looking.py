"""Looking at photographs on a leaf that adds none: a signed-off visit, an appliance and its form."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QPushButton

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.photo.photo_shelf import SHOW_KEY, PhotoShelf
from flueleaf.desktop.words import _
from flueleaf.operations.photos import Photo


class Looking:
    """The shelf of such a leaf, and what leads to it; nothing does where there are no photographs."""

    def __init__(self, leaf: Leaf, listed: Callable[[], tuple[Photo, ...]]) -> None:
        """Make the shelf.

        Args:
            leaf: beside whose page they stand; the shelf belongs to it.
            listed: reads from the book which there are.
        """
        self.shelf = PhotoShelf(leaf, listed)

    @property
    def commands(self) -> tuple[Command, ...]:
        """The actions."""
        return shelf_commands(self.shelf) if self.shelf.photos else ()

    def buttons(self, name: str) -> tuple[QPushButton, ...]:
        """Return the button that says how many there are, for a leaf that is not typed into.

        Args:
            name: its object name.
        """
        if not self.shelf.photos:
            return ()
        return (button(self.shelf.note.text, name, self.shelf.toggle),)


def shelf_commands(shelf: PhotoShelf) -> tuple[Command, ...]:
    """Return the actions every leaf with photographs has."""
    return (
        Command(_("Show or hide the photograph"), (SHOW_KEY,), shelf.toggle),
        Command(_("Next photograph"), ("Ctrl+PgDown",), lambda: shelf.step(1)),
        Command(_("Photograph before"), ("Ctrl+PgUp",), lambda: shelf.step(-1)),
        Command(_("To the photograph and back"), ("Ctrl+Shift+J",), shelf.go_to_view),
    )
