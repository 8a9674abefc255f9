"""What was judged: each value, its limit, whose limit it is, the margin and the verdict's word."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from flueleaf.domain.words import sentence
from flueleaf.papers.band import Cell, Content, Graphic, content, draw_band
from flueleaf.papers.blocks import bullet, heading
from flueleaf.papers.figure import MARK_INDENT, draw_gauge, draw_mark
from flueleaf.papers.page import LEFT, MEASURE, Sheet
from flueleaf.papers.record.appliance import DERIVED
from flueleaf.papers.record.facts import Doubt, Judged, Work
from flueleaf.papers.record.words import (
    also_words,
    label_words,
    limit_words,
    slip_words,
    verdict_words,
    with_unit,
)
from flueleaf.papers.table import GAP, Column, Row, draw_table
from flueleaf.papers.text import chemical
from flueleaf.papers.typeface import ASIDE_FIGURE, BODY, SMALL, STRONG

# The chance's column is left out where no chance is said; the verdict then has its room.
_CHANCE = 42.0
_COLUMNS = (
    Column("", 56),
    Column("value", 54, "right"),
    Column("", 34),
    Column("limit", 82),
    Column("margin", 47, "right"),
    Column("chance it is beyond", _CHANCE, "right"),
    Column("verdict", 106),
)

_NOTHING = Judged("", "", "unjudged", why="no limit applies")
_BASELINE = replace(_NOTHING, why="no limit applies: the room is held against it")


def draw_verdicts(sheet: Sheet, work: Work) -> None:
    """Draw the verdicts slip by slip; the sources of the limits stand below, by letter."""
    judged = [each for slip in work.slips for each in slip.judged]
    named = [source for each in judged for source in (each.source, each.also_source)]
    sources = list(dict.fromkeys(source for source in named if source))
    chances = any(each.chance for each in judged)
    rows: list[Row] = []
    for slip in work.slips:
        # A slip that nothing judges makes the whole unjudged: the reader is told which one it is.
        nothing = _BASELINE if slip.point == "outdoors" and not slip.doubts else _NOTHING
        if each_of := slip.judged or ((nothing,) if slip.decides else ()):
            rows.append(Row(over=slip_words(slip, work)))
            rows += [_row(each, sources, chances) for each in each_of]
    if not rows:
        return
    draw_table(sheet, _columns(chances), rows, title="Against the limits")
    for at, source in enumerate(sources):
        mark = Cell(LEFT, 12, content(f"({_letter(at)})", SMALL))
        draw_band(sheet, [mark, Cell(LEFT + 12, MEASURE - 12, content(chemical(source), SMALL))])


def _columns(chances: bool) -> tuple[Column, ...]:
    if chances:
        return _COLUMNS
    verdict = _COLUMNS[-1]
    return (*_COLUMNS[:-2], Column(verdict.title, verdict.width + _CHANCE + GAP))


def _letter(at: int) -> str:
    """Return a, b, …, z, aa, ab, …"""
    return (_letter(at // 26 - 1) if at >= 26 else "") + chr(ord("a") + at % 26)


def _row(judged: Judged, sources: Sequence[str], chances: bool) -> Row:
    value = with_unit(judged.value or "—", judged.unit)
    if judged.derived:
        value += f" {DERIVED}"
    also = also_words(judged)
    return Row(
        (
            sentence(label_words(judged.label)),
            value,
            Content((), _gauge(judged)),
            content(
                limit_words(judged) + _named(judged.source, sources),
                BODY,
                also + _named(judged.also_source, sources) if also else "",
            ),
            judged.margin,
            *((content(judged.chance.replace(" ", "\xa0"), ASIDE_FIGURE),) if chances else ()),
            _verdict(judged),
        )
    )


def _named(source: str, sources: Sequence[str]) -> str:
    """Return the letter under which a source stands below, "" without one."""
    return f" ({_letter(sources.index(source))})" if source else ""


def _gauge(judged: Judged) -> Graphic:
    def gauge(sheet: Sheet, x: float, y: float, width: float) -> None:
        place = (x, y + BODY.leading / 2)
        draw_gauge(sheet, judged.value, judged.limit, judged.sense, place=place, width=width)

    return gauge


def _verdict(judged: Judged) -> Content:
    def mark(sheet: Sheet, x: float, y: float, _width: float) -> None:
        draw_mark(sheet, judged.verdict, x + 3.5, y + BODY.leading / 2)

    notes = [(sentence(chemical(judged.why)), SMALL)] if judged.why else []
    strong = STRONG if judged.verdict != "within" else BODY
    return Content(((verdict_words(judged), strong), *notes), mark, MARK_INDENT)


def draw_doubts(sheet: Sheet, work: Work) -> None:
    """Draw every doubt with what became of it."""
    doubts = [("", doubt) for doubt in work.doubts]
    doubts += [(slip_words(slip, work), doubt) for slip in work.slips for doubt in slip.doubts]
    if not doubts:
        return
    heading(sheet, "Doubts", keep=24)
    for place, doubt in doubts:
        bullet(sheet, chemical(doubt.text), note=", ".join(part for part in (place, _became(doubt)) if part))


def _became(doubt: Doubt) -> str:
    if doubt.confirmed:
        return "checked by the engineer, who stands by the reading"
    return "not confirmed by the engineer"
