"""The shipped appliance kinds, read from ``resources/kinds``.

A file ``<kind>.toml`` is a kind; the files of ``stages/`` are stages with their checks, shared by kinds.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from flueleaf.domain.judging.kind import SCOPES, Check, Kind, Stage, WantedSlip
from flueleaf.domain.judging.rule_table import STATUSES
from flueleaf.domain.records.register import FLUES, POINTS, RATES
from flueleaf.domain.records.visits import PURPOSES
from flueleaf.paths import RESOURCES
from flueleaf.storage.tables.entries import Entries

KINDS = RESOURCES / "kinds"
LINES = 2


@cache
def load_kinds() -> Mapping[str, Kind]:
    """Return the shipped kinds by name ("condensing boiler", …), in alphabetical order."""
    return read_kinds(KINDS)


def read_kinds(folder: Path) -> Mapping[str, Kind]:
    """Return the kinds of a folder by name.

    Raises:
        ValueError: names the file and the key that is wrong, or what is given twice.
    """
    stages = {path.stem: _stage(path) for path in sorted((folder / "stages").glob("*.toml"))}
    found: dict[str, Kind] = {}
    for path in sorted(folder.glob("*.toml")):
        kind = _kind(path, stages)
        if kind.name in found:
            raise ValueError(f"{path.name}: name: {kind.name!r} is given twice")
        found[kind.name] = kind
    return MappingProxyType(dict(sorted(found.items())))


def _entries(path: Path) -> Entries:
    try:
        return Entries(tomllib.loads(path.read_text(encoding="utf-8")), path.name)
    except ValueError as fault:
        raise ValueError(f"{path.name}: {fault}") from fault


def _kind(path: Path, stages: Mapping[str, tuple[Stage, tuple[Check, ...]]]) -> Kind:
    entries = _entries(path)
    names = entries.choices("stages", tuple(stages))
    points = entries.choices("points", POINTS)
    kind = Kind(
        key=path.stem,
        name=entries.text("name"),
        flues=entries.choices("flues", FLUES),
        fuels=entries.texts("fuels"),
        points=points,
        tables=entries.texts("tables"),
        stages=tuple(stages[name][0] for name in names),
        checks=tuple(check for name in names for check in stages[name][1]),
        wanted=tuple(_wanted(row, points, path.name) for row in _rows(entries, "slip")),
        air_leak_o2_pct=entries.decimal("air_leak_o2_pct") if entries.has("air_leak_o2_pct") else None,
    )
    entries.done()
    _once(path.name, "stage", [stage.key for stage in kind.stages])
    _once(path.name, "check", [check.key for check in kind.checks])
    return kind


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
        anew=row.flag("anew") if row.has("anew") else False,
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
    )
    row.done()
    return wanted
