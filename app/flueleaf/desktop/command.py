"""An action a person can take: its words, its menu and its key."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.words import _

MENUS = {
    "Book": _("Book"),
    "Go": _("Go"),
    "View": _("View"),
    "Leaf": _("Leaf"),
    "Help": _("Help"),
}


@dataclass(frozen=True, slots=True)
class Command:
    """One action; the menus, the key sheet and the finder are all made from these.

    Attributes:
        words: what it does, as the menu says it.
        keys: the keys that do it, the first being shown; none needs Alt.
        run: does it.
        menu: the menu it stands in, by its key in ``MENUS``; a leaf's own commands stand under "Leaf".
    """

    words: str
    keys: tuple[str, ...]
    run: Callable[[], None]
    menu: str = "Leaf"


def sequence(key: str) -> QKeySequence:
    """Return a key of the source, whose names are English whatever the window's language."""
    return QKeySequence.fromString(key, QKeySequence.SequenceFormat.PortableText)


def native(key: str) -> str:
    """Return a key as the system writes it."""
    return sequence(key).toString(QKeySequence.SequenceFormat.NativeText)


def shown_keys(command: Command) -> str:
    """Return the keys of a command as the system writes them."""
    return _("  or  ").join(native(key) for key in command.keys)


def action_of(command: Command, owner: QWidget) -> QAction:
    """Return the action of a command for a menu; its keys work all over the owner's window."""
    action = QAction(command.words, owner)
    action.setShortcuts([sequence(key) for key in command.keys])
    action.setShortcutContext(Qt.ShortcutContext.WindowShortcut)
    action.triggered.connect(lambda _checked=False: command.run())
    return action
