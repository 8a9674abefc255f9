"""What can be done with the photographs of a visit that is being typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueleaf.desktop.command import Command
from flueleaf.desktop.photo.draft_shelf import ADD_KEY, DraftShelf
from flueleaf.desktop.photo.looking import shelf_commands
from flueleaf.desktop.words import _

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


def photo_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:
    """Return the actions; the shelf they work on belongs to the leaf."""

    def keep_draft() -> bool:
        leaf.keeper.touch()
        return leaf.keeper.keep()

    shelf = DraftShelf(leaf, leaf.place.key, keep_draft, leaf.typing.photos)
    return (
        Command(_("Photograph beside the fields"), (ADD_KEY,), shelf.choose),
        Command(_("Paste photograph"), ("Ctrl+Shift+V",), shelf.paste),
        *shelf_commands(shelf),
        Command(_("Turn the photograph"), ("Ctrl+Shift+T",), shelf.turn),
        Command(_("Slip, data plate or other photograph"), ("Ctrl+Shift+W",), shelf.next_kind),
        Command(_("Name the photograph"), ("F4",), shelf.begin_naming),
        Command(_("Put the photograph away"), ("Ctrl+Shift+X",), shelf.put_away),
        Command(_("Bring the photograph back"), ("Ctrl+Shift+G",), shelf.bring_back),
    )
