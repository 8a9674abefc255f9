"""What is judged: one appliance, its instrument, its slips, and what was read before."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.judging.steps import Procedure
from flueleaf.domain.records.register import Flue, Instrument, MakerLimits, Point, RatedInput
from flueleaf.domain.records.visits import Answer, NotMeasured, Outcome, Override, Purpose, Slip


@dataclass(frozen=True, slots=True)
class PreviousVisit:
    """An earlier visit to the same appliance. ``fuel`` None: the same fuel as now."""

    date: dt.date
    slips: tuple[Slip, ...]
    instrument: Instrument | None = None
    fuel: Fuel | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """Everything the verdict on one appliance rests on.

    Attributes:
        date: the day of the work; None takes the current editions and compares no dates.
        limits: the maker's, which win over a rule table's quantity by quantity.
        flue: None where unknown; then the kind tells whether it is always room-sealed.
        purpose: of the visit; None wants every slip that any purpose wants.
        not_measured: wanted slips that could not be had; they are not missing.
        known_fuels: what else the readings might be of, to ask whether the fuel is right.
        input_net_kw_max: net heat input by the meter at the maximum rate, kW; None where none was measured.
        procedure: the steps at this sort of appliance; None where the flue is not known.
        answers: check key to answer; None where nobody was asked, as in a document of readings alone.
        close_up: by opened test point, whether it was refitted; outcome: None while there is none.
        overrides: steps of the procedure that the engineer passed over, with the reason.
    """

    date: dt.date | None
    fuel: Fuel
    kind: Kind
    limits: MakerLimits | None = None
    instrument: Instrument | None = None
    slips: tuple[Slip, ...] = ()
    previous: tuple[PreviousVisit, ...] = ()
    rated_input: RatedInput | None = None
    flue: Flue | None = None
    purpose: Purpose | None = None
    test_points: tuple[Point, ...] = ()
    not_measured: tuple[NotMeasured, ...] = ()
    known_fuels: tuple[Fuel, ...] = ()
    input_net_kw_max: float | None = None
    procedure: Procedure | None = None
    answers: Mapping[str, Answer] | None = None
    close_up: Mapping[Point, bool | Literal["not sure"]] = field(default_factory=dict)
    outcome: Outcome | None = None
    overrides: tuple[Override, ...] = ()

    @property
    def room_sealed(self) -> bool:
        """Whether the appliance is known to be room-sealed."""
        return self.flue == "room-sealed" if self.flue else self.kind.room_sealed_only
