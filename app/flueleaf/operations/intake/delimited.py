"""Text tables as analysers and spreadsheets write them: any usual encoding, delimiter and preamble.

``csv.Sniffer`` guesses by frequency and takes a decimal comma for a delimiter; here each delimiter is tried,
and the one under which a line of names stands over lines of as many values is it.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.words import said

DELIMITERS = (",", ";", "\t", "|")
MOST_BYTES = 50_000_000
MOST_ROWS = 500_000
HEAD_LINES = 60  # a header stands no deeper
_FIGURES = re.compile(r"[+\-−]?[\d.,:]*\d[\d.,:]*\s*[^\W\d]{0,3}%?\Z")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table.

    Attributes:
        header: the names of the columns, trimmed.
        rows: line number and cells, trimmed, of each line under the header that is not blank.
        delimiter: what parts the cells.
    """

    header: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    delimiter: str


def decoded(data: bytes, name: str) -> str:
    """Return the text of a file: UTF-8 or UTF-16, else what Windows wrote in Western Europe.

    Raises:
        Refused: too large, or no text.
    """
    if len(data) > MOST_BYTES:
        raise Refused([Fault(name, "", said("a file of at most {most:,} bytes", most=MOST_BYTES))])
    for encoding in _encodings(data[:400]):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise Refused([_no_table(name)])


def sheet_of(text: str, name: str, known: Callable[[Sequence[str]], bool]) -> Sheet:
    """Return the table of a text.

    Args:
        text: the whole of it.
        name: of the file, for a refusal.
        known: tells whether cells are a header that is looked for; such a line is preferred.

    Raises:
        Refused: no header with values below it, or too many rows.
    """
    head = _head(text)
    found = max(
        (spot for delimiter in DELIMITERS if (spot := _header(head, delimiter, known)) is not None),
        default=None,
    )
    if found is None:
        raise Refused([_no_table(name)])
    delimiter = DELIMITERS[-found[2]]
    try:
        rows = list(_rows(text, delimiter))
    except csv.Error as error:
        raise Refused([Fault(name, str(error), _table_words())]) from None
    at = -found[3]
    header = rows[at][1]
    if len(rows) - at - 1 > MOST_ROWS:
        raise Refused([Fault(name, f"{len(rows) - at - 1}", said("at most {most:,} lines", most=MOST_ROWS))])
    return Sheet(header, tuple(rows[at + 1 :]), delimiter)


def _encodings(head: bytes) -> Iterator[str]:
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        yield "utf-16"
    if b"\0" in head:  # without a mark the empty halves of plain letters tell
        even, odd = head[::2].count(0), head[1::2].count(0)
        yield "utf-16-be" if even > odd else "utf-16-le"
    yield from ("utf-8-sig", "cp1252", "latin-1")


def _head(text: str) -> str:
    lines = io.StringIO(text, newline=None)
    return "".join(line for _, line in zip(range(HEAD_LINES), lines, strict=False))


def _rows(text: str, delimiter: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, skipinitialspace=True)
    for cells in reader:
        trimmed = tuple(cell.strip() for cell in cells)
        if any(trimmed):
            yield reader.line_num, trimmed


def _header(
    head: str, delimiter: str, known: Callable[[Sequence[str]], bool]
) -> tuple[bool, int, int, int] | None:
    """Return where a header may stand: known or not, its width, delimiter and line; the best is highest."""
    try:
        rows = [cells for _, cells in _rows(head, delimiter)]
    except csv.Error:
        return None
    best: tuple[bool, int, int, int] | None = None
    for at, cells in enumerate(rows):
        filled = sum(map(bool, cells))
        if filled < 2:
            continue
        looked_for = known(cells)
        if not looked_for and not _stands_over_values(rows, at):
            continue
        spot = (looked_for, filled, -DELIMITERS.index(delimiter), -at)
        if best is None or (spot[0], spot[1]) > (best[0], best[1]):
            best = spot
    return best


def _stands_over_values(rows: Sequence[Sequence[str]], at: int) -> bool:
    """Tell whether a line has no figures, and one of the two below it as many cells and figures in them."""
    if any(_FIGURES.match(cell) for cell in rows[at]):
        return False
    below = rows[at + 1 : at + 3]
    return any(len(cells) == len(rows[at]) and any(map(_FIGURES.match, cells)) for cells in below)


def _no_table(name: str) -> Fault:
    return Fault(name, "", _table_words())


def _table_words() -> str:
    return said("a text file with a header line and lines of values, parted by commas, semicolons, tabs or |")
