"""One block of the margin: a small head and quiet lines."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.rule import Rule
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.theme import current


class MarginSection(QWidget):
    """A head with a hairline under it, then lines of text or widgets."""

    def __init__(
        self, title: str, lines: Iterable[str] = (), parent: QWidget | None = None, *, name: str = ""
    ) -> None:
        super().__init__(parent)
        self.setObjectName(f"margin.{(name or title).replace(' ', '_')}")
        self.setAccessibleName(title)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        set_gap(self._column, 1.5)
        self._column.addWidget(label(title, role="head", wrap=True))
        self._column.addWidget(Rule())
        for line in lines:
            self.add_line(line)

    def add_line(self, text: str, tone: str = "") -> None:
        """Add a line of text, in the tone of ``section.label``."""
        self._column.addWidget(label(text, tone=tone, wrap=True))

    def add_widget(self, widget: QWidget) -> None:
        """Add a widget, such as a verdict panel."""
        if self._column.count() > 2:
            self._column.addSpacing(current().space(2))
        self._column.addWidget(widget)
