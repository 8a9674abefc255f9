"""Appliance kinds: stages, checks and wanted slips, as the shipped kind tables give them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from flueleaf.domain.judging.noted import Note, applies
from flueleaf.domain.judging.rule_table import Status
from flueleaf.domain.records.register import RATES, Flue, Point, Rate
from flueleaf.domain.records.visits import PURPOSES, Purpose

Scope = Literal["appliance", "premises"]
Examined = Literal["c", "ca"]

SCOPES: tuple[Scope, ...] = ("appliance", "premises")
# SI 1998/2451 reg. 26(9): operating pressure or heat input, or, where neither can reasonably be had,
# combustion performance.
EXAMINED: tuple[Examined, ...] = ("c", "ca")
# What may be typed of a supply of gas, by the names of ``visits.Supply``.
SUPPLY = ("tightness", "standing_mbar", "working_mbar", "inlet_mbar", "gas_rate")


@dataclass(frozen=True, slots=True)
class Stage:
    """One block of a visit leaf.

    Attributes:
        key: "arrival", "gas supply", …; lines: two short lines saying what to do.
        caution: what could hurt somebody here, "" if nothing.
        purposes: the purposes of a visit that show it.
        flues: the flues that have it; none: whatever the flue.
        supply: of ``SUPPLY``, what such a supply lets be measured; none where it is no supply of gas.
    """

    key: str
    lines: tuple[str, ...]
    caution: str = ""
    purposes: tuple[Purpose, ...] = PURPOSES
    flues: tuple[Flue, ...] = ()
    supply: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Check:
    """One question of a stage, worded so that "yes" is as it should be.

    Attributes:
        key: unique within the kind; stage: key of its stage.
        source: the law, standard or custom behind it; status: how that was checked.
        scope: "premises" where one answer holds for every appliance of a visit.
        anew: whether it reports a test, a measurement or an act of the day: no earlier answer stands for it.
        flues: the flues at which it is asked; none: whatever the flue.
        stops: whether a "no" stops the work: the appliance is then not simply left in use.
        instead_of: key of the check it stands in for: "yes" here without "yes" there wants the reason.
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
    flues: tuple[Flue, ...] = ()
    stops: bool = False
    instead_of: str = ""


@dataclass(frozen=True, slots=True)
class WantedSlip:
    """A slip the procedure wants, in the order of measuring, with what to do for it.

    ``flues``: the flues at which it is wanted; none: whatever the flue.
    """

    point: Point
    rate: Rate
    purposes: tuple[Purpose, ...]
    lines: tuple[str, ...] = ()
    caution: str = ""
    flues: tuple[Flue, ...] = ()


@dataclass(frozen=True, slots=True)
class AfterWork:
    """What is examined after work on a kind of appliance.

    Attributes:
        law: the law, or the standard in its place, that asks for it.
        examined: of SI 1998/2451 reg. 26(9), (c) or (ca), the usual one first; none where it is no gas.
        reason: why, in a sentence.
    """

    law: str
    reason: str
    examined: tuple[Examined, ...] = ()


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of appliance.

    Attributes:
        key: file name of its table; name: what documents call it ("condensing boiler").
        also: what else the trade calls it, to look for it by; a word may be said of several kinds.
        flues: the flues it may have, the usual one first; fuels: the fuels it may burn.
        points: the points at which it may be measured; rates: the rates at which it can be run.
        quantities: by point, the quantities that make sense there, in no order; none for a point: all.
        after_work: what is examined after work.
        notes: what is written down, in the order shown.
        not_asked: keys of checks that the shared stages know and this kind has no question for.
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
    rates: tuple[Rate, ...] = RATES
    quantities: Mapping[Point, tuple[str, ...]] = field(default_factory=dict)
    after_work: AfterWork | None = None
    notes: tuple[Note, ...] = ()
    not_asked: tuple[str, ...] = ()
    also: tuple[str, ...] = ()

    @property
    def room_sealed_only(self) -> bool:
        """Whether it is always room-sealed; open flues are diluted by design."""
        return self.flues == ("room-sealed",)

    def checks_for(
        self, purpose: Purpose, stage: str | None = None, flue: Flue | None = None
    ) -> tuple[Check, ...]:
        """Return the checks of a purpose, of one stage or of all.

        With the flue unknown all are asked that one of the kind's flues may want.
        """
        there = {one.key for one in self.stages_for(purpose, flue)}
        return tuple(
            check
            for check in self.checks
            if purpose in check.purposes
            and check.stage in there
            and check.key not in self.not_asked
            and stage in (None, check.stage)
            and self._may_have(check.flues, flue)
        )

    def stages_for(self, purpose: Purpose, flue: Flue | None = None) -> tuple[Stage, ...]:
        """Return the stages of a purpose and a flue, in their order."""
        return tuple(
            stage for stage in self.stages if purpose in stage.purposes and self._may_have(stage.flues, flue)
        )

    def slips_for(self, purpose: Purpose | None, flue: Flue | None = None) -> tuple[WantedSlip, ...]:
        """Return the slips wanted for a purpose; without one, every slip any purpose wants.

        A flue that is not known is taken to be the usual one of the kind.
        """
        meant = flue or self.flues[0]
        return tuple(
            wanted
            for wanted in self.wanted
            if (purpose is None or purpose in wanted.purposes) and applies(wanted.flues, meant)
        )

    def notes_for(
        self, purpose: Purpose, stage: str | None = None, flue: Flue | None = None
    ) -> tuple[Note, ...]:
        """Return what is written down at a visit, in one stage or in all, in the order shown."""
        return tuple(note for note in self.notes if stage in (None, note.stage) and note.asked(purpose, flue))

    def _may_have(self, flues: tuple[Flue, ...], flue: Flue | None) -> bool:
        """Tell whether what is for some flues concerns a flue of the kind, or one of its flues if unknown."""
        if flue is None:
            return any(applies(flues, one) for one in self.flues)
        return applies(flues, flue)

    def makes_sense(self, quantity: str, point: Point) -> bool:
        """Whether a quantity is usually read at a point; one that is not is still accepted."""
        known = self.quantities.get(point, ())
        return not known or quantity in known
