"""A table: a head repeated on every page, hairlines between rows, figures aligned at their decimal point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flueleaf.papers.band import Cell, CellAlign, Content, content, draw_band, tail_width
from flueleaf.papers.page import HAIRLINE, LEFT, RULE, Sheet
from flueleaf.papers.typeface import BODY, LABEL, STRONG

GAP = 9.0
_PAD = 2.4
_FAINT = 190


@dataclass(frozen=True, slots=True)
class Column:
    """A column: the words at its head (a second line after a line break), its width in points."""

    title: str
    width: float
    align: CellAlign = "left"


@dataclass(frozen=True, slots=True)
class Row:
    """A row of as many cells as there are columns; or, with ``over`` set, a heading across them all."""

    cells: tuple[Content | str, ...] = ()
    over: str = ""
    aside: str = ""


def draw_table(
    sheet: Sheet, columns: Sequence[Column], rows: Sequence[Row], *, left: float = LEFT, closed: bool = True
) -> None:
    """Draw a table and move the sheet's place below it.

    Args:
        left: the left edge.
        closed: a rule ends it.
    """
    table = _Table(sheet, columns, rows, left)
    table.begin()
    for at, row in enumerate(rows):
        table.draw(row, last=at == len(rows) - 1)
    if closed:
        sheet.rule(sheet.y, x1=left, x2=table.right, weight=HAIRLINE)
    sheet.y += 4


class _Table:
    def __init__(self, sheet: Sheet, columns: Sequence[Column], rows: Sequence[Row], left: float) -> None:
        self._sheet, self._columns, self._left = sheet, columns, left
        self._places: list[float] = []
        x = left
        for column in columns:
            self._places.append(x)
            x += column.width + GAP
        self.right = x - GAP
        self._tails = [self._tail(at, rows) for at in range(len(columns))]

    def _tail(self, at: int, rows: Sequence[Row]) -> float:
        if self._columns[at].align != "decimal":
            return 0
        parts = [part for row in rows if row.cells for part in _content(row.cells[at]).parts]
        return max((tail_width(text, type_) for text, type_ in parts), default=0)

    def begin(self) -> None:
        """Draw the head, with room for a first row under it."""
        self._sheet.need(4 * BODY.leading)
        self._head()

    def _head(self) -> None:
        sheet = self._sheet
        sheet.rule(sheet.y, x1=self._left, x2=self.right, weight=RULE)
        if any(column.title for column in self._columns):
            cells = [
                Cell(
                    x,
                    column.width,
                    content(column.title, LABEL),
                    "left" if column.align == "left" else "right",
                )
                for x, column in zip(self._places, self._columns, strict=True)
            ]
            draw_band(sheet, cells, above=1.6, below=1.6)
            sheet.rule(sheet.y, x1=self._left, x2=self.right, weight=HAIRLINE)

    def draw(self, row: Row, *, last: bool) -> None:
        """Draw one row and the hairline under it."""
        sheet = self._sheet
        if row.over:
            sheet.need(3.5 * BODY.leading)
            over = Content(((row.over, STRONG), (row.aside, LABEL)) if row.aside else ((row.over, STRONG),))
            draw_band(sheet, [Cell(self._left, self.right - self._left, over)], above=6, below=1)
            return
        cells = [
            Cell(x, column.width, _content(cell), column.align, tail)
            for x, column, cell, tail in zip(self._places, self._columns, row.cells, self._tails, strict=True)
        ]
        draw_band(sheet, cells, above=_PAD, below=_PAD, again=self._head)
        if not last:
            sheet.rule(sheet.y, x1=self._left, x2=self.right, weight=HAIRLINE, grey=_FAINT)


def _content(cell: Content | str) -> Content:
    return content(cell) if isinstance(cell, str) else cell
