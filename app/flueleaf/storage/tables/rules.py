"""The shipped limit tables, read from ``resources/rules/limits``."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from flueleaf.domain.judging.rule_table import SENSES, STATUSES, Rule, RuleTable
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import POINTS, RATES, Point, Rate, Tolerance
from flueleaf.paths import RESOURCES
from flueleaf.storage.tables.entries import Entries

LIMITS = RESOURCES / "rules" / "limits"


@cache
def load_rules() -> tuple[RuleTable, ...]:
    """Return every edition of every shipped limit table."""
    return read_rules(LIMITS)


def read_rules(folder: Path) -> tuple[RuleTable, ...]:
    """Return the limit tables of a folder; a file is called ``<table>__<year>.toml``.

    Raises:
        ValueError: names the file, the entry and the key that is wrong.
    """
    return tuple(_read(path) for path in sorted(folder.glob("*.toml")))


def _read(path: Path) -> RuleTable:
    table = path.stem.partition("__")[0]
    entries = Entries.of_file(path, table)
    edition = entries.edition()
    if edition.checked.partition(":")[0] not in STATUSES:
        raise ValueError(
            f"{path.name}: checked: {edition.checked!r} begins with none of {', '.join(STATUSES)}"
        )
    limits = [_rule(row, path.name) for row in _rows(entries, "limit")]
    found = RuleTable(
        table=table,
        title=entries.text("title"),
        edition=edition.edition,
        source=edition.source,
        valid_from=edition.valid_from,
        valid_to=edition.valid_to,
        checked=edition.checked,
        rules=(*limits, *(_information(row, path.name) for row in _rows(entries, "information"))),
        tolerances=dict(_tolerance(row) for row in _rows(entries, "tolerance")),
    )
    entries.done()
    slots = [rule.slot for rule in found.rules]
    for slot in slots:
        if slots.count(slot) > 1:
            raise ValueError(f"{path.name}: slot {slot!r} is given twice")
    return found


def _rows(entries: Entries, key: str) -> list[Entries]:
    return entries.rows(key) if entries.has(key) else []


def _rule(row: Entries, file: str) -> Rule:
    rule = Rule(
        key=row.choice("key", tuple(QUANTITIES)),
        unit=_text(row, "unit"),
        sense=row.choice("sense", SENSES),
        limit=row.decimal("limit") if row.has("limit") else None,
        points=row.choices("points", POINTS),
        rates=row.choices("rates", RATES),
        status=row.choice("status", STATUSES),
        kinds=row.texts("kinds"),
        clause=_text(row, "clause"),
        half_width=row.decimal("half_width") if row.has("half_width") else None,
        note=_text(row, "note"),
        slot=row.text("slot"),
        title=row.text("title"),
    )
    row.done()
    if rule.unit != QUANTITIES[rule.key].unit:
        raise ValueError(f"{file}: {rule.key}: unit {rule.unit!r} is not that of the quantity")
    return _filled(rule, file)


def _information(row: Entries, file: str) -> Rule:
    """Read a figure that is shown beside a reading and never judges it; its unit is its own."""
    no_points: tuple[Point, ...] = ()
    no_rates: tuple[Rate, ...] = ()
    rule = Rule(
        key="",
        unit=row.text("unit"),
        sense=row.choice("sense", SENSES),
        limit=row.decimal("limit") if row.has("limit") else None,
        points=row.choices("points", POINTS, default=no_points),
        rates=no_rates,
        status=row.choice("status", STATUSES),
        clause=_text(row, "clause"),
        note=_text(row, "note"),
        slot=row.text("slot"),
        title=row.text("title"),
        information=True,
        over=_text(row, "over"),
    )
    row.done()
    return _filled(rule, file)


def _filled(rule: Rule, file: str) -> Rule:
    if (rule.limit is None) != (rule.status == "empty"):
        raise ValueError(f"{file}: {rule.slot}: a limit and the status “empty” exclude each other")
    return rule


def _text(row: Entries, key: str) -> str:
    return row.text(key) if row.has(key) else ""


def _tolerance(row: Entries) -> tuple[str, Tolerance]:
    key = row.choice("key", tuple(QUANTITIES))
    widths = {name: row.decimal(name) for name in ("abs", "rel") if row.has(name)}
    row.done()
    return key, Tolerance(**widths)
