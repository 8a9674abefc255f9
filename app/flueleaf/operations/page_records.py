"""What a leaf shows: plain frozen records, no rule for the window to know."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from flueleaf.domain.judging.drift import Crossing, Dated, Drift
from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.document import Payment
from flueleaf.domain.records.register import Appliance, Customer, Instrument, Point, Premises, Rate


@dataclass(frozen=True, slots=True)
class JudgedRow:
    """One verdict as it was frozen at sign-off.

    Attributes:
        limit: with the digits it is printed with.
        verdict: within | near | over | unjudged.
        basis: "measured", "typed" or "derived", "computed": worked out from other readings.
        status: of the rule table's figure, "owner" where the owner entered it.
        limit_source: what the limit is taken from, with edition and clause.
        standard_uncertainty: in the quantity's unit, None where it was not known.
    """

    quantity: str
    value: Decimal | None
    value_text: str
    limit: Decimal | None
    sense: str
    source: str
    verdict: str
    margin: Decimal | None = None
    basis: str = "measured"
    standard_uncertainty: float | None = None
    status: str = ""
    limit_source: str = ""


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One slip of the past: values by quantity key, its verdict, its judged quantities.

    Attributes:
        ratio: CO/CO2 as judged, typed or computed.
        decides: False for an attempt that a later one superseded.
        co_tolerance_ppm, ratio_tolerance: half-widths the instrument of the day allowed (None: unknown).
        adjusted: whether it was taken after an adjustment on that visit.
        fuel: what burned then, "" where it was not noted.
    """

    date: dt.date
    visit_id: str
    point: Point
    rate: Rate
    attempt: int
    values: Mapping[str, Decimal]
    ratio: float | None
    verdict: str
    decides: bool = True
    instrument: str = ""
    judged: tuple[JudgedRow, ...] = ()
    co_tolerance_ppm: float | None = None
    ratio_tolerance: float | None = None
    adjusted: bool = False
    fuel: str = ""


@dataclass(frozen=True, slots=True)
class VisitRow:
    """A visit in a list."""

    visit_id: str
    date: dt.date
    purpose: str
    verdict: str
    outcome: str = ""
    papers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PaperRow:
    """A sealed paper in a list."""

    number: str
    kind: str
    date: dt.date
    premises: str = ""
    customer: str = ""
    total: str = ""


@dataclass(frozen=True, slots=True)
class DueRow:
    """A due item: what, where, by when, and the rule's reason."""

    date: dt.date
    rule: str
    what: str
    premises: str = ""
    customer: str = ""
    why: str = ""
    premises_id: int | None = None
    appliance_id: int | None = None


@dataclass(frozen=True, slots=True)
class ApplianceRow:
    """An appliance in a list, with its last verdict and next due date."""

    appliance: Appliance
    last_visit: dt.date | None = None
    last_verdict: str = ""
    next_due: dt.date | None = None


@dataclass(frozen=True, slots=True)
class QuoteRow:
    """A quote that is no invoice yet."""

    number: str
    date: dt.date
    valid_until: dt.date
    total: str
    customer: str = ""
    premises: str = ""


@dataclass(frozen=True, slots=True)
class InvoicePage:
    """What is paid of an invoice on some day.

    Attributes:
        payable: what is to be paid in all.
        due: the last day of payment in time; overdue_days: 0 up to it, and once all is paid.
        payments: up to that day, oldest first.
    """

    number: str
    customer: str
    payable: Money
    paid: Money
    due: dt.date
    overdue_days: int = 0
    payments: tuple[Payment, ...] = ()

    @property
    def owing(self) -> Money:
        """What is still to be paid; negative where too much was."""
        return self.payable - self.paid


@dataclass(frozen=True, slots=True)
class PremisesPage:
    """The premises leaf; ``quotes`` are those without an invoice, the newest first."""

    premises: Premises
    customer: Customer
    appliances: tuple[ApplianceRow, ...] = ()
    visits: tuple[VisitRow, ...] = ()
    papers: tuple[PaperRow, ...] = ()
    due: tuple[DueRow, ...] = ()
    drafts: tuple[DraftRow, ...] = ()
    quotes: tuple[QuoteRow, ...] = ()


