"""The shipped procedures, read from ``resources/procedures``: a file is a procedure."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from flueleaf.domain.judging.rule_table import STATUSES
from flueleaf.domain.judging.steps import (
    BYS,
    ONWARD,
    RESULTS,
    STATES,
    By,
    Ending,
    Procedure,
    Result,
    Step,
)
from flueleaf.domain.records.register import FLUES, POINTS, RATES
from flueleaf.domain.records.visits import OUTCOMES, PURPOSES, Purpose
from flueleaf.paths import RESOURCES
from flueleaf.storage.tables.entries import Entries

PROCEDURES = RESOURCES / "procedures"


@cache
def load_procedures() -> tuple[Procedure, ...]:
    """Return the shipped procedures, in alphabetical order of their files."""
    return read_procedures(PROCEDURES)


def read_procedures(folder: Path) -> tuple[Procedure, ...]:
    """Return the procedures of a folder.

    Raises:
        ValueError: names the file, the step and the key that is wrong; also where a way leads nowhere, where
            a result has no way, where two procedures are for the same appliances.
    """
    found = tuple(_procedure(path) for path in sorted(folder.glob("*.toml")))
    _once("procedures", "flue and fuel", [f"{flue}, {one.state}" for one in found for flue in one.flues])
    return found


def _procedure(path: Path) -> Procedure:
    try:
        entries = Entries(tomllib.loads(path.read_text(encoding="utf-8")), path.name)
    except ValueError as fault:
        raise ValueError(f"{path.name}: {fault}") from fault
    found = Procedure(
        key=path.stem,
        title=entries.text("title"),
        flues=entries.choices("flues", FLUES),
        state=entries.choice("fuel", STATES),
        steps=tuple(_step(row, path.name) for row in entries.rows("step")),
        endings=tuple(_ending(row, path.name) for row in entries.rows("ending")),
    )
    entries.done()
    _once(path.name, "step", [step.key for step in found.steps])
    _once(path.name, "outcome", [outcome for ending in found.endings for outcome in ending.outcomes])
    _check_ways(path.name, found.steps)
    return found


def _once(file: str, what: str, keys: Sequence[str]) -> None:
    for key in keys:
        if keys.count(key) > 1:
            raise ValueError(f"{file}: {what} {key!r} is given twice")


def _check_ways(file: str, steps: Sequence[Step]) -> None:
    known = {step.key: step for step in steps}
    for step in steps:
        for key in (key for keys in step.ways.values() for key in keys):
            if key not in known:
                raise ValueError(f"{file}: {step.key}: a way leads to {key!r}, which is no step")
        for key in step.ways.get("again", ()):
            if known[key].by == "remedy":
                raise ValueError(f"{file}: {step.key}: again leads to {key!r}, which is a remedy itself")


def _step(row: Entries, file: str) -> Step:
    by = row.choice("by", BYS)
    key = row.text("key")
    step = Step(
        key=key,
        title=row.text("title"),
        does=row.text("does"),
        by=by,
        source=row.text("source"),
        status=row.choice("status", STATUSES),
        checks=row.texts("checks"),
        point=row.choice("point", POINTS) if by == "slip" else None,
        rate=row.choice("rate", RATES) if by == "slip" else None,
        ways=_ways(row.mapping("ways"), by, f"{file}: {key}"),
    )
    row.done()
    if bool(step.checks) != (by == "checks"):
        raise ValueError(f"{file}: {key}: checks belong to a step that checks tell of, and only there")
    return step


def _ways(table: Mapping[str, Any], by: By, where: str) -> Mapping[Result, tuple[str, ...]]:
    """Return where each result leads; what no limit is known for goes the good way."""
    ways: dict[Result, tuple[str, ...]] = {}
    for result in RESULTS[by]:
        if result == "without limit":
            ways[result] = ways[ONWARD[by]]
            continue
        keys = table.get(result)
        if not isinstance(keys, list) or not all(isinstance(key, str) for key in keys):
            raise ValueError(f"{where}: ways: {result!r} wants a list of steps")
        ways[result] = tuple(keys)
    if unknown := set(table) - set(RESULTS[by]):
        raise ValueError(f"{where}: ways: no step told by {by} has the results {sorted(unknown)}")
    return ways


def _ending(row: Entries, file: str) -> Ending:
    titles = row.mapping("titles") if row.has("titles") else {}
    named: dict[Purpose, str] = {one: str(titles[one]) for one in PURPOSES if one in titles}
    if len(named) != len(titles):
        raise ValueError(f"{file}: titles: accepted: {', '.join(PURPOSES)}")
    ending = Ending(
        key=row.text("key"),
        title=row.text("title"),
        outcomes=row.choices("outcomes", OUTCOMES),
        does=row.text("does"),
        whole=row.flag("whole"),
        titles=named,
    )
    row.done()
    return ending
