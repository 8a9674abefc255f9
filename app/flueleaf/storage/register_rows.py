"""How customers, premises, appliances and instruments are written as rows and read back."""

from __future__ import annotations

import json
import sqlite3
from decimal import Decimal
from typing import Any

from flueleaf.domain.records.register import (
    Appliance,
    ApplianceId,
    Customer,
    CustomerId,
    Instrument,
    InstrumentId,
    MakerLimits,
    Premises,
    PremisesId,
    RatedInput,
    Tolerance,
    Window,
)
from flueleaf.storage.rows import (
    Value,
    date_of,
    decimal_of,
    decimal_text,
    dump,
    iso,
    key_of,
    lines_of,
    lines_text,
    tight_key_of,
)


def customer_row(record: Customer) -> dict[str, Value]:
    """Return the row of a customer."""
    return {
        "name": record.name,
        "kind": record.kind,
        "address": lines_text(record.address),
        "postcode": record.postcode,
        "telephone": record.telephone,
        "email": record.email,
        "name_key": key_of(record.name),
        "postcode_key": tight_key_of(record.postcode),
    }


def customer_of(row: sqlite3.Row) -> Customer:
    """Return the customer of a row."""
    return Customer(
        name=row["name"],
        kind=row["kind"],
        address=lines_of(row["address"]),
        postcode=row["postcode"],
        telephone=row["telephone"],
        email=row["email"],
        id=CustomerId(row["id"]),
    )


def premises_row(record: Premises) -> dict[str, Value]:
    """Return the row of premises."""
    address = lines_text(record.address)
    return {
        "customer_id": record.customer_id,
        "address": address,
        "postcode": record.postcode,
        "responsible": record.responsible,
        "address_key": key_of(address),
        "postcode_key": tight_key_of(record.postcode),
    }


def premises_of(row: sqlite3.Row) -> Premises:
    """Return the premises of a row."""
    customer_id = row["customer_id"]
    return Premises(
        address=lines_of(row["address"]),
        postcode=row["postcode"],
        responsible=row["responsible"],
        customer_id=None if customer_id is None else CustomerId(customer_id),
        id=PremisesId(row["id"]),
    )


def appliance_row(record: Appliance) -> dict[str, Value]:
    """Return the row of an appliance."""
    rated = record.rated_input
    return {
        "premises_id": record.premises_id,
        "kind": record.kind,
        "make": record.make,
        "model": record.model,
        "serial": record.serial,
        "location": record.location,
        "fuel": record.fuel,
        "flue": record.flue,
        "input_basis": rated.basis if rated else None,
        "input_max_kw": decimal_text(rated.max_kw) if rated else None,
        "input_min_kw": decimal_text(rated.min_kw) if rated else None,
        "limits": None if record.limits is None else dump(_limits_json(record.limits)),
        "test_points": dump(record.test_points),
        "installed": iso(record.installed),
        "kind_key": key_of(record.kind),
        "location_key": key_of(record.location),
        "serial_key": tight_key_of(record.serial),
    }


def appliance_of(row: sqlite3.Row) -> Appliance:
    """Return the appliance of a row."""
    rated = None
    if row["input_basis"] is not None:
        rated = RatedInput(
            row["input_basis"], decimal_of(row["input_max_kw"]), decimal_of(row["input_min_kw"])
        )
    return Appliance(
        kind=row["kind"],
        make=row["make"],
        model=row["model"],
        serial=row["serial"],
        location=row["location"],
        fuel=row["fuel"],
        flue=row["flue"],
        rated_input=rated,
        limits=None if row["limits"] is None else _limits_of(json.loads(row["limits"])),
        test_points=tuple(json.loads(row["test_points"])),
        installed=date_of(row["installed"]),
        premises_id=PremisesId(row["premises_id"]),
        id=ApplianceId(row["id"]),
    )


def instrument_row(record: Instrument) -> dict[str, Value]:
    """Return the row of an instrument."""
    return {
        "name": record.name,
        "serial": record.serial,
        "calibration_due": iso(record.calibration_due),
        "tolerance": dump({key: {"abs": t.abs, "rel": t.rel} for key, t in record.tolerance.items()}),
        "ranges": dump(record.range),
        "print_order": dump(record.order),
        "log_columns": dump(record.log_columns),
        "co2_calculated": int(record.co2_calculated),
        "name_key": key_of(record.name),
        "serial_key": tight_key_of(record.serial),
    }


def instrument_of(row: sqlite3.Row) -> Instrument:
    """Return the instrument of a row."""
    tolerance = json.loads(row["tolerance"])
    return Instrument(
        name=row["name"],
        serial=row["serial"],
        calibration_due=date_of(row["calibration_due"]),
        tolerance={key: Tolerance(Decimal(t["abs"]), Decimal(t["rel"])) for key, t in tolerance.items()},
        range={key: Decimal(end) for key, end in json.loads(row["ranges"]).items()},
        order=tuple(json.loads(row["print_order"])),
        log_columns=json.loads(row["log_columns"]),
        co2_calculated=bool(row["co2_calculated"]),
        id=InstrumentId(row["id"]),
    )


def _limits_json(limits: MakerLimits) -> dict[str, Any]:
    windows = {"co2_pct": limits.co2_pct, "o2_pct": limits.o2_pct}
    return {
        "co_ppm": limits.co_ppm,
        "ratio": limits.ratio,
        "smoke": limits.smoke,
        "source": limits.source,
        **{key: {rate: [w.low, w.high] for rate, w in window.items()} for key, window in windows.items()},
    }


def _limits_of(kept: dict[str, Any]) -> MakerLimits:
    def windows(key: str) -> dict[Any, Window]:
        return {rate: Window(Decimal(low), Decimal(high)) for rate, (low, high) in kept[key].items()}

    return MakerLimits(
        co_ppm=decimal_of(kept["co_ppm"]),
        ratio=decimal_of(kept["ratio"]),
        smoke=decimal_of(kept.get("smoke")),
        co2_pct=windows("co2_pct"),
        o2_pct=windows("o2_pct"),
        source=kept["source"],
    )
