"""What judging rests on: the shipped tables, read once, and with them what the owner of a book entered."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.judging.own_limits import with_own
from flueleaf.domain.judging.rule_table import RuleTable
from flueleaf.domain.judging.steps import Procedure
from flueleaf.domain.records.owned import OwnLimit
from flueleaf.operations.intake.fuel import read_fuel
from flueleaf.operations.intake.visit import Choices
from flueleaf.papers.registry import all_kinds
from flueleaf.storage import owned
from flueleaf.storage.rows import dump
from flueleaf.storage.tables.fuels import load_fuels
from flueleaf.storage.tables.kinds import load_kinds
from flueleaf.storage.tables.procedures import load_procedures
from flueleaf.storage.tables.rules import load_rules

if TYPE_CHECKING:
    from sqlite3 import Connection

    from flueleaf.storage.book import Book


@dataclass(frozen=True, slots=True, eq=False)
class Tables:
    """What judging rests on, by the names documents use.

    Attributes:
        withdrawn: fuels the owner took back: what was measured with them is still read, no more is offered.
    """

    fuels: Mapping[str, Fuel]
    kinds: Mapping[str, Kind]
    rules: tuple[RuleTable, ...]
    procedures: tuple[Procedure, ...] = ()
    withdrawn: frozenset[str] = frozenset()

    @property
    def offered(self) -> tuple[str, ...]:
        """The names of the fuels that may be chosen."""
        return tuple(name for name in self.fuels if name not in self.withdrawn)


@functools.cache
def shipped() -> Tables:
    """Return the shipped tables."""
    return Tables(load_fuels(), load_kinds(), load_rules(), load_procedures())


def of_book(book: Book) -> Tables:
    """Return the tables that count in a book."""
    return tables_of(book.con)


def tables_of(con: Connection) -> Tables:
    """Return the shipped tables with the limits and fuels that the owner of a book entered.

    An entered limit is in force by the date of the work; an entered fuel is one that the kinds burning
    anything in its state may burn.
    """
    limits = owned.limits(con)
    fuels = tuple((fuel.name, dump(fuel.document), fuel.withdrawn) for fuel in owned.fuels(con))
    return _with_own(limits, fuels) if limits or fuels else shipped()


@functools.lru_cache(maxsize=4)
def _with_own(limits: tuple[OwnLimit, ...], fuels: tuple[tuple[str, str, bool], ...]) -> Tables:
    base = shipped()
    own: dict[str, Fuel] = {}
    gone: dict[str, bool] = {}
    for name, text, withdrawn in fuels:
        if name in base.fuels:
            continue  # shipped since: the shipped one counts
        gone[name] = withdrawn
        if not withdrawn:
            own[name] = read_fuel(text, name=name, fuels=base.fuels)
    offered = [fuel for name, fuel in own.items() if not gone[name]]
    kinds = {
        name: replace(kind, fuels=(*kind.fuels, *_burns(kind, offered, base.fuels)))
        for name, kind in base.kinds.items()
    }
    return replace(
        base,
        fuels={**base.fuels, **own},
        kinds=kinds,
        rules=with_own(base.rules, limits),
        withdrawn=frozenset(name for name, withdrawn in gone.items() if withdrawn),
    )


def _burns(kind: Kind, own: Iterable[Fuel], known: Mapping[str, Fuel]) -> tuple[str, ...]:
    """Return which of the owner's fuels a kind may burn: those in a state in which it burns anything."""
    states = {known[name].state for name in kind.fuels}
    return tuple(fuel.name for fuel in own if fuel.state in states)


def choices() -> Choices:
    """Return the names a visit's document may use outside any book."""
    return choices_of(shipped())


@functools.lru_cache(maxsize=8)
def choices_of(tables: Tables) -> Choices:
    """Return the names a visit's document may use."""
    kinds = {name: tuple(check.key for check in kind.checks) for name, kind in tables.kinds.items()}
    flues = {name: kind.flues for name, kind in tables.kinds.items()}
    notes = {name: kind.notes for name, kind in tables.kinds.items()}
    return Choices(kinds, flues, tables.offered, tuple(all_kinds()), tables.fuels, notes)
