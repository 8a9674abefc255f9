"""Hairlines that divide a page."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QWidget


class Rule(QFrame):
    """A hairline, lying or upright."""

    def __init__(self, parent: QWidget | None = None, *, upright: bool = False) -> None:
        super().__init__(parent)
        self.setProperty("rule", "upright" if upright else "thin")
