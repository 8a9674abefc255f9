"""Which limits apply to a slip: the maker's, quantity by quantity, else the rule tables'."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from flueleaf.domain.judging.assessment import Doubt, OtherLimit, Whose
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.rule_table import Rule, RuleTable, Sense, editions_on, in_force
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import RATES, MakerLimits, Point, Rate
from flueleaf.domain.words import said

# The key of the table whose tolerances count where an instrument states none.
DEFAULT_TOLERANCES = "instrument_tolerance"


@dataclass(frozen=True, slots=True)
class AppliedLimit:
    """One limit with its origin; see ``Judged`` and ``Rule`` for the attributes."""

    quantity: str
    limit: Decimal
    sense: Sense
    source: Whose
    half_width: Decimal | None = None
    source_text: str = ""
    table: str = ""
    edition: str = ""
    clause: str = ""
    status: str = ""
    also: OtherLimit | None = None

    @property
    def place(self) -> tuple[str, Sense]:
        """The place only one limit may hold."""
        return self.quantity, self.sense

    def laxer_than(self, other: AppliedLimit) -> bool:
        """Whether it allows more than another limit of the same place."""
        return _allows_more(self.sense, self.limit, other.limit)

    def before(self, other: AppliedLimit) -> AppliedLimit:
        """Return this limit, which counts before another of its place; that one is named where it differs."""
        if other.limit == self.limit:
            return self
        named = ", ".join(part for part in (other.source_text, other.edition, other.clause) if part)
        return replace(self, also=OtherLimit(other.limit, other.source, named, other.status))


def _allows_more(sense: Sense, limit: Decimal, other: Decimal) -> bool:
    return limit > other if sense == "at most" else limit < other


def tables_for(case: Case, rules: Iterable[RuleTable]) -> tuple[RuleTable, ...]:
    """Return the kind's rule tables as they stood on the day; work older than a table knows no limits of it.

    Raises:
        LookupError: a table is not known at all, or two of its editions count on one day.
    """
    known = tuple(rules)
    return tuple(
        found for table in case.kind.tables if (found := _edition(known, table, case.date)) is not None
    )


def _edition(rules: tuple[RuleTable, ...], table: str, on: dt.date | None) -> RuleTable | None:
    """Return the one edition of a table that counts on a day, None where the table is younger."""
    hits = editions_on(rules, table, on)
    if len(hits) == 1:
        (only,) = hits
        return only
    return in_force(hits, table, on) if hits else None


def default_tolerances(case: Case, rules: Iterable[RuleTable]) -> RuleTable:
    """Return the default tolerances as they stood on the day, or the current ones for older work."""
    known = tuple(rules)
    return _edition(known, DEFAULT_TOLERANCES, case.date) or in_force(known, DEFAULT_TOLERANCES, None)


def limits_for(case: Case, tables: Iterable[RuleTable], point: Point, rate: Rate) -> tuple[AppliedLimit, ...]:
    """Return the limits of a slip, each place once."""
    found = {limit.place: limit for limit in _of_tables(case, tables, point, rate)}
    sourced = case.limits is not None and bool(case.limits.source.strip())
    for limit in _of_maker(case.limits, point, rate):
        table = found.get(limit.place)
        if table is None:
            found[limit.place] = limit
        elif sourced or not limit.laxer_than(table):
            found[limit.place] = limit.before(table)
        else:
            found[limit.place] = table.before(limit)
    return tuple(found.values())


def unsourced(case: Case, tables: Iterable[RuleTable]) -> tuple[Doubt, ...]:
    """Return a doubt for each maker's limit that is laxer than the table's and names no document."""
    if case.limits is None or case.limits.source.strip():
        return ()
    known = tuple(tables)
    found: dict[str, Doubt] = {}
    for rate in RATES:
        figures = {(key, sense): limit for key, sense, limit in _maker_figures(case.limits, rate)}
        for table in known:
            for rule in table.applying(kind=case.kind.name, point="flue", rate=rate):
                limit = figures.get((rule.key, rule.sense))
                if limit is None or rule.limit is None or not _allows_more(rule.sense, limit, rule.limit):
                    continue
                found[rule.key] = _unsourced_doubt(rule.key, limit, rule.limit)
    return tuple(found.values())


def _unsourced_doubt(key: str, limit: Decimal, table_limit: Decimal) -> Doubt:
    quantity = QUANTITIES[key]
    unit = f" {quantity.unit}" if quantity.unit else ""
    text = said(
        "The maker's limit for {label} is entered as {limit:f}{unit}, which allows more than "
        "{table:f}{unit} of the table. Until the maker's document and page stand beside "
        "it, the table's limit counts.",
        label=quantity.label,
        limit=limit,
        unit=unit,
        table=table_limit,
    )
    return Doubt("limit-unsourced", key, text)


def _of_tables(case: Case, tables: Iterable[RuleTable], point: Point, rate: Rate) -> list[AppliedLimit]:
    return [
        _of_rule(table, rule, rule.limit)
        for table in tables
        for rule in table.applying(kind=case.kind.name, point=point, rate=rate)
        if rule.limit is not None
    ]


def _of_rule(table: RuleTable, rule: Rule, limit: Decimal) -> AppliedLimit:
    """Return a table's limit; one of the owner's names the shipped limit it was taken before."""
    entered = AppliedLimit(
        quantity=rule.key,
        limit=limit,
        sense=rule.sense,
        source="table",
        half_width=rule.half_width,
        source_text=rule.source or table.source,
        table=table.table,
        edition=rule.edition or table.edition,
        clause=rule.clause,
        status=rule.status,
    )
    if rule.shipped is None:
        return entered
    shipped = replace(entered, limit=rule.shipped, source_text=table.source, edition=table.edition)
    return entered.before(replace(shipped, clause="", status=""))


def _of_maker(limits: MakerLimits | None, point: Point, rate: Rate) -> list[AppliedLimit]:
    """Return the maker's limits of a rate; they are for the flue only."""
    if limits is None or point != "flue":
        return []
    document = limits.source.strip() or "the maker’s instructions"
    return [
        AppliedLimit(key, limit, sense, "maker", source_text=document)
        for key, sense, limit in _maker_figures(limits, rate)
    ]


def _maker_figures(limits: MakerLimits, rate: Rate) -> list[tuple[str, Sense, Decimal]]:
    """Return quantity, sense and figure of each limit of the maker's at a rate; a window is two."""
    found: list[tuple[str, Sense, Decimal]] = []
    for key, limit in (("co_ppm", limits.co_ppm), ("ratio", limits.ratio), ("smoke", limits.smoke)):
        if limit is not None:
            found.append((key, "at most", limit))
    for key, windows in (("co2_pct", limits.co2_pct), ("o2_pct", limits.o2_pct)):
        window = windows.get(rate)
        if window is not None:
            found += [(key, "at least", window.low), (key, "at most", window.high)]
    return found
