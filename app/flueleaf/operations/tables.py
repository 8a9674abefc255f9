"""The shipped tables, read once: fuels, appliance kinds, rule tables, paper kinds."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.judging.rule_table import RuleTable
from flueleaf.domain.judging.steps import Procedure
from flueleaf.operations.intake.visit import Choices
from flueleaf.papers.registry import all_kinds
from flueleaf.storage.tables.fuels import load_fuels
from flueleaf.storage.tables.kinds import load_kinds
from flueleaf.storage.tables.procedures import load_procedures
from flueleaf.storage.tables.rules import load_rules


@dataclass(frozen=True, slots=True)
class Tables:
    """What judging rests on, by the names documents use."""

    fuels: Mapping[str, Fuel]
    kinds: Mapping[str, Kind]
    rules: tuple[RuleTable, ...]
    procedures: tuple[Procedure, ...] = ()


@functools.cache
def shipped() -> Tables:
    """Return the shipped tables."""
    return Tables(load_fuels(), load_kinds(), load_rules(), load_procedures())


@functools.cache
def choices() -> Choices:
    """Return the names a visit's document may use."""
    kinds = {name: tuple(check.key for check in kind.checks) for name, kind in shipped().kinds.items()}
    flues = {name: kind.flues for name, kind in shipped().kinds.items()}
    return Choices(kinds, flues, tuple(shipped().fuels), tuple(all_kinds()))
