"""Figures of the rule tables that inform beside what was read and never judge it: room air, tightness."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from decimal import Decimal

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.rule_table import Rule, RuleTable, editions_on
from flueleaf.domain.records.register import Point
from flueleaf.domain.words import lines, said
from flueleaf.operations.facts.wording import STATUS, figure
from flueleaf.operations.tables import Tables

TIGHTNESS = "tightness"
MG = "mg/m³"
# An ideal gas at 25 °C and 101.325 kPa, as air guidelines count mass: 24.465 l/mol; CO 28.010 g/mol.
CO_MG_PER_M3_PER_PPM = 28.010 / 24.465
NO_AVERAGE = said(
    "They are averages over a time, one reading is none, and they judge nothing here. Symptoms and a "
    "sounding alarm outrank every reading: turn off, ventilate, get everybody out."
)
NO_PASS = said(
    "A drop within it is no pass by itself: with the appliances isolated the pipework shows no movement. Any "
    "smell of gas fails."
)
NOT_FILLED = said(
    "The permissible drop is not known here: its table is filled under limits and fuels, from your own copy."
)


def guidance(tables: Tables, point: Point, on: dt.date | None) -> tuple[str, ...]:
    """Return what the tables have to say for information at a point, a sentence each; () where nothing.

    Args:
        tables: those that count in the book.
        point: where was read.
        on: the day of the work; None for the editions that count now.
    """
    found = [
        said(
            "{title}: {figures} ({status}).",
            title=said(table.title),
            figures=lines((_figure(rule) for rule in rules), between=", "),
            status=STATUS[status],
        )
        for table in _counting(tables, on)
        for status in STATUS
        if (rules := [one for one in table.rules if one.status == status and _informs(one, point)])
    ]
    return (*found, NO_AVERAGE) if found else ()


def permissible_drops(tables: Tables, fuel: Fuel | None, on: dt.date | None) -> tuple[str, str]:
    """Return the permissible drops by volume that the owner entered, and behind which document.

    Args:
        tables: those that count in the book.
        fuel: of the appliance; a gas heavier than air has rows of its own.
        on: the day of the work; None for now.

    Returns:
        Both "" where no row is filled, where nothing burns gas, or for work before the edition.
    """
    if fuel is None or fuel.state != "gas":
        return "", ""
    gas = "lpg" if (fuel.relative_density or 0.0) > 1.0 else "natural"
    for table in _counting(tables, on):
        if table.table == TIGHTNESS and (rows := list(_rows(table, gas))):
            volumes, drops = zip(*rows, strict=True)
            shown = (
                said("{drop} mbar up to {volume} m³", drop=f"{drop.limit:f}", volume=f"{volume.limit:f}")
                for volume, drop in zip(volumes, drops, strict=True)
            )
            behind = dict.fromkeys(
                part for drop in drops for part in (drop.source, drop.edition, drop.clause) if part
            )
            return lines(shown, between=", "), lines(behind, between=", ")
    return "", ""


def _rows(table: RuleTable, gas: str) -> Iterator[tuple[Rule, Rule]]:
    """Yield the filled rows of the drop table, smallest volume first."""
    by_slot = {rule.slot: rule for rule in table.rules}
    pairs = [
        (rule, by_slot[slot.replace("_volume_", "_drop_")])
        for slot, rule in by_slot.items()
        if slot.startswith(f"{gas}_volume_")
    ]
    filled = [(volume, drop) for volume, drop in pairs if _owner(volume) and _owner(drop)]
    yield from sorted(filled, key=lambda pair: pair[0].limit or Decimal(0))


def _owner(rule: Rule) -> bool:
    return rule.status == "owner" and rule.limit is not None


def _counting(tables: Tables, on: dt.date | None) -> list[RuleTable]:
    names = dict.fromkeys(table.table for table in tables.rules)
    return [table for name in names for table in editions_on(tables.rules, name, on)]


def _informs(rule: Rule, point: Point) -> bool:
    return rule.information and point in rule.points and rule.limit is not None


def _figure(rule: Rule) -> str:
    assert rule.limit is not None
    value = f"{rule.limit:f} {rule.unit}"
    if rule.unit == MG:
        ppm = float(rule.limit) / CO_MG_PER_M3_PER_PPM
        value = said("{value}, about {ppm} ppm,", value=value, ppm=figure(ppm, 0 if ppm >= 10 else 1))
    return said("{value} over {time}", value=value, time=said(rule.over)) if rule.over else value
