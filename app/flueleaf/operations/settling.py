"""When a logged run had settled: from a file, or from values typed while it goes on."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

from flueleaf.domain.judging.settling import LEAD, Settling, Trace, settle, settled_at_end
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import InstrumentId
from flueleaf.domain.words import said
from flueleaf.operations.intake.log_cells import decimals
from flueleaf.operations.intake.log_columns import GASES, KEYS, columns_of
from flueleaf.operations.intake.logged_run import digit_of, read_run, read_sheet
from flueleaf.storage import attachments, register
from flueleaf.storage.book import Book

SAMPLES = 3  # lines shown where columns are chosen
MOST_KEPT_BYTES = 5_000_000  # a run of a day, a reading a second
MEDIA_TYPE = "text/csv"
LONGEST_NAME = 200


@dataclass(frozen=True, slots=True)
class RunPage:
    """What is shown of a logged run.

    Attributes:
        header: the names of its columns.
        samples: its first lines.
        columns: by key (``time``, ``co_ppm`` …), the header of the column found or chosen.
        traces: by quantity key, what was read; empty where it could not be.
        settling: what can be said of it; None where it could not be read.
        problem: why it could not be read, "" where it could.
    """

    header: tuple[str, ...]
    samples: tuple[Sequence[str], ...]
    columns: Mapping[str, str]
    traces: Mapping[str, Trace] = field(default_factory=dict)
    settling: Settling | None = None
    problem: str = ""


@dataclass(frozen=True, slots=True)
class KeptRun:
    """The file of a logged run in the book: the id it is read by, and what it is called."""

    id: int
    name: str


def read_file(path: Path) -> bytes:
    """Return the bytes of a file.

    Raises:
        UserProblem: it cannot be read.
    """
    try:
        return path.read_bytes()
    except OSError as error:
        raise UserProblem(said("{name} cannot be read.", name=path.name)) from error


def look(data: bytes, *, name: str, named: Mapping[str, str], wheres: Mapping[str, str]) -> RunPage:
    """Return what can be shown of a file, whether or not its columns are known.

    Args:
        data: its bytes.
        name: what to call it in a message.
        named: by key, the header chosen for it; one the file does not have is not held against it.
        wheres: by key, what to call its column in a message.

    Raises:
        Refused: it holds no table.
    """
    sheet = read_sheet(data, name, named)
    there = {key: header for key, header in named.items() if header in sheet.header}
    columns, _ = columns_of(sheet.header, there, wheres)
    samples = tuple(cells for _, cells in sheet.rows[:SAMPLES])
    page = RunPage(sheet.header, samples, {key: column.header for key, column in columns.items()})
    try:
        run = read_run(sheet, there, wheres)
    except Refused as problem:
        return dataclasses.replace(page, problem=problem.text)
    found = settle(run.traces, run.beside)
    return dataclasses.replace(page, columns=run.columns, traces=run.traces, settling=found)


def typed_so_far(typed: Sequence[tuple[dt.datetime, Decimal]]) -> Settling:
    """Return whether CO values typed at intervals have settled at their end.

    Args:
        typed: moment and value, ppm, in the order typed; a clock that was set back counts as standing still.
    """
    times: list[Decimal] = []
    for moment, _ in typed:
        since = Decimal(str((moment - typed[0][0]).total_seconds()))
        times.append(max(since, times[-1]) if times else since)
    values = [value for _, value in typed]
    digit = digit_of(max(map(decimals, values), default=0), QUANTITIES[LEAD])
    return settled_at_end({LEAD: Trace(times, values, digit)})


def texts_of(settling: Settling) -> dict[str, str]:
    """Return what a slip is filled with: the medians with their digits, unrounded."""
    return {key: _digits(key, value) for key, value in settling.medians.items()}


def columns_known(book: Book, instrument_id: InstrumentId) -> Mapping[str, str]:
    """Return, by key, the columns of an analyser's runs as they were chosen last."""
    return register.instrument(book.con, instrument_id).log_columns


def remember_columns(book: Book, instrument_id: InstrumentId, columns: Mapping[str, str]) -> None:
    """Keep which columns an analyser's runs have, for the next one."""
    with book.writing() as tx:
        known = register.instrument(tx.conn, instrument_id)
        if dict(known.log_columns) != dict(columns):
            register.update_instrument(tx, dataclasses.replace(known, log_columns=dict(columns)))


def keep_run(book: Book, visit_id: str, data: bytes, *, name: str = "", now: dt.datetime) -> bool:
    """Keep the file of a run with a draft, as it is; returns whether it was small enough.

    Args:
        book: the book.
        visit_id: of the draft, which is in the book.
        data: the bytes of the file.
        name: what to call it: its file, and the slip that it filled.
        now: the moment, with its zone.
    """
    if len(data) > MOST_KEPT_BYTES:
        return False
    with book.writing() as tx:
        added = attachments.add(tx, visit_id, data, kind="other", media_type=MEDIA_TYPE, added=now)
        attachments.change(tx, added.id, note=name[:LONGEST_NAME])
    return True


def kept_runs(book: Book, visit_id: str) -> tuple[KeptRun, ...]:
    """Return the runs kept with a draft or a visit, in the order they were added."""
    there = attachments.of_visit(book.con, visit_id)
    return tuple(KeptRun(one.id, one.note) for one in there if one.media_type == MEDIA_TYPE)


def run_of(book: Book, kept: KeptRun) -> bytes:
    """Return the bytes of a kept run, as its file was.

    Raises:
        UserProblem: it is not in the book any more.
    """
    try:
        return attachments.body(book.con, kept.id)
    except LookupError as error:
        raise UserProblem(said("That run is not in the book any more.")) from error


def settle_document(data: bytes, *, name: str, named: Mapping[str, str]) -> dict[str, Any]:
    """Return the result of ``flueleaf settle``.

    Args:
        data: the bytes of the file.
        name: what to call it in a message.
        named: by key (``time``, ``co_ppm``, ``o2_pct``, ``co2_pct``), the header given for its column.

    Raises:
        Refused: naming every fault by line and column.
    """
    run = read_run(read_sheet(data, name, named), named, {key: f"--{_option(key)}" for key in KEYS})
    return settling_json(settle(run.traces))


def settling_json(settling: Settling) -> dict[str, Any]:
    """Return what can be said of a run in the shape of the headless contract; numbers are unrounded."""
    movement = settling.movements.get(LEAD)
    return {
        "settled": settling.settled,
        "from_s": settling.from_s if settling.settled else None,
        "to_s": settling.to_s if settling.settled else None,
        **{key: settling.medians.get(key) if settling.settled else None for key in GASES},
        "slope_ppm_per_min": movement.per_min if movement else None,
        "spread_ppm": movement.spread if movement else None,
    }


def _digits(key: str, value: Decimal) -> str:
    """Return a number as it is, without zeros that another unit or a mean has put behind it."""
    usual = QUANTITIES[key].decimals
    text = f"{value:f}"
    while decimals(Decimal(text)) > usual and text.endswith("0"):
        text = text[:-1]
    return text.rstrip(".")


def _option(key: str) -> str:
    return key.partition("_")[0]
