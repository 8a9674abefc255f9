"""Telling screen readers what changes on the page without moving the focus."""

from __future__ import annotations

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget


def announce(source: QWidget, text: str, *, urgent: bool = False) -> None:
    """Let a screen reader say a text.

    Args:
        source: the widget it is about.
        text: what is said; "" says nothing.
        urgent: whether it may break into what is being said (a reading over its limit).
    """
    if not text or not QAccessible.isActive():
        return
    event = QAccessibleAnnouncementEvent(source, text)
    levels = QAccessible.AnnouncementPoliteness
    event.setPoliteness(levels.Assertive if urgent else levels.Polite)
    QAccessible.updateAccessibility(event)
