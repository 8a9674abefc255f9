"""A visit and what was found: slips, checks, close-up, defects, work lines, sign-off."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Literal

from flueleaf.domain.money.lines import Line
from flueleaf.domain.records.register import Appliance, Customer, Instrument, Point, Premises, Rate

Purpose = Literal["commissioning", "service", "landlord check", "breakdown"]
Answer = Literal["yes", "no", "not applicable"]
DefectClass = Literal["immediately dangerous", "at risk", "advice"]
Outcome = Literal["left in use", "left in use with notes", "made safe", "isolated", "not accessed"]
Signature = Literal["signed", "signed on paper", "not present", "refused"]

PURPOSES: tuple[Purpose, ...] = ("commissioning", "service", "landlord check", "breakdown")
ANSWERS: tuple[Answer, ...] = ("yes", "no", "not applicable")
DEFECT_CLASSES: tuple[DefectClass, ...] = ("immediately dangerous", "at risk", "advice")
OUTCOMES: tuple[Outcome, ...] = (
    "left in use", "left in use with notes", "made safe", "isolated", "not accessed",
)  # fmt: skip
SIGNATURES: tuple[Signature, ...] = ("signed", "signed on paper", "not present", "refused")


@dataclass(frozen=True, slots=True)
class Slip:
    """One set of readings as the analyser prints it.

    Attributes:
        values: quantity key to value, with the digits typed. ``smoke`` holds the worse end of a range.
        typed: quantity key to the text as typed.
        attempt: 1, 2, …; the last attempt of a point and rate decides.
        confirmed: codes of doubts the engineer has checked and stands by.
        air_humidity_pct: relative humidity of the combustion air, when measured.
        adjusted: whether it was taken after an adjustment of the burner or the gas valve.
        settled: whether the readings had settled, None where nobody said.
    """

    point: Point
    rate: Rate
    values: Mapping[str, Decimal] = field(default_factory=dict)
    typed: Mapping[str, str] = field(default_factory=dict)
    attempt: int = 1
    confirmed: frozenset[str] = frozenset()
    air_humidity_pct: Decimal | None = None
    adjusted: bool = False
    settled: bool | None = None


@dataclass(frozen=True, slots=True)
class CheckAnswer:
    """The answer to one check of the appliance kind's procedure.

    ``as_on``: the day of the earlier visit it was taken over from and not confirmed since; None: given anew.
    """

    key: str
    answer: Answer
    note: str = ""
    as_on: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Defect:
    """A defect; the engineer gives the class, the program never does."""

    text: str
    defect_class: DefectClass
    action: str = ""


@dataclass(frozen=True, slots=True)
class NotMeasured:
    """A slip the procedure wants and that could not be had, with the reason printed."""

    point: Point
    rate: Rate
    reason: str


@dataclass(frozen=True, slots=True)
class Override:
    """A step of the procedure that the engineer passed over, with the reason printed."""

    step: str
    reason: str


@dataclass(frozen=True, slots=True)
class Supply:
    """Gas supply at the visit: pressures in mbar; gas rate and tightness as entered (JSON objects)."""

    standing_mbar: Decimal | None = None
    working_mbar: Decimal | None = None
    inlet_mbar: Decimal | None = None
    gas_rate: Mapping[str, Any] | None = None
    tightness: Mapping[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """What was done at one appliance during a visit.

    ``notes``: what was written down beside readings and checks, by key of the kind, as typed.
    """

    appliance: Appliance
    instrument: Instrument | None = None
    supply: Supply = Supply()
    slips: tuple[Slip, ...] = ()
    checks: tuple[CheckAnswer, ...] = ()
    close_up: Mapping[Point, bool | Literal["not sure"]] = field(default_factory=dict)
    defects: tuple[Defect, ...] = ()
    not_measured: tuple[NotMeasured, ...] = ()
    outcome: Outcome = "left in use"
    overrides: tuple[Override, ...] = ()
    notes: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class SignOff:
    """Who signed for the customer, or why nobody did."""

    customer_name: str
    customer: Signature


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit, from arrival to sign-off. ``papers`` are the kinds wanted."""

    visit_id: str
    purpose: Purpose
    date: dt.date
    customer: Customer
    premises: Premises
    works: tuple[Work, ...]
    lines: tuple[Line, ...] = ()
    arrived: dt.time | None = None
    left: dt.time | None = None
    sign_off: SignOff | None = None
    papers: tuple[str, ...] = ()
    issued_at: dt.datetime | None = None
