"""Visits told one by one: what chance does not bring about, written out in demo_db/visits.toml.

Each appliance there has its visits oldest first, about a year apart; what an entry leaves out goes well.
"""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from flueleaf.domain.combustion.gas import co2_from_o2_pct, co_co2_ratio
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.judging.procedure import OPENED
from flueleaf.domain.records.visits import Purpose
from flueleaf.operations.demo.charges import line
from flueleaf.operations.demo.copies import YEAR_DAYS, enlarged
from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.planning import Planned, Span
from flueleaf.operations.demo.readings import FLUE_C
from flueleaf.operations.demo.scenario import Json, Model, Place, Scenario
from flueleaf.operations.demo.story import STORIES, customer_document, premises_document
from flueleaf.operations.demo.works import Setting, instrument
from flueleaf.operations.tables import shipped

EVENING = dt.time(19, 30, tzinfo=dt.UTC)  # after the papers of the day's other visits
_BETWEEN_PAPERS = dt.timedelta(seconds=40)
_OFF = ("isolated", "made safe")
_PRICES = {"gas fire": "service_fire", "water heater": "service_heater"}
# Checks that stand in for another, or that a bottle has no meter for.
_INSTEAD, _METER = "combustion_performance", "gas_rate"
# A question that a failed one answers along with itself, and one that asks of readings only.
_SETTLED = "readings_settled"
_ALSO = {"combustion_air": "ventilation", "flue_effective": "flue_flow"}
_BOTTLED = ("propane", "butane", "Thrupp bottled blend")
_PLAIN_FLUE_C = 118.0


@dataclass(frozen=True, slots=True)
class _Told:
    """One visit to be told: its entry, the appliance's, and where and when."""

    setting: Setting
    place: Place
    entry: Json
    visit: Json
    serial: str
    date: dt.date

    @property
    def purpose(self) -> Purpose:
        found: Purpose = self.visit.get("purpose", "service")
        return found

    @property
    def outcome(self) -> str:
        return str(self.visit.get("outcome", "left in use with notes"))

    @property
    def kind(self) -> Kind:
        return self.setting.tables.kinds[self.entry["kind"]]


def told_one_by_one(
    scenario: Scenario, *, years: int, scale: int, seed: int, today: dt.date
) -> Iterator[tuple[Planned, Json]]:
    """Yield the visits that are written out, each with its document, in date order.

    Args:
        scenario: with its entries; those of a place it does not have are left out.
        years, scale, seed, today: as for ``story``.
    """
    setting = Setting(scenario, shipped(), Span.of(years, today, scenario.prices_from), seed)
    found = sorted(_told(setting, scale), key=lambda told: (told.date, told.serial))
    of_the_day: dict[dt.date, int] = {}
    for told in found:
        nth = of_the_day.setdefault(told.date, 0)
        of_the_day[told.date] = nth + 1
        yield Planned(told.date, told.purpose, told.place, ()), _document(told, nth)


def _told(setting: Setting, scale: int) -> Iterator[_Told]:
    originals = len(setting.scenario.places)
    for nth, place in enumerate(enlarged(setting.scenario, scale, setting.seed)):
        home, copy = setting.scenario.places[nth % originals], nth // originals + 1
        for entry in setting.scenario.one_by_one:
            if entry["at"] != home.address[0]:
                continue
            serial = entry["serial"] if copy == 1 else f"{entry['serial']}-{copy}"
            model = next(one for one in setting.scenario.models if one.key == entry["model"])
            whole = {**_plate(model), **entry}
            for back, visit in enumerate(reversed(entry["visit"])):
                days = entry["latest_days_before"] + back * (YEAR_DAYS - 1)
                date = setting.span.before_today(days)
                if setting.span.holds(date):
                    yield _Told(setting, place, whole, visit, serial, date)


def _plate(model: Model) -> Json:
    return {
        "kind": model.kind,
        "make": model.make,
        "name": model.model,
        "fuel": model.fuel,
        "flue": model.flue,
        "rated_input": model.rated_input,
        "limits": model.limits,
        "limits_source": model.limits_source,
    }


def _document(told: _Told, nth_of_day: int) -> Json:
    scenario = told.setting.scenario
    reached = told.outcome != "not accessed"
    price = "fault_first_hour" if told.outcome in _OFF else _PRICES.get(told.kind.name, "service")
    issued = dt.datetime.combine(told.date, EVENING) + _BETWEEN_PAPERS * nth_of_day
    name = told.place.responsible or told.place.payer.name
    return {
        "visit_id": str(uuid.uuid5(STORIES, f"{told.setting.seed}/told/{told.serial}/{told.date}")),
        "purpose": told.purpose,
        "date": told.date.isoformat(),
        "arrived": "17:10",
        "left": "18:20" if reached else "17:20",
        "customer": customer_document(told.place),
        "premises": premises_document(told.place),
        "works": [_work(told)],
        "lines": [line(scenario, price if reached else "visit_in_vain")],
        "sign_off": {"customer_name": name, "customer": "signed on paper" if reached else "not present"},
        "papers": ["service record", "invoice"] if reached else ["invoice"],
        "issued_at": issued.isoformat(),
    }


