"""Appliance kinds: stages, checks and wanted slips, as the shipped kind tables give them."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from flueleaf.domain.judging.rule_table import Status
from flueleaf.domain.records.register import Flue, Point, Rate
from flueleaf.domain.records.visits import PURPOSES, Purpose

Scope = Literal["appliance", "premises"]

SCOPES: tuple[Scope, ...] = ("appliance", "premises")


@dataclass(frozen=True, slots=True)
class Stage:
    """One block of a visit leaf.

    Attributes:
        key: "arrival", "gas supply", …; lines: two short lines saying what to do.
        caution: what could hurt somebody here, "" if nothing.
        purposes: the purposes of a visit that show it.
    """

    key: str
    lines: tuple[str, ...]
    caution: str = ""
    purposes: tuple[Purpose, ...] = PURPOSES


@dataclass(frozen=True, slots=True)
class Check:
    """One question of a stage, worded so that "yes" is as it should be.

    Attributes:
        key: unique within the kind; stage: key of its stage.
        source: the law, standard or custom behind it; status: how that was checked.
        scope: "premises" where one answer holds for every appliance of a visit.
        anew: whether it reports a test, a measurement or an act of the day: no earlier answer stands for it.
    """

    key: str
    stage: str
    question: str
    purposes: tuple[Purpose, ...]
    source: str
    status: Status
    caution: str = ""
    scope: Scope = "appliance"
    anew: bool = False


@dataclass(frozen=True, slots=True)
class WantedSlip:
    """A slip the procedure wants, in the order of measuring, with what to do for it."""

    point: Point
    rate: Rate
    purposes: tuple[Purpose, ...]
    lines: tuple[str, ...] = ()
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of appliance.

    Attributes:
        key: file name of its table; name: what documents call it ("condensing boiler").
        flues: the flues it may have; fuels: the fuels it may burn.
        points: the points at which it may be measured.
        tables: keys of the rule tables that apply to it.
        air_leak_o2_pct: O2 at the flue, %, above which dilution is suspected; None where none can be told.
    """

    key: str
    name: str
    flues: tuple[Flue, ...]
    fuels: tuple[str, ...]
    points: tuple[Point, ...]
    tables: tuple[str, ...] = ()
    stages: tuple[Stage, ...] = ()
    checks: tuple[Check, ...] = ()
    wanted: tuple[WantedSlip, ...] = ()
    air_leak_o2_pct: Decimal | None = None

    @property
    def room_sealed_only(self) -> bool:
        """Whether it is always room-sealed; open flues are diluted by design."""
        return self.flues == ("room-sealed",)

    def checks_for(self, purpose: Purpose, stage: str | None = None) -> tuple[Check, ...]:
        """Return the checks of a purpose, of one stage or of all."""
        return tuple(c for c in self.checks if purpose in c.purposes and stage in (None, c.stage))

    def stages_for(self, purpose: Purpose) -> tuple[Stage, ...]:
        """Return the stages of a purpose, in their order."""
        return tuple(stage for stage in self.stages if purpose in stage.purposes)

    def slips_for(self, purpose: Purpose | None) -> tuple[WantedSlip, ...]:
        """Return the slips wanted for a purpose; without one, every slip any purpose wants."""
        return tuple(w for w in self.wanted if purpose is None or purpose in w.purposes)
