"""The shipped appliance kinds, read from ``resources/kinds``.

A file ``<kind>.toml`` is a kind; the files of ``stages/`` are stages with their checks, those of ``notes/``
groups of what is written down; kinds share both, and may have checks of their own.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import MappingProxyType

from flueleaf.domain.judging.kind import (
    EXAMINED,
    SCOPES,
    SUPPLY,
    AfterWork,
    Check,
    Kind,
    Stage,
    WantedSlip,
)
from flueleaf.domain.judging.noted import NOTE_VALUES, Note
from flueleaf.domain.judging.rule_table import STATUSES
from flueleaf.domain.quantities import ON_SLIP
from flueleaf.domain.records.register import FLUES, POINTS, RATES, Point
from flueleaf.domain.records.visits import PURPOSES, Purpose
from flueleaf.paths import RESOURCES
from flueleaf.storage.tables.entries import Entries

KINDS = RESOURCES / "kinds"
LINES = 2
FEWEST_CHOICES = 2


@cache
def load_kinds() -> Mapping[str, Kind]:
    """Return the shipped kinds by name ("condensing boiler", …), in alphabetical order."""
    return read_kinds(KINDS)


def read_kinds(folder: Path) -> Mapping[str, Kind]:
    """Return the kinds of a folder by name.

    Raises:
        ValueError: names the file and the key that is wrong, or what is given twice.
    """
    parts = _Parts(
        {path.stem: _stage(path) for path in sorted((folder / "stages").glob("*.toml"))},
        {path.stem: _notes(path) for path in sorted((folder / "notes").glob("*.toml"))},
    )
    found: dict[str, Kind] = {}
    for path in sorted(folder.glob("*.toml")):
        kind = _kind(path, parts)
        if kind.name in found:
            raise ValueError(f"{path.name}: name: {kind.name!r} is given twice")
        found[kind.name] = kind
    return MappingProxyType(dict(sorted(found.items(), key=lambda pair: pair[0].casefold())))


def _entries(path: Path) -> Entries:
    try:
        return Entries(tomllib.loads(path.read_text(encoding="utf-8")), path.name)
    except ValueError as fault:
        raise ValueError(f"{path.name}: {fault}") from fault


@dataclass(frozen=True, slots=True)
class _Parts:
    """What kinds share, by the names of their files."""

    stages: Mapping[str, tuple[Stage, tuple[Check, ...]]]
    notes: Mapping[str, tuple[Note, ...]]


def _kind(path: Path, parts: _Parts) -> Kind:
    entries = _entries(path)
    names = entries.choices("stages", tuple(parts.stages))
    groups = entries.choices("notes", tuple(parts.notes), default=())
    points = entries.choices("points", POINTS)
    stages = [parts.stages[name] for name in names]
    own = [_own_check(row, [stage for stage, _ in stages]) for row in _rows(entries, "check")]
    kind = Kind(
        key=path.stem,
        name=entries.text("name"),
        flues=entries.choices("flues", FLUES),
        fuels=entries.texts("fuels"),
        points=points,
        tables=entries.texts("tables"),
        stages=tuple(stage for stage, _ in stages),
        checks=(*(check for _, checks in stages for check in checks), *own),
        wanted=tuple(_wanted(row, points, path.name) for row in _rows(entries, "slip")),
        air_leak_o2_pct=entries.decimal("air_leak_o2_pct") if entries.has("air_leak_o2_pct") else None,
        rates=entries.choices("rates", RATES, default=RATES),
        quantities=_quantities(entries, points),
        after_work=_after_work(entries),
        notes=tuple(note for name in groups for note in parts.notes[name]),
        not_asked=entries.texts("not_asked"),
        also=entries.texts("also"),
    )
    entries.done()
    _once(path.name, "stage", [stage.key for stage in kind.stages])
    _once(path.name, "check", [check.key for check in kind.checks])
    _once(path.name, "note", [note.key for note in kind.notes])
    _stand_together(path.name, kind)
    return kind


def _quantities(entries: Entries, points: tuple[Point, ...]) -> Mapping[Point, tuple[str, ...]]:
    if not entries.has("quantities"):
        return {}
    table = entries.inner("quantities")
    found = {point: table.choices(point, tuple(ON_SLIP)) for point in points if table.has(point)}
    table.done()
    return found


def _after_work(entries: Entries) -> AfterWork | None:
    if not entries.has("after_work"):
        return None
    table = entries.inner("after_work")
    found = AfterWork(
        table.text("law"), table.text("reason"), table.choices("examined", EXAMINED, default=())
    )
    table.done()
    return found


def _stand_together(file: str, kind: Kind) -> None:
    """Refuse what names something that the kind has not got."""
    stages = {stage.key for stage in kind.stages}
    checks = {check.key for check in kind.checks}
    for note in kind.notes:
        if note.stage not in stages:
            raise ValueError(
                f"{file}: note {note.key!r}: stage {note.stage!r}; accepted: {', '.join(stages)}"
            )
    for key in kind.not_asked:
        if key not in checks:
            raise ValueError(f"{file}: not_asked: {key!r} is no check")
    for check in kind.checks:
        if check.instead_of and check.instead_of not in checks:
            raise ValueError(f"{file}: check {check.key!r}: instead_of {check.instead_of!r} is no check")


def _once(file: str, what: str, keys: list[str]) -> None:
    for key in keys:
        if keys.count(key) > 1:
            raise ValueError(f"{file}: {what} {key!r} is given twice")


def _rows(entries: Entries, key: str) -> list[Entries]:
    return entries.rows(key) if entries.has(key) else []


def _stage(path: Path) -> tuple[Stage, tuple[Check, ...]]:
    entries = _entries(path)
    stage = Stage(
        key=entries.text("key"),
        lines=_lines(entries, path.name),
        caution=_caution(entries),
        purposes=entries.choices("purposes", PURPOSES, default=PURPOSES),
        flues=entries.choices("flues", FLUES, default=()),
        supply=entries.choices("supply", SUPPLY, default=()),
    )
    checks = tuple(_check(row, stage) for row in _rows(entries, "check"))
    entries.done()
    return stage, checks


def _lines(entries: Entries, file: str) -> tuple[str, ...]:
    lines = entries.texts("lines")
    if len(lines) != LINES:
        raise ValueError(f"{file}: lines: {len(lines)}; accepted: {LINES} texts")
    return lines


def _caution(entries: Entries) -> str:
    return entries.text("caution") if entries.has("caution") else ""


def _own_check(row: Entries, stages: list[Stage]) -> Check:
    key = row.choice("stage", [stage.key for stage in stages])
    return _check(row, next(stage for stage in stages if stage.key == key))


def _check(row: Entries, stage: Stage) -> Check:
    check = Check(
        key=row.text("key"),
        stage=stage.key,
        question=row.text("question"),
        purposes=row.choices("purposes", PURPOSES, default=stage.purposes),
        source=row.text("source"),
        status=row.choice("status", STATUSES),
        caution=_caution(row),
        scope=row.choice("scope", SCOPES) if row.has("scope") else "appliance",
        anew=row.flag("anew"),
        flues=row.choices("flues", FLUES, default=()),
        stops=row.flag("stops"),
        instead_of=row.text("instead_of") if row.has("instead_of") else "",
    )
    row.done()
    return check


def _wanted(row: Entries, points: tuple[str, ...], file: str) -> WantedSlip:
    wanted = WantedSlip(
        point=row.choice("point", [point for point in POINTS if point in points]),
        rate=row.choice("rate", RATES),
        purposes=row.choices("purposes", PURPOSES),
        lines=_lines(row, f"{file}: slip"),
        caution=_caution(row),
        flues=row.choices("flues", FLUES, default=()),
    )
    row.done()
    return wanted


def _notes(path: Path) -> tuple[Note, ...]:
    entries = _entries(path)
    group, stage = entries.text("title"), entries.text("stage")
    purposes = entries.choices("purposes", PURPOSES, default=PURPOSES)
    notes = tuple(_note(row, group, stage, purposes) for row in entries.rows("note"))
    for note in notes:
        if note.value == "choice" and len(note.choices) < FEWEST_CHOICES:
            raise ValueError(f"{path.name}: {note.key}: choices: {len(note.choices)}; accepted: at least two")
    entries.done()
    return notes


def _note(row: Entries, group: str, stage: str, purposes: tuple[Purpose, ...]) -> Note:
    value = row.choice("value", NOTE_VALUES) if row.has("value") else "text"
    number = value == "number"
    note = Note(
        key=row.text("key"),
        group=group,
        stage=stage,
        label=row.text("label"),
        value=value,
        purposes=row.choices("purposes", PURPOSES, default=purposes),
        flues=row.choices("flues", FLUES, default=()),
        unit=row.text("unit") if number and row.has("unit") else "",
        low=row.decimal("low") if number else Decimal(0),
        high=row.decimal("high") if number else Decimal(0),
        decimals=row.whole("decimals", 0) if number else 0,
        choices=row.texts("choices") if value == "choice" else (),
        keeps=row.flag("keeps"),
    )
    row.done()
    return note