def _work(told: _Told) -> Json:
    entry, visit = told.entry, told.visit
    document: Json = {"appliance": _appliance(told), "outcome": told.outcome}
    left_out = visit.get("not_measured", ())
    document["not_measured"] = [
        {"point": point, "rate": rate, "reason": reason} for point, rate, reason in left_out
    ]
    if told.outcome == "not accessed":
        return document
    given: list[Json] = visit["slips"] if "slips" in visit else entry.get("usual", [])
    slips = [_slip(told, slip) for slip in given]
    opened = {slip["point"] for slip in slips} & set(OPENED)
    document |= {
        "instrument": _instrument(told),
        "slips": slips,
        "checks": list(_answers(told, measured=bool(slips))),
        "close_up": {point: point not in visit.get("left_open", ()) for point in sorted(opened)},
        "overrides": [{"step": step, "reason": why} for step, why in visit.get("gone_past", {}).items()],
        "notes": [{"key": key, "text": text} for key, text in visit.get("notes", {}).items()],
    }
    if "defect" in visit:
        document["defects"] = [visit["defect"]]
    return document


def _appliance(told: _Told) -> Json:
    entry = told.entry
    days = entry["installed_days_before"]
    points = [point for point in told.kind.points if point in OPENED]
    found = {
        "kind": entry["kind"],
        "make": entry["make"],
        "model": entry["name"],
        "serial": told.serial,
        "location": entry["location"],
        "fuel": entry["fuel"],
        "flue": entry["flue"],
        "test_points": entry.get("test_points", points),
        "installed": told.setting.span.before_today(days).isoformat(),
    }
    given = {key: entry[key] for key in ("rated_input", "limits", "limits_source") if entry.get(key)}
    return found | given


def _instrument(told: _Told) -> Json:
    if not told.visit.get("lent"):
        return instrument(told.setting, told.date)
    due = told.date + dt.timedelta(days=YEAR_DAYS // 2)
    return {**told.setting.scenario.lent, "calibration_due": due.isoformat()}


def _slip(told: _Told, given: Json) -> Json:
    """Return a slip with what its entry leaves to the physics: at the flue, CO2 and ratio follow from O2."""
    point, _, rate = given["at"].rpartition(" ")
    slip: Json = {"point": point, "rate": rate}
    slip |= {key: value for key, value in given.items() if key != "at"}
    fuel = told.setting.tables.fuels.get(told.entry["fuel"])
    if point == "flue" and "o2_pct" in slip and fuel is not None:
        slip.setdefault("co2_pct", f"{co2_from_o2_pct(fuel, float(slip['o2_pct'])):.1f}")
    # The analyser prints a ratio in its flue mode; above a hob or at an oven the program divides.
    if point == "flue" and "co_ppm" in slip and "co2_pct" in slip:
        ratio = co_co2_ratio(float(slip["co_ppm"]), float(slip["co2_pct"]))
        slip.setdefault("ratio", f"{ratio:.4f}")
    if point == "flue":
        dice = Dice("told", told.serial, told.date, given["at"], given.get("attempt", "1"))
        warm = FLUE_C.get(told.kind.name, {}).get(rate, _PLAIN_FLUE_C)
        slip.setdefault("flue_c", f"{warm + dice.bell(1.0):.1f}")
        slip.setdefault("air_c", f"{17.0 + dice.bell(1.5):.1f}")
    return slip


def _answers(told: _Told, *, measured: bool) -> Iterator[Json]:
    refused: Mapping[str, str] = told.visit.get("no", {})
    for check in told.kind.checks_for(told.purpose, flue=told.entry["flue"]):
        failed = check.key if check.key in refused else _ALSO.get(check.key, "")
        if failed in refused:
            yield {"key": check.key, "answer": "no", "note": refused[failed]}
        elif check.key in _not_applicable(told.entry) or (check.key == _SETTLED and not measured):
            yield {"key": check.key, "answer": "not applicable"}
        elif check.key == "pressure_or_input":
            yield {"key": check.key, "answer": "yes", "note": "Pressure read at the appliance"}
        else:
            yield {"key": check.key, "answer": "yes"}


def _not_applicable(entry: Json) -> tuple[str, ...]:
    bottled = (_METER,) if entry["fuel"] in _BOTTLED else ()
    return (_INSTEAD, *bottled)


def by_date(*stories: Iterable[tuple[Planned, dict[str, Any]]]) -> list[tuple[Planned, dict[str, Any]]]:
    """Return the visits of several stories in the order of their days; on one day the first story's first."""
    return sorted((one for story in stories for one in story), key=lambda told: told[0].date)
