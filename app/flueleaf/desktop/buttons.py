"""Buttons, made in one place so that each has its name, its look and its slot."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QPushButton


def button(words: str, name: str, slot: Callable[[], Any], *, primary: bool = False) -> QPushButton:
    """Return a button.

    Args:
        words: what it does.
        name: object name.
        slot: does it.
        primary: the one thing one comes to this place for.
    """
    made = QPushButton(words)
    made.setObjectName(name)
    made.setAccessibleName(words)
    made.setAutoDefault(True)
    made.setProperty("primary", primary)
    made.clicked.connect(lambda _checked=False: slot())
    return made
