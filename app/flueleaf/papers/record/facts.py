"""What a commissioning or service record states."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from flueleaf.papers.facts import Head

Verdict = Literal["within", "near", "over", "unjudged"]
Sense = Literal["at most", "at least"]
Whose = Literal["maker", "table", "none"]
Refit = Literal["refitted", "not refitted", "not sure", "not opened"]


@dataclass(frozen=True, slots=True)
class Row:
    """One measured or noted thing outside the slips.

    Attributes:
        value: the text printed ("20.4"); unit: "mbar", "" for a word.
        note: a remark, the edition of a procedure, the basis of a figure.
        derived: computed here, not read off an instrument or plate.
    """

    label: str
    value: str
    unit: str = ""
    note: str = ""
    derived: bool = False


@dataclass(frozen=True, slots=True)
class Appliance:
    """The data plate. ``plate`` holds what else it says: rated input with its basis, and the like."""

    kind: str
    make: str = ""
    model: str = ""
    serial: str = ""
    location: str = ""
    fuel: str = ""
    flue: str = ""
    installed: dt.date | None = None
    plate: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class Limit:
    """One of the maker's limits, as in "CO2, high rate", "8.8 to 9.6", "%"."""

    label: str
    text: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Instrument:
    """The analyser. ``expired``: its calibration had run out on the day of the visit."""

    name: str
    serial: str = ""
    calibration_due: dt.date | None = None
    expired: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """One cell of the readings table.

    Attributes:
        label: "CO", "O2", "efficiency, net"; the same label, unit and basis make one row.
        basis: what the figure rests on ("no condensing credit"), "" where nothing need be said.
        derived: computed from other readings.
    """

    label: str
    value: str
    unit: str = ""
    basis: str = ""
    derived: bool = False


@dataclass(frozen=True, slots=True)
class Judged:
    """One value against one limit.

    Attributes:
        value, limit: plain decimals as printed, without unit; limit "" when there is none.
        whose: "maker" (the maker's limit), "table" (a rule table's), "none" (no limit applies).
        source: document and page, or table title and edition.
        margin: distance to the limit with its unit, signed as printed ("289 ppm").
        why: why it is unjudged, or what turned it so.
        chance: chance that the true value is beyond the limit, as printed ("under 0.1 %"), "" if not said.
        entered, also_entered: whether the engineer entered that limit of a table from a document.
        also, also_whose, also_source: the limit that this one counts before, where they differ; "" without.
    """

    label: str
    value: str
    verdict: Verdict
    unit: str = ""
    limit: str = ""
    sense: Sense = "at most"
    whose: Whose = "none"
    source: str = ""
    margin: str = ""
    why: str = ""
    chance: str = ""
    derived: bool = False
    also: str = ""
    also_whose: Whose = "none"
    also_source: str = ""
    entered: bool = False
    also_entered: bool = False


@dataclass(frozen=True, slots=True)
class Doubt:
    """A doubt about a reading, and whether the engineer checked it and stands by the reading."""

    text: str
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class Slip:
    """One set of readings.

    Attributes:
        decides: whether it is the last attempt of its point and rate.
        adjusted: whether it was taken after an adjustment.
    """

    point: str
    rate: str
    attempt: int = 1
    decides: bool = True
    readings: tuple[Reading, ...] = ()
    judged: tuple[Judged, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    adjusted: bool = False


@dataclass(frozen=True, slots=True)
class Check:
    """A check of the procedure: question, "yes"/"no"/"not applicable" (or words of its own), remark."""

    question: str
    answer: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Noted:
    """One thing written down: the heading it stands under, what it is, and the text with its unit."""

    group: str
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class CloseUp:
    """What became of one test point that was opened."""

    point: str
    state: Refit


@dataclass(frozen=True, slots=True)
class Defect:
    """A defect with the engineer's own class."""

    text: str
    defect_class: str
    action: str = ""


@dataclass(frozen=True, slots=True)
class NotMeasured:
    """A slip that could not be had."""

    point: str
    rate: str
    reason: str


@dataclass(frozen=True, slots=True)
class GonePast:
    """A step of the procedure that held the engineer up, and why the work went on all the same."""

    step: str
    reason: str


@dataclass(frozen=True, slots=True)
class Due:
    """A date that follows from the visit, with the rule that set it and why."""

    date: dt.date
    rule: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Work:
    """One appliance of the visit.

    Attributes:
        limits_source: the maker's document and page.
        examined: the examinations the law asks for after work (flue, combustion air, operating pressure or
            heat input, or combustion performance and why instead, safe functioning), with the law's name.
        verdict: the worst of what is present; missing: what the procedure still wants.
        doubts: doubts about the appliance as a whole; those of a slip stand with the slip.
        noted: what was written down beside readings and checks, groups together.
    """

    appliance: Appliance
    limits: tuple[Limit, ...] = ()
    limits_source: str = ""
    instrument: Instrument | None = None
    supply: tuple[Row, ...] = ()
    slips: tuple[Slip, ...] = ()
    verdict: Verdict = "unjudged"
    missing: tuple[str, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    checks: tuple[Check, ...] = ()
    examined: tuple[Check, ...] = ()
    close_up: tuple[CloseUp, ...] = ()
    defects: tuple[Defect, ...] = ()
    not_measured: tuple[NotMeasured, ...] = ()
    gone_past: tuple[GonePast, ...] = ()
    outcome: str = ""
    cautions: tuple[str, ...] = ()
    due: tuple[Due, ...] = ()
    noted: tuple[Noted, ...] = ()


@dataclass(frozen=True, slots=True)
class SignOff:
    """Who stands for the record. ``customer``: "signed", "signed on paper", "not present", "refused"."""

    customer_name: str = ""
    customer: str = ""
    engineer: str = ""
    registration: str = ""


@dataclass(frozen=True, slots=True)
class Record:
    """A visit's record. ``arrived`` and ``left`` as "09:10"; ``cautions`` hold for the whole visit.

    Attributes:
        texts: the owner's own words at the end, one paragraph each.
    """

    head: Head
    purpose: str
    date: dt.date
    works: tuple[Work, ...]
    arrived: str = ""
    left: str = ""
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sign_off: SignOff | None = None
    texts: tuple[str, ...] = ()
