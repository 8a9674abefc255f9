"""What the owner enters beside the shipped tables: limits from the own copy of a standard, and fuels."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.own_limits import slot_key
from flueleaf.domain.judging.rule_table import OPEN_TO_OWNER, Rule, RuleTable
from flueleaf.domain.problems import Fault, Refused, UserProblem
from flueleaf.domain.quantities import QUANTITIES, Quantity
from flueleaf.domain.records.owned import OwnFuel, OwnLimit
from flueleaf.domain.words import said
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.intake.fuel import read_fuel
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.tables import of_book, shipped, tables_of
from flueleaf.storage import owned
from flueleaf.storage.book import Book
from flueleaf.storage.rows import dump, key_of

LONGEST_NAME = 60
# Beyond any pressure, time or guide figure of the trade; it keeps a slip of the pen out. Common practice.
BIGGEST_FIGURE = Decimal(100_000)
_TABLES = frozenset({Topic.TABLES})


@dataclass(frozen=True, slots=True)
class Slot:
    """One slot of a rule table as it stands on a day.

    Attributes:
        key: ``<table>.<slot>``; group: the table's title.
        rule: what counts, with the owner's entry in it where there is one; its points are where it applies.
        proposal: the rule as shipped: empty, recalled, or counting by itself.
        edition, source: behind what counts.
        quantity: what its limit may be.
        entries: what the owner entered, newest first.
    """

    key: str
    group: str
    rule: Rule
    proposal: Rule
    edition: str
    source: str
    quantity: Quantity
    entries: tuple[OwnLimit, ...] = ()

    @property
    def open(self) -> bool:
        """Whether the owner may fill it."""
        return self.proposal.status in OPEN_TO_OWNER


def slots(book: Book, today: dt.date) -> tuple[Slot, ...]:
    """Return every slot of the tables that count on a day, table by table."""
    entries = owned.limits(book.con)
    bare = {
        slot_key(table, rule): rule for table in _standing(shipped().rules, today) for rule in table.rules
    }
    return tuple(
        _slot(table, rule, bare[slot_key(table, rule)], entries)
        for table in _standing(tables_of(book.con).rules, today)
        for rule in table.rules
    )


def slot(book: Book, key: str, today: dt.date) -> Slot:
    """Return one slot.

    Raises:
        UserProblem: there is none of that name.
    """
    for found in slots(book, today):
        if found.key == key:
            return found
    raise UserProblem(said("There is no slot called “{key}” in the rule tables.", key=key))


def enter_limit(book: Book, key: str, document: object, *, at: dt.datetime) -> Changes:
    """Enter what the own copy of a standard says for a slot; earlier entries stay and are listed.

    Args:
        book: the book.
        key: of the slot.
        document: ``limit``, ``edition``, ``source``, ``clause``, ``valid_from``, as typed.
        at: aware instant of entering.

    Raises:
        Refused: naming every value that is not accepted.
        UserProblem: no such slot, or one that was read in its source.
    """
    found = slot(book, key, at.date())
    if not found.open:
        raise UserProblem(
            said("“{title}” was read in its source and is not entered here.", title=found.rule.title)
        )
    reader = Reader.of(document, typed=True)
    limit = _limit(reader, found)
    entry = OwnLimit(
        slot=key,
        limit=limit,
        valid_from=reader.date("valid_from", required=True) or at.date(),
        entered_at=at,
        edition=reader.text("edition", required=True, longest=200),
        source=reader.text("source", required=True, longest=300),
        clause=reader.text("clause", longest=100),
    )
    reader.finish()
    with book.writing() as tx:
        owned.add_limit(tx, entry)
    return Changes(_TABLES, said("“{title}” is entered.", title=found.rule.title))


def withdraw_limit(book: Book, key: str, *, at: dt.datetime) -> Changes:
    """Take the newest entry of a slot back, from its own first day on; it stays listed.

    Raises:
        UserProblem: nothing of the owner's counts there.
    """
    found = slot(book, key, at.date())
    if not found.entries or found.entries[0].limit is None:
        raise UserProblem(said("Nothing of yours counts for “{title}”.", title=found.rule.title))
    with book.writing() as tx:
        owned.add_limit(tx, OwnLimit(key, None, found.entries[0].valid_from, at))
    return Changes(
        _TABLES, said("What you entered for “{title}” does not count any more.", title=found.rule.title)
    )


def _standing(tables: Iterable[RuleTable], today: dt.date) -> list[RuleTable]:
    """Return of each table the edition that counts on a day, else the one that will or did last."""
    found: dict[str, RuleTable] = {}
    for table in tables:
        known = found.get(table.table)
        if known is None or (table.covers(today) and not known.covers(today)):
            found[table.table] = table
    return list(found.values())


def _slot(table: RuleTable, rule: Rule, bare: Rule, entries: Sequence[OwnLimit]) -> Slot:
    key = slot_key(table, rule)
    own = [entry for entry in entries if entry.slot == key]
    return Slot(
        key=key,
        group=table.title,
        rule=rule,
        proposal=bare,
        edition=rule.edition or table.edition,
        source=rule.source or table.source,
        quantity=_quantity(rule),
        entries=tuple(reversed(own)),
    )


def _quantity(rule: Rule) -> Quantity:
    """Return what the limit of a slot may be: as the reading it judges, or a figure of a unit of its own."""
    known = QUANTITIES.get(rule.key)
    if known is not None:
        return replace(known, key="limit")
    return Quantity("limit", rule.title, rule.unit, Decimal(0), BIGGEST_FIGURE, 0, (rule.unit,))


def _limit(reader: Reader, found: Slot) -> Decimal | None:
    quantity = found.quantity
    limit = reader.decimal("limit", low=quantity.low, high=quantity.high, required=True)
    if limit is not None and limit <= 0 and found.rule.sense == "at least":
        # With nothing as the least there is nothing that a reading could fall below.
        reader.fault("limit", said("a number above 0"))
    return limit


@dataclass(frozen=True, slots=True)
class FuelRow:
    """A fuel of the owner's: the newest entry of its name, what follows from it, when it was entered."""

    fuel: Fuel
    document: Mapping[str, Any]
    entered_at: dt.datetime
    withdrawn: bool


