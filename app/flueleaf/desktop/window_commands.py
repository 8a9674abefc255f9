"""The window's own actions, each with its key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueleaf.desktop.command import Command
from flueleaf.desktop.place import TONIGHT, Place

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


def window_commands(window: MainWindow) -> tuple[Command, ...]:
    """Return the actions that are there on every leaf. None needs Alt; some may be had with it too."""
    keeper = window.keeper
    return (
        Command("New visit", ("Ctrl+N",), lambda: window.go(_new("visit", window)), "Book"),
        Command("New quote", ("Ctrl+Shift+N",), lambda: window.go(_new("quote", window)), "Book"),
        Command("New customer", ("Ctrl+Shift+C",), lambda: window.go(Place("customer_form")), "Book"),
        Command("New premises", ("Ctrl+Shift+P",), lambda: window.go(Place("premises_form")), "Book"),
        Command("New analyser", ("Ctrl+Shift+I",), lambda: window.go(Place("instrument_form")), "Book"),
        Command("Your business", ("Ctrl+,",), lambda: window.go(Place("business_form", "own")), "Book"),
        Command("Close the book", ("Ctrl+Q",), lambda: _close(window), "Book"),
        Command("Undo", ("Ctrl+Z",), window.undo, "Book"),
        Command("Redo", ("Ctrl+Shift+Z", "Ctrl+Y"), window.redo, "Book"),
        Command("Find", ("Ctrl+K", "Ctrl+F"), window.start_finding, "Go"),
        Command("Tonight", ("Ctrl+T",), lambda: window.go(TONIGHT), "Go"),
        Command("Back", ("Ctrl+[", "Alt+Left"), window.go_back, "Go"),
        Command("Forward", ("Ctrl+]", "Alt+Right"), window.go_forward, "Go"),
        Command("Next column", ("F6",), window.next_column, "Go"),
        Command("Margin", ("Ctrl+M",), window.toggle_margin, "View"),
        Command("Larger text", ("Ctrl+=", "Ctrl++"), keeper.larger, "View"),
        Command("Smaller text", ("Ctrl+-",), keeper.smaller, "View"),
        Command("Usual text", ("Ctrl+0",), keeper.usual, "View"),
        Command("Light or dark", ("Ctrl+Shift+L",), keeper.other_scheme, "View"),
        Command("Keys", ("F1",), window.show_keys, "Help"),
    )


def _new(leaf: str, window: MainWindow) -> Place:
    """A new visit or quote belongs to the premises shown, where some are."""
    return Place(leaf, within=window.leaf.premises_key() if window.leaf is not None else "")


def _close(window: MainWindow) -> None:
    window.close()
