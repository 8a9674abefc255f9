"""The demo book's scenario, read from demo_db: who, where, what is fitted, what befalls it."""

from __future__ import annotations

import datetime as dt
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import CustomerKind, Flue

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Model:
    """A model of an invented maker; ``limits`` and ``rated_input`` are as an evening document has them.

    Attributes:
        aim_pct: CO2 of a well set appliance by rate, % of dry flue gas.
        co_ppm: CO of a clean one by rate, ppm.
        supply_price: pounds without VAT.
    """

    key: str
    kind: str
    make: str
    model: str
    serial_prefix: str
    fuel: str
    flue: Flue
    rated_input: Json
    limits: Json
    limits_source: str
    aim_pct: Mapping[str, float]
    co_ppm: Mapping[str, float]
    supply_price: str


@dataclass(frozen=True, slots=True)
class Fitted:
    """One appliance where it stands, and what befalls it; years count yearly visits back, 0 the latest."""

    model: Model
    serial: str
    location: str
    installed_days_before: int
    drift_ppm_per_year: float = 0.0
    corrected_years_ago: tuple[int, ...] = ()
    advice_years_ago: tuple[int, ...] = ()
    breakdown_years_ago: tuple[int, ...] = ()
    made_safe: Mapping[int, str] | None = None
    no_minimum: bool = False
    quoted: bool = False


@dataclass(frozen=True, slots=True)
class Payer:
    """A customer, with the habit of paying: days after the invoice, when it stopped, what part came first."""

    key: str
    name: str
    kind: CustomerKind
    address: tuple[str, ...]
    postcode: str
    telephone: str
    email: str
    after_days: tuple[int, int]
    not_since_days: int = 0
    first_part: Decimal = Decimal(1)


@dataclass(frozen=True, slots=True)
class Place:
    """One of the premises; ``serviced_days_before`` is when the yearly visit last fell."""

    payer: Payer
    address: tuple[str, ...]
    postcode: str
    responsible: str
    serviced_days_before: int
    fitted: tuple[Fitted, ...]
    no_access_years_ago: tuple[int, ...] = ()
    latest_missed: bool = False


@dataclass(frozen=True, slots=True)
class Analyser:
    """An instrument over the years: days before today when it was calibrated, and from when to when away."""

    name: str
    serial: str
    tolerance: Json
    range: Json
    calibrated: tuple[int, ...]
    away: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Scenario:
    """Everything the story is told from.

    Attributes:
        one_by_one: appliances whose visits are written out; the rest is told by chance.
        own_limits, own_fuel: what the owner entered; lent: an analyser that was not the owner's.
    """

    business: Business
    analysers: tuple[Analyser, ...]
    places: tuple[Place, ...]
    prices: Mapping[str, Json]
    vat_pct: str
    prices_from: dt.date
    repairs: tuple[Json, ...]
    defects: Mapping[str, Json]
    advice: tuple[str, ...]
    correction: Json
    quotes: tuple[Json, ...]
    models: tuple[Model, ...]
    one_by_one: tuple[Json, ...]
    own_limits: tuple[Json, ...]
    own_fuel: Json
    lent: Json
    streets: tuple[Json, ...]
    town: str
    given: tuple[str, ...]
    surnames: tuple[str, ...]


def load(folder: Path) -> Scenario:
    """Read the scenario's files.

    Args:
        folder: where business, catalogue, customers, premises, prices, defects, quotes, town and
            visits (.toml)
            and the pictures they name lie.
    """
    raw = {
        path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.toml"))
    }
    models = {entry["key"]: _model(entry) for entry in raw["catalogue"]["model"]}
    payers = {entry["key"]: _payer(entry) for entry in raw["customers"]["customer"]}
    town, told = raw["town"], raw["visits"]
    return Scenario(
        business=_business(raw["business"]["business"], folder),
        analysers=tuple(_analyser(entry) for entry in raw["business"]["instrument"]),
        places=tuple(_place(entry, payers, models) for entry in raw["premises"]["premises"]),
        prices=raw["prices"]["price"],
        vat_pct=raw["prices"]["vat_pct"],
        prices_from=raw["prices"]["valid_from"],
        repairs=tuple(raw["prices"]["repair"]),
        defects={entry["cause"]: entry for entry in raw["defects"]["defect"]},
        advice=tuple(raw["defects"]["advice"]["texts"]),
        correction=raw["defects"]["correction"],
        quotes=tuple(raw["quotes"]["quote"]),
        models=tuple(models.values()),
        one_by_one=tuple(told["appliance"]),
        own_limits=tuple({**told["own_limits"], **entry} for entry in told["own_limit"]),
        own_fuel=told["own_fuel"],
        lent=told["lent"],
        streets=tuple(town["street"]),
        town=town["town"],
        given=tuple(town["given"]),
        surnames=tuple(town["surname"]),
    )


def _business(entry: Json, folder: Path) -> Business:
    pictures = {f"{name}_png": (folder / entry[name]).read_bytes() for name in ("logo", "signature")}
    rest = {key: value for key, value in entry.items() if key not in ("logo", "signature")}
    return Business(**{**rest, **pictures, "address": tuple(entry["address"])})


def _model(entry: Json) -> Model:
    return Model(**entry)


def _payer(entry: Json) -> Payer:
    pays = entry["pays"]
    rest = {key: value for key, value in entry.items() if key not in {"pays", "address"}}
    first, last = pays["after_days"]
    return Payer(
        **rest,
        address=tuple(entry["address"]),
        after_days=(first, last),
        not_since_days=pays.get("not_since_days", 0),
        first_part=Decimal(pays.get("first_part", "1")),
    )


def _analyser(entry: Json) -> Analyser:
    return Analyser(
        name=entry["name"],
        serial=entry["serial"],
        tolerance=entry["tolerance"],
        range=entry["range"],
        calibrated=tuple(entry["calibrated"]),
        away=tuple((first, last) for first, last in entry["away"]),
    )


def _fitted(entry: Json, models: Mapping[str, Model]) -> Fitted:
    lists = ("corrected_years_ago", "advice_years_ago", "breakdown_years_ago")
    rest: Json = {key: tuple(value) if key in lists else value for key, value in entry.items()}
    rest["model"] = models[entry["model"]]
    rest["made_safe"] = {told["years_ago"]: told["cause"] for told in entry.get("made_safe", ())}
    return Fitted(**rest)


def _place(entry: Json, payers: Mapping[str, Payer], models: Mapping[str, Model]) -> Place:
    return Place(
        payer=payers[entry["customer"]],
        address=tuple(entry["address"]),
        postcode=entry["postcode"],
        responsible=entry.get("responsible", ""),
        serviced_days_before=entry["serviced_days_before"],
        fitted=tuple(_fitted(one, models) for one in entry["appliances"]),
        no_access_years_ago=tuple(entry.get("no_access_years_ago", ())),
        latest_missed=entry.get("latest_missed", False),
    )
