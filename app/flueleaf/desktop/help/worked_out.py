"""Opening the sheet of explanations from a leaf, on the figure at hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.command import Command
from flueleaf.desktop.help.worked_out_dialog import KEY, WorkedOutDialog
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.words import _
from flueleaf.operations import explaining
from flueleaf.operations.explaining import Explanation
from flueleaf.operations.page_records import DueRow

Found = Callable[[], Sequence[Explanation]]


def worked_out_command(leaf: Leaf, found: Found, at_hand: Callable[[], str] = lambda: "") -> Command:
    """Return the action of a leaf.

    Args:
        leaf: the leaf.
        found: returns what can be explained now.
        at_hand: returns the key, or its beginning, of the figure one is at.
    """
    return Command(_("How this was worked out"), (KEY,), lambda: show_worked_out(leaf, found(), at_hand()))


def show_worked_out(leaf: Leaf, found: Sequence[Explanation], key: str = "") -> None:
    """Open the sheet on the figure with a key, or say that there is none."""
    if not found:
        leaf.said.emit(_("No figure is worked out here yet."))
        return
    parent: QWidget = leaf.window()
    WorkedOutDialog(found, place_of(found, key), parent).open()


def place_of(found: Sequence[Explanation], key: str) -> int:
    """Return the place of the figure with a key, else of the first whose key begins with it, else 0."""
    keys = [one.key for one in found]
    if key in keys:
        return keys.index(key)
    return next((n for n, one in enumerate(keys) if key and one.startswith(key)), 0)


def due_at_hand(leaf: Leaf, due: Sequence[DueRow]) -> str:
    """Return the key of the due line the keyboard stands on, "" where it stands elsewhere."""
    row = row_at_hand(leaf, "due")
    return explaining.explain_due(due[row]).key if 0 <= row < len(due) else ""


def row_at_hand(leaf: Leaf, name: str) -> int:
    """Return the row of a list of the leaf that the keyboard stands on, -1 where it stands elsewhere."""
    panel = leaf.findChild(RowsPanel, f"{leaf.objectName()}.{name}")
    return panel.currentIndex().row() if panel is not None and panel.hasFocus() else -1
