"""The shipped limit tables, read from ``resources/rules/limits``."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from flueleaf.domain.judging.rule_table import SENSES, STATUSES, Rule, RuleTable
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import POINTS, RATES, Tolerance
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
    found = RuleTable(
        table=table,
        title=entries.text("title"),
        edition=edition.edition,
        source=edition.source,
        valid_from=edition.valid_from,
        valid_to=edition.valid_to,
        checked=edition.checked,
        rules=tuple(_rule(row, path.name) for row in _rows(entries, "limit")),
        tolerances=dict(_tolerance(row) for row in _rows(entries, "tolerance")),
    )
    entries.done()
    return found


def _rows(entries: Entries, key: str) -> list[Entries]:
    return entries.rows(key) if entries.has(key) else []


def _rule(row: Entries, file: str) -> Rule:
    rule = Rule(
        key=row.choice("key", tuple(QUANTITIES)),
        unit=row.text("unit") if row.has("unit") else "",
        sense=row.choice("sense", SENSES),
        limit=row.decimal("limit") if row.has("limit") else None,
        points=row.choices("points", POINTS),
        rates=row.choices("rates", RATES),
        status=row.choice("status", STATUSES),
        kinds=row.texts("kinds"),
        clause=row.text("clause") if row.has("clause") else "",
        half_width=row.decimal("half_width") if row.has("half_width") else None,
        note=row.text("note") if row.has("note") else "",
    )
    row.done()
    if rule.unit != QUANTITIES[rule.key].unit:
        raise ValueError(f"{file}: {rule.key}: unit {rule.unit!r} is not that of the quantity")
    if (rule.limit is None) != (rule.status == "empty"):
        raise ValueError(f"{file}: {rule.key}: a limit and the status “empty” exclude each other")
    return rule


def _tolerance(row: Entries) -> tuple[str, Tolerance]:
    key = row.choice("key", tuple(QUANTITIES))
    widths = {name: row.decimal(name) for name in ("abs", "rel") if row.has(name)}
    row.done()
    return key, Tolerance(**widths)
