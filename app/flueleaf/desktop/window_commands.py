"""The window's own actions, each with its key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueleaf.desktop.command import Command
from flueleaf.desktop.help.glossary_dialog import KEY as WORDS_KEY
from flueleaf.desktop.help.what_it_means import show_words
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.words import _

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


def window_commands(window: MainWindow) -> tuple[Command, ...]:
    """Return the actions that are there on every leaf. None needs Alt; some may be had with it too."""
    keeper = window.keeper
    return (
        Command(_("New visit"), ("Ctrl+N",), lambda: window.go(_new("visit", window)), "Book"),
        Command(_("New quote"), ("Ctrl+Shift+N",), lambda: window.go(_new("quote", window)), "Book"),
        Command(_("New customer"), ("Ctrl+Shift+C",), lambda: window.go(Place("customer_form")), "Book"),
        Command(_("New premises"), ("Ctrl+Shift+P",), lambda: window.go(Place("premises_form")), "Book"),
        Command(_("New analyser"), ("Ctrl+Shift+I",), lambda: window.go(Place("instrument_form")), "Book"),
        Command(_("Your business"), ("Ctrl+,",), lambda: window.go(Place("business_form", "own")), "Book"),
        Command(_("Limits and fuels"), ("F9",), lambda: window.go(Place("limits", "own")), "Book"),
        Command(_("Close the book"), ("Ctrl+Q",), lambda: _close(window), "Book"),
        Command(_("Undo"), ("Ctrl+Z",), window.undo, "Book"),
        Command(_("Redo"), ("Ctrl+Shift+Z", "Ctrl+Y"), window.redo, "Book"),
        Command(_("Find"), ("Ctrl+K", "Ctrl+F"), window.start_finding, "Go"),
        Command(_("Tonight"), ("Ctrl+T",), lambda: window.go(TONIGHT), "Go"),
        Command(_("Back"), ("Ctrl+[", "Alt+Left"), window.go_back, "Go"),
        Command(_("Forward"), ("Ctrl+]", "Alt+Right"), window.go_forward, "Go"),
        Command(_("Next column"), ("F6",), window.next_column, "Go"),
        Command(_("Menus"), ("F10",), lambda: _open_menus(window), "Go"),
        Command(_("Say the last notice again"), ("F2",), window.say_again, "View"),
        Command(_("Stop what is going on"), ("Shift+F12",), window.stop_work, "Book"),
        Command(_("Margin"), ("Ctrl+M",), window.toggle_margin, "View"),
        Command(_("Larger text"), ("Ctrl+=", "Ctrl++"), keeper.larger, "View"),
        Command(_("Smaller text"), ("Ctrl+-",), keeper.smaller, "View"),
        Command(_("Usual text"), ("Ctrl+0",), keeper.usual, "View"),
        Command(_("Light or dark"), ("Ctrl+Shift+L",), keeper.other_scheme, "View"),
        Command(_("Keys"), ("F1",), window.show_keys, "Help"),
        Command(_("What the words mean"), (WORDS_KEY,), lambda: show_words(window), "Help"),
    )


def _new(leaf: str, window: MainWindow) -> Place:
    """A new visit or quote belongs to the premises shown, where some are."""
    return Place(leaf, within=window.leaf.premises_key() if window.leaf is not None else "")


def _close(window: MainWindow) -> None:
    window.close()


def _open_menus(window: MainWindow) -> None:
    """Open the first menu; the arrows go on from there."""
    bar = window.menuBar()
    bar.setActiveAction(bar.actions()[0])
