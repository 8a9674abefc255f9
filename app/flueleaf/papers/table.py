"""A table: a head repeated on every page, hairlines between rows, figures aligned at their decimal point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flueleaf.papers.band import Cell, CellAlign, Content, band_height, content, draw_band, tail_width
from flueleaf.papers.blocks import heading
from flueleaf.papers.page import HAIRLINE, LEFT, MEASURE, RULE, Sheet
from flueleaf.papers.typeface import BODY, LABEL, SMALL, STRONG

GAP = 9.0
_PAD = 1.5
_FAINT = 190
_LONGEST_KEPT = 190.0


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


def draw_table(
    sheet: Sheet,
    columns: Sequence[Column],
    rows: Sequence[Row],
    *,
    title: str = "",
    note: str = "",
    left: float = LEFT,
) -> None:
    """Draw a table and move the sheet's place below it; a short one is not broken over two pages.

    Args:
        title: a heading that stays with it, "" for none; note: small print under it.
        left: the left edge.
    """
    table = _Table(sheet, columns, rows, left)
    below = [Cell(left, MEASURE, content(note, SMALL))]
    keep = table.height() + band_height(below)
    if keep > _LONGEST_KEPT:
        keep = 5 * BODY.leading
    if title:
        heading(sheet, title, keep=keep)
    else:
        sheet.need(keep)
    table.draw()
    draw_band(sheet, below)


class _Table:
    def __init__(self, sheet: Sheet, columns: Sequence[Column], rows: Sequence[Row], left: float) -> None:
        self._sheet, self._columns, self._rows, self._left = sheet, columns, rows, left
        self._places: list[float] = []
        x = left
        for column in columns:
            self._places.append(x)
            x += column.width + GAP
        self._right = x - GAP
        self._tails = [self._tail(at) for at in range(len(columns))]
        self._over = ""

    def _tail(self, at: int) -> float:
        if self._columns[at].align != "decimal":
            return 0
        parts = [part for row in self._rows if row.cells for part in _content(row.cells[at]).parts]
        return max((tail_width(text, type_) for text, type_ in parts), default=0)

    def height(self) -> float:
        """Return about what the table takes where it is not broken."""
        rows = sum(band_height(self._cells(row)) + 2 * _PAD for row in self._rows)
        return band_height(self._head_cells()) + rows + 8

    def draw(self) -> None:
        """Draw head and rows, and the rule that ends them."""
        self._head()
        for at, row in enumerate(self._rows):
            if row.over:
                self._draw_over(row)
                continue
            draw_band(self._sheet, self._cells(row), above=_PAD, below=_PAD, again=self._go_on)
            if at < len(self._rows) - 1:
                self._rule(HAIRLINE, grey=_FAINT)
        self._rule(HAIRLINE)
        self._sheet.y += 4

    def _rule(self, weight: float, *, grey: int = 0) -> None:
        self._sheet.rule(self._sheet.y, x1=self._left, x2=self._right, weight=weight, grey=grey)

    def _head(self) -> None:
        self._rule(RULE)
        if any(column.title for column in self._columns):
            draw_band(self._sheet, self._head_cells(), above=1.6, below=1.6)
            self._rule(HAIRLINE)

    def _head_cells(self) -> list[Cell]:
        return [
            Cell(x, column.width, content(column.title, LABEL), "left" if column.align == "left" else "right")
            for x, column in zip(self._places, self._columns, strict=True)
        ]

    def _go_on(self) -> None:
        """Begin a further page: the head, and the heading under which the next row stands."""
        self._head()
        if self._over:
            draw_band(self._sheet, [self._across(f"{self._over}, continued")], above=5, below=0.5)

    def _draw_over(self, row: Row) -> None:
        if self._sheet.need(4.5 * BODY.leading):
            self._head()
        self._over = row.over
        draw_band(self._sheet, self._cells(row), above=5, below=0.5)

    def _across(self, text: str) -> Cell:
        return Cell(self._left, self._right - self._left, content(text, STRONG))

    def _cells(self, row: Row) -> list[Cell]:
        if row.over:
            return [self._across(row.over)]
        return [
            Cell(x, column.width, _content(cell), column.align, tail)
            for x, column, cell, tail in zip(self._places, self._columns, row.cells, self._tails, strict=True)
        ]


def _content(cell: Content | str) -> Content:
    return content(cell) if isinstance(cell, str) else cell
