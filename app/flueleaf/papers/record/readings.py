"""The readings: a column a slip, a row a quantity."""

from __future__ import annotations

from collections.abc import Sequence

from flueleaf.domain.words import sentence
from flueleaf.papers.band import Content, content
from flueleaf.papers.page import MEASURE, Sheet
from flueleaf.papers.record.appliance import DERIVED
from flueleaf.papers.record.facts import Reading, Slip, Work
from flueleaf.papers.record.words import label_words, slip_words
from flueleaf.papers.table import GAP, Column, Row, draw_table
from flueleaf.papers.typeface import BODY

_MOST_SLIPS = 4
_LABEL_WIDTH = 132.0
_SLIP_WIDTH = (MEASURE - _LABEL_WIDTH - _MOST_SLIPS * GAP) / _MOST_SLIPS
NOT_READ = "—"

_Key = tuple[str, str, str]


def draw_readings(sheet: Sheet, work: Work) -> None:
    """Draw the readings of every slip; more slips than fit side by side go into further tables."""
    if not work.slips:
        return
    keys = {_key(reading) for slip in work.slips for reading in slip.readings}
    gaps = any(len(slip.readings) < len(keys) for slip in work.slips)
    derived = any(reading.derived for slip in work.slips for reading in slip.readings)
    said = [f"{DERIVED} worked out from other readings, not read off the analyser"] if derived else []
    said += [f"{NOT_READ} not read"] if gaps else []
    for at in range(0, len(work.slips), _MOST_SLIPS):
        last = at + _MOST_SLIPS >= len(work.slips)
        title, note = ("" if at else "Readings"), ("; ".join(said) if last else "")
        _draw_some(sheet, work, work.slips[at : at + _MOST_SLIPS], title=title, note=note)


def _draw_some(sheet: Sheet, work: Work, slips: Sequence[Slip], *, title: str, note: str) -> None:
    columns = [Column("", _LABEL_WIDTH)]
    columns += [Column(slip_words(slip, work), _SLIP_WIDTH, "decimal") for slip in slips]
    found = [{_key(reading): reading for reading in slip.readings} for slip in slips]
    keys = list(dict.fromkeys(key for readings in found for key in readings))
    rows = [Row((_label(key), *(_cell(readings.get(key)) for readings in found))) for key in keys]
    draw_table(sheet, columns, rows, title=title, note=note)


def _key(reading: Reading) -> _Key:
    return reading.label, reading.unit, reading.basis


def _label(key: _Key) -> Content:
    label, unit, basis = key
    name = sentence(label_words(label))
    return content(f"{name}, {unit}" if unit else name, BODY, basis)


def _cell(reading: Reading | None) -> str:
    if reading is None or not reading.value:
        return NOT_READ
    return f"{reading.value} {DERIVED}" if reading.derived else reading.value