@dataclass(frozen=True, slots=True)
class ChartLimits:
    """The limits a history chart draws: value and whose it is ("" and None where there is none).

    Whose: "maker", "table", or "owner" of a table's slot that the owner filled.
    """

    co_ppm: Decimal | None = None
    co_source: str = ""
    ratio: Decimal | None = None
    ratio_source: str = ""


@dataclass(frozen=True, slots=True)
class DriftRow:
    """How one quantity at one rate has moved, same fuel, since the last adjustment.

    Attributes:
        readings: what the drift is of, oldest first.
        limit: that nothing may be above, None where none applies.
        reached: when the line reaches it.
        adjusted_on: the day of the adjustment the readings begin with, None where they begin with the first.
    """

    quantity: str
    rate: Rate
    drift: Drift
    readings: tuple[Dated, ...] = ()
    limit: Decimal | None = None
    reached: Crossing = field(default_factory=Crossing)
    adjusted_on: dt.date | None = None


@dataclass(frozen=True, slots=True)
class AppliancePage:
    """The appliance leaf.

    Attributes:
        last: the deciding slips of the latest visit that has any.
        history: every slip, oldest first.
        drifts: of ratio and CO at each rate that was ever read at the flue.
        fuel_line: O2 % against CO2 % of complete combustion, from no excess air to fresh air.
        o2_tolerance_pct, co2_tolerance_pct: half-widths of the latest instrument, for the crosses.
        noted: what was written down at the latest visit, by key; noted_on: its day.
        limits: that hold at the flue; limits_at: at each point where something was measured.
    """

    appliance: Appliance
    premises: Premises
    customer: Customer
    last: tuple[ReadingRow, ...] = ()
    history: tuple[ReadingRow, ...] = ()
    visits: tuple[VisitRow, ...] = ()
    papers: tuple[PaperRow, ...] = ()
    due: tuple[DueRow, ...] = ()
    limits: ChartLimits = field(default_factory=ChartLimits)
    drifts: tuple[DriftRow, ...] = ()
    fuel_line: tuple[tuple[float, float], ...] = ()
    o2_tolerance_pct: float = 0.0
    co2_tolerance_pct: float = 0.0
    noted: Mapping[str, str] = field(default_factory=dict)
    noted_on: dt.date | None = None
    limits_at: Mapping[Point, ChartLimits] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class DraftRow:
    """An unfinished visit or quote.

    Attributes:
        key: its id; kind: "visit" or "quote", the leaf that opens it.
        missing: what it still lacks; empty once it can be sealed.
    """

    key: str
    title: str
    date: dt.date | None
    missing: tuple[str, ...] = ()
    kind: str = "visit"


@dataclass(frozen=True, slots=True)
class OwingRow:
    """An invoice that is not paid in full."""

    number: str
    customer: str
    date: dt.date
    due: dt.date
    owing: str
    overdue_days: int


@dataclass(frozen=True, slots=True)
class DoneToday:
    """What was done on a day; ``invoiced`` is "" where nothing was."""

    visits: int = 0
    papers: int = 0
    invoiced: str = ""


@dataclass(frozen=True, slots=True)
class TonightPage:
    """The opening leaf: what is unfinished, what is to be sent, what is due, who owes.

    Attributes:
        unsent: the papers sealed last of those still to be sent; unsent_count: how many there are in all.
        due: from the long overdue on; long_overdue: how many of them, at the beginning, have waited longest.
        done: what was done today.
        is_new: whether the book holds neither premises nor papers nor drafts.
    """

    today: dt.date
    drafts: tuple[DraftRow, ...] = ()
    unsent: tuple[PaperRow, ...] = ()
    unsent_count: int = 0
    due: tuple[DueRow, ...] = ()
    long_overdue: int = 0
    owing: tuple[OwingRow, ...] = ()
    done: DoneToday = DoneToday()
    is_new: bool = False


@dataclass(frozen=True, slots=True)
class RegisterPage:
    """What a visit leaf offers while typing: customers, instruments, known models."""

    customers: tuple[Customer, ...] = ()
    instruments: tuple[Instrument, ...] = ()
    models: tuple[Appliance, ...] = ()
