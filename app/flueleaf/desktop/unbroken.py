"""Texts whose dates, references and figures with their unit stay on one line."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt

from flueleaf.desktop.measured_label import MeasuredLabel

HARD = "\N{NO-BREAK SPACE}"
# A day, month and year; a place in a source; a figure and what it counts.
_TOGETHER = re.compile(
    r"\b\d{1,2} [^\W\d_]{3,9}\.? \d{4}\b"
    r"|\b(?:page|pages|p\.|pp\.|clause|table|part|section|annex) [0-9A-Z][\w.]*"
    r"|(?<![\w.])\d[\d.,]* (?:%|ppm|kW|kB|MB|mbar|Pa|°C|m³|mg|g|litres?|pages?|days?|years?|months?)(?!\w)"
)


def unbroken(text: str) -> str:
    """Return a text with no-break spaces inside what belongs together."""
    return _TOGETHER.sub(lambda found: found[0].replace(" ", HARD), text)


class Prose(MeasuredLabel):
    """A label of running text, shown unbroken; ``text`` returns it as it was given."""

    def __init__(self, text: str = "") -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self._given = ""
        self.setText(text)

    def text(self) -> str:
        """Return the text as it was given."""
        return self._given

    def setText(self, text: str) -> None:  # noqa: N802
        """Show another text."""
        self._given = text
        super().setText(unbroken(text))
