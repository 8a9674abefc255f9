"""Buttons, made in one place so that each has its name, its look and its slot."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton


class EnterButton(QPushButton):
    """A button that Enter presses as Space does, so that Enter alone carries one through a leaf."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press at Enter."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.click()
            return
        super().keyPressEvent(event)


class DeliberateButton(QPushButton):
    """A button that Space presses and Enter passes by: nobody stands by a doubt by typing on."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go on at Enter."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.focusNextPrevChild(True)
            return
        super().keyPressEvent(event)


def button(
    words: str, name: str, slot: Callable[[], Any], *, primary: bool = False, deliberate: bool = False
) -> QPushButton:
    """Return a button.

    Args:
        words: what it does.
        name: object name.
        slot: does it.
        primary: the one thing one comes to this place for.
        deliberate: Space presses it, Enter passes it by.
    """
    made = DeliberateButton(words) if deliberate else EnterButton(words)
    made.setObjectName(name)
    made.setAccessibleName(words)
    made.setProperty("primary", primary)
    made.clicked.connect(lambda _checked=False: slot())
    return made
