"""The owner's own limits put into the rule tables: what the owner read in the own copy fills a slot.

An entry counts from its first day for the edition in which that day lies. It goes on into a later edition
only where that edition's slot does not judge by itself. Of several entries the one entered last counts, from
its own first day on.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace

from flueleaf.domain.judging.rule_table import OPEN_TO_OWNER, OWNERS, Rule, RuleTable
from flueleaf.domain.records.owned import OwnLimit
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import said

ONE_DAY = dt.timedelta(days=1)


def slot_key(table: RuleTable, rule: Rule) -> str:
    """Return the name under which the owner's entries of a slot are kept, ``<table>.<slot>``."""
    return f"{table.table}.{rule.slot}"


def with_own(tables: Iterable[RuleTable], entries: Sequence[OwnLimit]) -> tuple[RuleTable, ...]:
    """Return the tables with the owner's entries in their slots.

    An edition within which an entry begins becomes two, one up to the day before and one from that day: what
    counts on a day is still one edition.

    Args:
        tables: every edition of every table.
        entries: every entry there ever was, in the order they were entered.
    """
    if not entries:
        return tuple(tables)
    return tuple(part for table in tables for part in _parts(table, entries))


def _parts(table: RuleTable, entries: Sequence[OwnLimit]) -> list[RuleTable]:
    slots = {slot_key(table, rule) for rule in table.rules}
    own = [entry for entry in entries if entry.slot in slots]
    if not own:
        return [table]
    begins = {entry.valid_from for entry in own if table.covers(entry.valid_from)}
    firsts = sorted({table.valid_from, *begins})
    lasts = [*(first - ONE_DAY for first in firsts[1:]), table.valid_to]
    return [
        replace(
            table,
            valid_from=first,
            valid_to=last,
            rules=tuple(_rule(table, rule, own, first) for rule in table.rules),
        )
        for first, last in zip(firsts, lasts, strict=True)
    ]


def _rule(table: RuleTable, rule: Rule, own: Sequence[OwnLimit], on: dt.date) -> Rule:
    """Return a rule with what the owner's entry of a day says in it, or as it is."""
    key = slot_key(table, rule)
    counting = [entry for entry in own if entry.slot == key and entry.valid_from <= on]
    if not counting or rule.status not in OPEN_TO_OWNER:
        return rule
    entry = counting[-1]
    if entry.limit is None or (entry.valid_from < table.valid_from and rule.judges):
        return rule
    return replace(
        rule,
        limit=entry.limit,
        status=OWNERS,
        source=said(
            "entered by the engineer from {document}, valid from {date}",
            document=entry.source,
            date=in_words(entry.valid_from),
        ),
        edition=entry.edition,
        clause=entry.clause,
        shipped=rule.limit if rule.judges else None,
    )
