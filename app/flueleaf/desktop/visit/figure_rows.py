"""Figures under each other, as in a table of a book: name, value at its decimal point, unit, quiet words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QMouseEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from flueleaf.desktop.help.worded_label import set_in
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import current, equal_figures

NAME, NOTE = 0, 3  # columns; value and unit stand between
NOTE_DROP_PX = 2


@dataclass(frozen=True, slots=True)
class Figure:
    """One line.

    Attributes:
        name, value, unit: as shown.
        head: small words above it, the basis of this figure and those under it; "" for none.
        note: small words behind it.
        key: by which its explanation is found; "" where there is none.
    """

    name: str
    value: str
    unit: str = ""
    head: str = ""
    note: str = ""
    key: str = ""

    @property
    def spoken(self) -> str:
        """The line in words, for screen readers."""
        return ", ".join(one for one in (f"{self.name} {self.value} {self.unit}".strip(), self.note) if one)


@dataclass(slots=True)
class _Row:
    cells: tuple[QLabel, ...]
    value: _Value
    head: QLabel | None = None  # made when one is needed, as few lines have one
    shown: Figure | None = None


class _Value(QLabel):
    """A number that keeps the room of the decimals it has not, so that the points stand under each other."""

    def __init__(self, most_decimals: int, role: str) -> None:
        super().__init__()
        self._most = most_decimals
        set_in(self, role=role, tone="", wrap=False)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.setFont(equal_figures())

    def changeEvent(self, event: QEvent) -> None:
        """Keep figures of equal width, and the point in its place at another text scale."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            if not self.font().featureTags():
                self.setFont(equal_figures())
            self.fit()

    def fit(self) -> None:
        """Set the number off from the right by the decimals it has not."""
        metrics = QFontMetricsF(self.font())
        __, point, decimals = self.text().partition(".")
        tail = metrics.horizontalAdvance(point + decimals)
        room = metrics.horizontalAdvance("." + "0" * self._most) if self._most else 0.0
        self.setContentsMargins(0, 0, round(max(room - tail, 0.0)), 0)


class FigureRows(QWidget):
    """Lines that are made once, when they are first needed, and then only change their texts."""

    pressed = Signal(str)  # the key of a line

    def __init__(self, *, most_decimals: int, name_px: int = 0) -> None:
        """Make it without lines.

        Args:
            most_decimals: of any value that will be shown.
            name_px: width of the names at 100 % text; 0 for a narrow column, in small letters, where names
                take the room there is and nothing stands behind the units.
        """
        super().__init__()
        self._most = most_decimals
        self._name_px = name_px
        self._rows: list[_Row] = []
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(current().space(1.5))
        self._grid.setVerticalSpacing(current().space(0.5))
        self._grid.setColumnStretch(NOTE if name_px else NAME, 1)
        if name_px:
            self._grid.setColumnMinimumWidth(NAME, current().px(name_px))

    @property
    def figures(self) -> tuple[Figure, ...]:
        """What is shown, from top to bottom."""
        return tuple(row.shown for row in self._rows if row.shown is not None)

    def set_figures(self, figures: Sequence[Figure]) -> None:
        """Show other figures; only what differs is touched."""
        while len(self._rows) < len(figures):
            self._rows.append(self._made(len(self._rows)))
        for n, row in enumerate(self._rows):
            wanted = figures[n] if n < len(figures) else None
            if row.shown != wanted:
                self._show(n, wanted)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Ask how the figure under the pointer was worked out."""
        under = self.childAt(event.position().toPoint())
        for row in self._rows:
            if under in row.cells and row.shown is not None and row.shown.key:
                self.pressed.emit(row.shown.key)

    def _made(self, number: int) -> _Row:
        role = "" if self._name_px else "small"
        name = label("", role=role, wrap=not self._name_px)
        value = _Value(self._most, role)
        unit = label("", role=role, tone="soft")
        cells: list[QLabel] = [name, value, unit]
        if self._name_px:
            note = label("", role="small", tone="soft", wrap=True)
            note.setContentsMargins(0, current().px(NOTE_DROP_PX), 0, 0)  # on the line of what is before it
            cells.append(note)
        for column, cell in enumerate(cells):
            self._grid.addWidget(cell, 2 * number + 1, column, Qt.AlignmentFlag.AlignTop)
        return _Row(tuple(cells), value)

    def _show(self, number: int, figure: Figure | None) -> None:
        row = self._rows[number]
        row.shown = figure
        texts = ("", "", "", "")
        if figure is not None:
            texts = (figure.name, figure.value, figure.unit, figure.note)
        for cell, text in zip(row.cells, texts, strict=False):
            if cell.text() != text:
                cell.setText(text)
            cell.setVisible(bool(text))
        row.value.fit()
        row.value.setAccessibleName(figure.spoken if figure is not None else "")
        self._show_head(number, figure.head if figure is not None else "")

    def _show_head(self, number: int, text: str) -> None:
        row = self._rows[number]
        if row.head is None:
            if not text:
                return
            row.head = label("", role="small", tone="soft", wrap=True)
            row.head.setContentsMargins(0, current().space(1) if number else 0, 0, 0)
            self._grid.addWidget(row.head, 2 * number, 0, 1, NOTE + 1)
        if row.head.text() != text:
            row.head.setText(text)
        row.head.setVisible(bool(text))
