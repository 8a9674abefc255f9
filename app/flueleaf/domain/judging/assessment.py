"""What judging says: verdicts with their limits and margins, doubts, next steps, what is missing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from flueleaf.domain.combustion.slip_figures import SlipFigures
from flueleaf.domain.judging.rule_table import Sense
from flueleaf.domain.records.register import Point, Rate

if TYPE_CHECKING:
    from flueleaf.domain.judging.walk import Walk

Verdict = Literal["over", "unjudged", "near", "within"]
Whose = Literal["maker", "table", "none"]
Basis = Literal["measured", "derived", "typed", "computed"]
WORKED_OUT: frozenset[str] = frozenset(("derived", "computed"))  # from other readings
Exact = Decimal | Fraction

WORST_FIRST: tuple[Verdict, ...] = ("over", "unjudged", "near", "within")


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """Return the worst of some verdicts; of none, ``unjudged``: nothing judged is nothing good."""
    return min(verdicts, key=WORST_FIRST.index, default="unjudged")


@dataclass(frozen=True, slots=True)
class OtherLimit:
    """A limit of the same quantity and sense that does not count, and differs from the one that does.

    Attributes:
        source: whose it is; source_text: the maker's document, or the table's source, edition and clause.
        status: of the rule table, "" for the maker's.
    """

    limit: Decimal
    source: Whose
    source_text: str = ""
    status: str = ""


@dataclass(frozen=True, slots=True)
class Judged:
    """One value against one limit.

    Attributes:
        quantity: its key; basis: "derived" from the fuel relation; a ratio is "typed" or "computed".
        value: exact, None where missing; limit: None where no limit applies.
        source: whose limit; source_text: the maker's document, or the table's source.
        table, edition, clause, status: of the rule table, "" for the maker's.
        margin: distance to the limit, negative beyond it, in the quantity's unit.
        standard_uncertainty: in the quantity's unit; tolerance: where it comes from.
        resolution: what one step of the last digit typed stands for, a part of the uncertainty; None where
            the value was worked out or the limit is read by the display alone.
        chance_beyond: probability that the true value is beyond the limit, 0 to 1.
        why: why it is unjudged, "" otherwise.
        also: the limit that this one was taken before, where they differ.
    """

    quantity: str
    value: Exact | None
    limit: Decimal | None
    sense: Sense
    source: Whose
    verdict: Verdict
    basis: Basis = "measured"
    margin: Exact | None = None
    standard_uncertainty: float | None = None
    chance_beyond: float | None = None
    tolerance: str = ""
    source_text: str = ""
    table: str = ""
    edition: str = ""
    clause: str = ""
    status: str = ""
    why: str = ""
    also: OtherLimit | None = None
    resolution: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Doubt:
    """A reason to look again.

    Attributes:
        code: as in the headless contract; quantity: the key it is about, "" if about none.
        confirmed: the engineer has checked it and stands by the reading.
        point, rate, attempt: of the slip; None where it concerns the appliance or the instrument.
    """

    code: str
    quantity: str
    text: str
    confirmed: bool = False
    point: Point | None = None
    rate: Rate | None = None
    attempt: int | None = None


@dataclass(frozen=True, slots=True)
class SlipAssessment:
    """One slip with everything that follows from it.

    Attributes:
        decides: whether it is the last attempt of its point and rate; only then does it count for the whole.
        values: quantity key to the value as typed, with its digits.
        o2_pct, co2_pct: as used, measured or derived; derived: keys of the derived ones.
        ratio: CO/CO2, exact; computed, or as typed where it cannot be computed. Both are in ``judged``.
        ratio_text: at least four decimals and as many more as keep it on its side of the limit; "" if none.
        figures: what the combustion physics says of the slip.
        adjusted: whether it was taken after an adjustment.
        baseline: the air outdoors, undoubted and with no limit of its own: what the room is held against.
        air_humidity_pct: relative humidity of the combustion air as typed, None where it was not measured.
    """

    point: Point
    rate: Rate
    attempt: int
    decides: bool
    verdict: Verdict
    values: Mapping[str, Decimal]
    o2_pct: Exact | None
    co2_pct: Exact | None
    derived: tuple[str, ...]
    ratio: Exact | None
    ratio_text: str
    figures: SlipFigures
    judged: tuple[Judged, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    adjusted: bool = False
    baseline: bool = False
    air_humidity_pct: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Missing:
    """A slip the kind's procedure still wants."""

    point: Point
    rate: Rate
    text: str


@dataclass(frozen=True, slots=True)
class Assessment:
    """The verdict on one appliance.

    Attributes:
        verdict: the worst of the deciding slips; the air outdoors, where nothing judges it, is left out.
        doubts: of the appliance and the instrument, then of every deciding slip.
        next_steps: what to do next, most urgent first.
        tolerance: which tolerances counted, with their source.
        walk: the way through the procedure, None where it is not known which.
    """

    verdict: Verdict
    slips: tuple[SlipAssessment, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    next_steps: tuple[str, ...] = ()
    missing: tuple[Missing, ...] = field(default=())
    tolerance: str = ""
    walk: Walk | None = None
