"""The shipped rules of due dates, read from ``resources/rules``."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from flueleaf.domain.schedule.due import Rule
from flueleaf.paths import RESOURCES
from flueleaf.storage.tables.entries import Entries

FILE = RESOURCES / "rules" / "due_dates__2018.toml"


@cache
def due_rules() -> Mapping[str, Rule]:
    """Return the shipped rules by name, in the order of the file."""
    return read_due_rules(FILE)


def read_due_rules(path: Path) -> Mapping[str, Rule]:
    """Return the rules of a file by name.

    Raises:
        ValueError: names the file and what is wrong with it.
    """
    entries = Entries.of_file(path, "due dates")
    entries.edition()
    rules: dict[str, Rule] = {}
    for row in entries.rows("rule"):
        rule = _rule(row)
        row.done()
        if rule.name in rules:
            raise ValueError(f"{path.name}: rule {rule.name!r} is given twice")
        rules[rule.name] = rule
    entries.done()
    return MappingProxyType(rules)


def _rule(row: Entries) -> Rule:
    return Rule(
        name=row.text("name"),
        counts_from=row.text("counts_from"),
        months=row.whole("months", 0),
        days=row.whole("days", 0),
        window_months=row.whole("window_months", 0),
        renews=row.flag("renews"),
        why=row.text("why"),
        source=row.text("source"),
        checked=row.text("checked"),
    )