def fuels(book: Book) -> tuple[FuelRow, ...]:
    """Return the owner's fuels by name, those taken back included."""
    known = of_book(book).fuels
    rows: dict[str, FuelRow] = {}
    for entry in owned.fuels(book.con):
        before = rows.get(entry.name)
        document = before.document if before is not None and entry.withdrawn else entry.document
        rows[entry.name] = FuelRow(known[entry.name], document, entry.entered_at, entry.withdrawn)
    return tuple(rows[name] for name in sorted(rows))


def enter_fuel(book: Book, document: Mapping[str, Any], *, at: dt.datetime) -> Changes:
    """Enter a fuel by its composition; one of the same name that the owner entered before is followed.

    Args:
        book: the book.
        document: in the shape of a fuel's table, see ``flueleaf fuel``.
        at: aware instant of entering.

    Raises:
        Refused: naming the value that is not accepted.
    """
    fuel = read_fuel(dump(document), name="fuel", fuels=shipped().fuels)
    name = " ".join(fuel.name.split())
    taken = {key_of(known): known for known in of_book(book).fuels}
    if len(name) > LONGEST_NAME:
        raise Refused([Fault("name", name, said("a name of at most {most} characters", most=LONGEST_NAME))])
    if name in shipped().fuels or taken.get(key_of(name), name) != name:
        raise Refused([Fault("name", name, said("a name that no other fuel has"))])
    with book.writing() as tx:
        owned.add_fuel(tx, OwnFuel(name, {**document, "name": name}, at))
    return Changes(_TABLES, said("{fuel} can be chosen for an appliance now.", fuel=name))


def withdraw_fuel(book: Book, name: str, *, at: dt.datetime) -> Changes:
    """Offer a fuel no more; what was measured with it stays readable.

    Raises:
        UserProblem: it is none of the owner's, or is not offered any more.
    """
    if not any(row.fuel.name == name and not row.withdrawn for row in fuels(book)):
        raise UserProblem(said("“{fuel}” is not a fuel of yours that can be chosen.", fuel=name))
    with book.writing() as tx:
        owned.add_fuel(tx, OwnFuel(name, {}, at, withdrawn=True))
    return Changes(_TABLES, said("{fuel} is not offered any more.", fuel=name))
