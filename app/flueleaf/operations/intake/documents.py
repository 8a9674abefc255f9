"""From records back to the document of a visit: what a visit leaf begins with.

Decimals become decimal strings, so that a draft keeps the digits typed; what is empty is left out.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from flueleaf.domain.money.lines import Line
from flueleaf.domain.records.register import (
    Appliance,
    Customer,
    Instrument,
    MakerLimits,
    Premises,
    Rate,
    Tolerance,
    Window,
)


def customer_document(customer: Customer) -> dict[str, Any]:
    """Return a customer as a visit's document names them."""
    return _filled(
        name=customer.name,
        kind=customer.kind,
        address=list(customer.address),
        postcode=customer.postcode,
        telephone=customer.telephone,
        email=customer.email,
    )


def premises_document(premises: Premises) -> dict[str, Any]:
    """Return premises as a visit's document names them."""
    return _filled(
        address=list(premises.address), postcode=premises.postcode, responsible=premises.responsible
    )


def appliance_document(appliance: Appliance) -> dict[str, Any]:
    """Return an appliance as a visit's document describes it."""
    rated = appliance.rated_input
    return _filled(
        kind=appliance.kind,
        make=appliance.make,
        model=appliance.model,
        serial=appliance.serial,
        location=appliance.location,
        fuel=appliance.fuel,
        flue=appliance.flue,
        rated_input=_filled(basis=rated.basis, max_kw=_text(rated.max_kw), min_kw=_text(rated.min_kw))
        if rated
        else None,
        limits=_limits(appliance.limits) if appliance.limits else None,
        test_points=list(appliance.test_points),
        installed=_day(appliance.installed),
    )


def instrument_document(instrument: Instrument) -> dict[str, Any]:
    """Return an analyser as a visit's document names it."""
    return _filled(
        name=instrument.name,
        serial=instrument.serial,
        calibration_due=_day(instrument.calibration_due),
        tolerance={key: _tolerance(value) for key, value in instrument.tolerance.items()},
        range={key: _text(value) for key, value in instrument.range.items()},
        co2_calculated=instrument.co2_calculated or None,
    )


def line_document(line: Line) -> dict[str, Any]:
    """Return a work line as a visit's document has it."""
    nothing, each = Decimal(0), Decimal(1)
    return _filled(
        text=line.text,
        quantity=_text(line.quantity),
        unit=line.unit,
        unit_price=_text(line.unit_price),
        base_quantity=_text(line.base_quantity if line.base_quantity != each else None),
        discount_pct=_text(line.discount_pct if line.discount_pct != nothing else None),
        discount_amount=_text(line.discount_amount if line.discount_amount != nothing else None),
        surcharge_amount=_text(line.surcharge_amount if line.surcharge_amount != nothing else None),
        vat_pct=_text(line.vat_pct),
        vat_category=line.vat_category,
        labour=line.labour or None,
    )


def _limits(limits: MakerLimits) -> dict[str, Any]:
    return _filled(
        co_ppm=_text(limits.co_ppm),
        ratio=_text(limits.ratio),
        smoke=_text(limits.smoke),
        co2_pct=_windows(limits.co2_pct),
        o2_pct=_windows(limits.o2_pct),
        limits_source=limits.source,
    )


def _windows(windows: Mapping[Rate, Window]) -> dict[str, Any]:
    return {rate: [_text(window.low), _text(window.high)] for rate, window in windows.items()}


def _tolerance(tolerance: Tolerance) -> dict[str, Any]:
    return {"abs": _text(tolerance.abs), "rel": _text(tolerance.rel)}


def _text(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:f}"


def _day(value: dt.date | None) -> str | None:
    return value.isoformat() if value else None


def _filled(**entries: Any) -> dict[str, Any]:
    return {key: value for key, value in entries.items() if value not in (None, "", [], {})}
