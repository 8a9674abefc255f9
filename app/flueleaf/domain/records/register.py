"""The register: customers, premises, appliances, instruments."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal, NewType

CustomerId = NewType("CustomerId", int)
PremisesId = NewType("PremisesId", int)
ApplianceId = NewType("ApplianceId", int)
InstrumentId = NewType("InstrumentId", int)

CustomerKind = Literal["householder", "landlord", "agent", "business"]
Flue = Literal["room-sealed", "open", "none"]
Rate = Literal["max", "min", "mid"]
Point = Literal["air inlet", "flue", "room", "outdoors", "hob", "grill", "oven"]
Basis = Literal["net", "gross"]

CUSTOMER_KINDS: tuple[CustomerKind, ...] = ("householder", "landlord", "agent", "business")
FLUES: tuple[Flue, ...] = ("room-sealed", "open", "none")
RATES: tuple[Rate, ...] = ("max", "min", "mid")
POINTS: tuple[Point, ...] = ("air inlet", "flue", "room", "outdoors", "hob", "grill", "oven")
# Where products of combustion are measured, and CO over CO2 tells of a flame; elsewhere it is air.
FLAME_POINTS: tuple[Point, ...] = ("flue", "hob", "grill", "oven")


@dataclass(frozen=True, slots=True)
class Customer:
    """Who pays, or who asked."""

    name: str
    kind: CustomerKind = "householder"
    address: tuple[str, ...] = ()
    postcode: str = ""
    telephone: str = ""
    email: str = ""
    id: CustomerId | None = None


@dataclass(frozen=True, slots=True)
class Premises:
    """Where appliances stand; ``responsible`` is the person on the spot."""

    address: tuple[str, ...]
    postcode: str = ""
    responsible: str = ""
    customer_id: CustomerId | None = None
    id: PremisesId | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """A maker's window for one quantity at one rate, both ends allowed."""

    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class MakerLimits:
    """The maker's limits of one appliance; each may be absent.

    Attributes:
        co_ppm: highest CO, ppm as measured.
        ratio: highest CO/CO2 ratio.
        co2_pct, o2_pct: windows by rate, % of dry flue gas.
        source: the maker's document and page; needed where a limit is laxer than the rule table's.
        smoke: highest smoke number.
    """

    co_ppm: Decimal | None = None
    ratio: Decimal | None = None
    co2_pct: Mapping[Rate, Window] = field(default_factory=dict)
    o2_pct: Mapping[Rate, Window] = field(default_factory=dict)
    source: str = ""
    smoke: Decimal | None = None


@dataclass(frozen=True, slots=True)
class RatedInput:
    """Heat input on the data plate, kW, with the basis the plate states."""

    basis: Basis
    max_kw: Decimal | None = None
    min_kw: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Half-width of an instrument's tolerance: the larger of ``abs`` and ``rel`` x value counts."""

    abs: Decimal = Decimal(0)
    rel: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Instrument:
    """An analyser with its calibration and, by quantity key, tolerance and upper end of range.

    Attributes:
        order: quantity keys in the order the analyser prints them (order of typing).
        log_columns: column of its logged runs by what it holds (``time``, ``co_ppm``).
        co2_calculated: whether it has no CO2 cell and works CO2 out from O2, which is no second witness.
    """

    name: str
    serial: str = ""
    calibration_due: dt.date | None = None
    tolerance: Mapping[str, Tolerance] = field(default_factory=dict)
    range: Mapping[str, Decimal] = field(default_factory=dict)
    order: tuple[str, ...] = ()
    log_columns: Mapping[str, str] = field(default_factory=dict)
    co2_calculated: bool = False
    id: InstrumentId | None = None


@dataclass(frozen=True, slots=True)
class Appliance:
    """One appliance as its plate describes it. ``kind`` and ``fuel`` are names of the shipped tables."""

    kind: str
    make: str = ""
    model: str = ""
    serial: str = ""
    location: str = ""
    fuel: str = "natural gas"
    flue: Flue = "room-sealed"
    rated_input: RatedInput | None = None
    limits: MakerLimits | None = None
    test_points: tuple[Point, ...] = ()
    installed: dt.date | None = None
    premises_id: PremisesId | None = None
    id: ApplianceId | None = None
