"""Which limits apply to a slip: the maker's, quantity by quantity, else the rule tables'."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from flueleaf.domain.judging.assessment import Doubt, Whose
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.rule_table import RuleTable, Sense, editions_on, in_force
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import RATES, MakerLimits, Point, Rate, Window
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

    @property
    def place(self) -> tuple[str, Sense]:
        """The place only one limit may hold."""
        return self.quantity, self.sense

    def laxer_than(self, other: AppliedLimit) -> bool:
        """Whether it allows more than another limit of the same place."""
        return self.allows_more_than(other.limit)

    def allows_more_than(self, limit: Decimal) -> bool:
        """Whether it allows more than a figure in its place would."""
        return self.limit > limit if self.sense == "at most" else self.limit < limit


def tables_for(case: Case, rules: Iterable[RuleTable]) -> tuple[RuleTable, ...]:
    """Return the kind's rule tables as they stood on the day; work older than a table knows no limits of it.

    Raises:
        LookupError: a table is not known at all, or two of its editions count on one day.
    """
    known = tuple(rules)
    return tuple(
        in_force(known, table, case.date)
        for table in case.kind.tables
        if editions_on(known, table, case.date)
    )


def default_tolerances(case: Case, rules: Iterable[RuleTable]) -> RuleTable:
    """Return the default tolerances as they stood on the day, or the current ones for older work."""
    known = tuple(rules)
    on = case.date if editions_on(known, DEFAULT_TOLERANCES, case.date) else None
    return in_force(known, DEFAULT_TOLERANCES, on)


def limits_for(case: Case, tables: Iterable[RuleTable], point: Point, rate: Rate) -> tuple[AppliedLimit, ...]:
    """Return the limits of a slip, each place once."""
    found = {limit.place: limit for limit in _of_tables(case, tables, point, rate)}
    sourced = case.limits is not None and bool(case.limits.source.strip())
    for limit in _of_maker(case.limits, point, rate):
        table = found.get(limit.place)
        if table is None or sourced or not limit.laxer_than(table):
            found[limit.place] = limit
    return tuple(found.values())


def unsourced(case: Case, tables: Iterable[RuleTable]) -> tuple[Doubt, ...]:
    """Return a doubt for each maker's limit that is laxer than the table's and names no document."""
    if case.limits is None or case.limits.source.strip():
        return ()
    known = tuple(tables)
    found: dict[str, Doubt] = {}
    for rate in RATES:
        rules = [
            rule for table in known for rule in table.applying(kind=case.kind.name, point="flue", rate=rate)
        ]
        standing = {(rule.key, rule.sense): rule.limit for rule in rules}
        for limit in _of_maker(case.limits, "flue", rate):
            table_limit = standing.get(limit.place)
            if table_limit is not None and limit.allows_more_than(table_limit):
                found[limit.quantity] = _unsourced_doubt(limit, table_limit)
    return tuple(found.values())


def _unsourced_doubt(limit: AppliedLimit, table_limit: Decimal) -> Doubt:
    quantity = QUANTITIES[limit.quantity]
    unit = f" {quantity.unit}" if quantity.unit else ""
    text = said(
        "The maker's limit for {label} is entered as {limit:f}{unit}, which allows more than "
        "{table:f}{unit} of the table. Until the maker's document and page stand beside "
        "it, the table's limit counts.",
        label=quantity.label,
        limit=limit.limit,
        unit=unit,
        table=table_limit,
    )
    return Doubt("limit-unsourced", limit.quantity, text)


def _of_tables(case: Case, tables: Iterable[RuleTable], point: Point, rate: Rate) -> list[AppliedLimit]:
    return [
        AppliedLimit(
            quantity=rule.key,
            limit=rule.limit,
            sense=rule.sense,
            source="table",
            half_width=rule.half_width,
            source_text=table.source,
            table=table.table,
            edition=table.edition,
            clause=rule.clause,
            status=rule.status,
        )
        for table in tables
        for rule in table.applying(kind=case.kind.name, point=point, rate=rate)
        if rule.limit is not None
    ]


def _of_maker(limits: MakerLimits | None, point: Point, rate: Rate) -> list[AppliedLimit]:
    """Return the maker's limits of a rate; they are for the flue only."""
    if limits is None or point != "flue":
        return []
    document = limits.source.strip() or "the maker's instructions"
    found: list[AppliedLimit] = []
    for key, limit in (("co_ppm", limits.co_ppm), ("ratio", limits.ratio), ("smoke", limits.smoke)):
        if limit is not None:
            found.append(AppliedLimit(key, limit, "at most", "maker", source_text=document))
    windows: tuple[tuple[str, Window | None], ...] = (
        ("co2_pct", limits.co2_pct.get(rate)),
        ("o2_pct", limits.o2_pct.get(rate)),
    )
    for key, window in windows:
        if window is not None:
            found.append(AppliedLimit(key, window.low, "at least", "maker", source_text=document))
            found.append(AppliedLimit(key, window.high, "at most", "maker", source_text=document))
    return found
