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


def button(words: str, name: str, slot: Callable[[], Any], *, primary: bool = False) -> QPushButton:
    """Return a button.

    Args:
        words: what it does.
        name: object name.
        slot: does it.
        primary: the one thing one comes to this place for.
    """
    made = EnterButton(words)
    made.setObjectName(name)
    made.setAccessibleName(words)
    made.setProperty("primary", primary)
    made.clicked.connect(lambda _checked=False: slot())
    return made
