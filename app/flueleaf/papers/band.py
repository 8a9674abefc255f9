"""A band: cells side by side whose text wraps, moved or split at the foot of a page."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from flueleaf.papers.page import Sheet
from flueleaf.papers.text import wrap
from flueleaf.papers.typeface import BODY, SMALL, Type, clean, width

CellAlign = Literal["left", "right", "decimal"]
Graphic = Callable[[Sheet, float, float, float], None]
# A number or the dash of a missing one, perhaps with a mark after it. The part before the point stands left
# of the column's point, the mark behind all decimals.
_NUMBER = re.compile(r"([−-]?[\d,]+|—)((?:\.\d+)?)( †)?\Z")


@dataclass(frozen=True, slots=True)
class Content:
    """What a cell holds: texts one under the other, and perhaps a small drawing.

    Attributes:
        graphic: called with the sheet, the cell's left, top and width.
        indent: points by which the texts stand to the right, beside a drawing.
    """

    parts: tuple[tuple[str, Type], ...] = ()
    graphic: Graphic | None = None
    indent: float = 0


def content(text: str, type_: Type = BODY, *notes: str) -> Content:
    """Return a cell of one text with smaller notes under it; empty notes are left out."""
    return Content(((text, type_), *((note, SMALL) for note in notes if note)))


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a cell."""

    text: str
    type: Type


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell with its place. ``tail``: width kept for what stands right of the decimal point."""

    x: float
    width: float
    content: Content
    align: CellAlign = "left"
    tail: float = 0

    def lines(self) -> list[Line]:
        """Return the wrapped lines."""
        room = self.width - self.content.indent
        return [Line(line, type_) for text, type_ in self.content.parts for line in wrap(text, room, type_)]


def tail_width(text: str, type_: Type) -> float:
    """Return the width of what stands right of the decimal point, a mark too; 0 for what is no number."""
    number = _NUMBER.match(clean(text))
    return width(f"{number[2]}{number[3] or ''}", type_) if number else 0


def band_height(cells: Sequence[Cell]) -> float:
    """Return the height of the highest cell's text."""
    return max((_height(cell.lines()) for cell in cells), default=0)


def draw_band(
    sheet: Sheet,
    cells: Sequence[Cell],
    *,
    above: float = 0,
    below: float = 0,
    again: Callable[[], None] | None = None,
) -> None:
    """Draw cells side by side and move the sheet's place below them.

    Args:
        above, below: room over and under the text.
        again: draws what a new page begins with (a table's head).
    """
    pending = [cell.lines() for cell in cells]
    height = max((_height(lines) for lines in pending), default=0)
    if sheet.need(above + height + below) and again:
        again()
    first = True
    while first or any(pending):
        if not first:
            sheet.new_page()
            if again:
                again()
        room = max(sheet.left_on_page - above - below, 0)
        taken = [_take(lines, room) for lines in pending]
        sheet.y += above
        for cell, lines in zip(cells, taken, strict=True):
            _draw(sheet, cell, lines, graphic=first)
        sheet.y += max((_height(lines) for lines in taken), default=0) + below
        first = False


def _height(lines: Sequence[Line]) -> float:
    return sum(line.type.leading for line in lines)


def _take(lines: list[Line], room: float) -> list[Line]:
    """Take from a list the lines that fit, one at least."""
    count, used = 0, 0.0
    for line in lines:
        used += line.type.leading
        if used > room and count:
            break
        count += 1
    taken = lines[:count]
    del lines[:count]
    return taken


def _draw(sheet: Sheet, cell: Cell, lines: Sequence[Line], *, graphic: bool) -> None:
    y = sheet.y
    if graphic and cell.content.graphic:
        cell.content.graphic(sheet, cell.x, y, cell.width)
    for line in lines:
        baseline = y + line.type.leading * 0.5 + line.type.size * 0.36
        x = cell.x + cell.content.indent
        if cell.align == "left":
            sheet.write(x, baseline, line.text, line.type)
        else:
            _draw_right(sheet, cell, line, baseline)
        y += line.type.leading


def _draw_right(sheet: Sheet, cell: Cell, line: Line, baseline: float) -> None:
    right = cell.x + cell.width
    number = _NUMBER.match(line.text) if cell.align == "decimal" else None
    if number:
        point = right - cell.tail
        start = point - width(number[1], line.type)
        if start >= cell.x and point + tail_width(line.text, line.type) <= right + 0.01:
            sheet.write(start, baseline, line.text, line.type)
            return
    sheet.write(right, baseline, line.text, line.type, align="right")
