"""Slips out of a document: each quantity with its digits, its typed text and its range."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import POINTS, RATES
from flueleaf.domain.records.visits import NotMeasured, Override, Slip
from flueleaf.domain.words import said
from flueleaf.operations.intake.reader import Reader, as_typed

MOST_ATTEMPTS = 99
_SMOKE_RANGE = re.compile(r"\s*(\d)\s*[-–]\s*(\d)\s*\Z", re.ASCII)


def read_slips(reader: Reader, key: str = "slips", *, required: bool = False) -> tuple[Slip, ...]:
    """Read a list of slips; a point, rate and attempt may be given once."""
    slips: list[Slip] = []
    for entry in reader.items(key, required=required):
        before = len(entry.faults)
        slip = read_slip(entry)
        # Point, rate and attempt of a refused slip are stand-ins, which may not be held against it.
        if len(entry.faults) == before and any(
            (s.point, s.rate, s.attempt) == (slip.point, slip.rate, slip.attempt) for s in slips
        ):
            entry.fault(
                "attempt",
                said("an attempt not yet given for {point} at {rate}", point=slip.point, rate=slip.rate),
            )
        slips.append(slip)
    return tuple(slips)


def read_slip(reader: Reader) -> Slip:
    """Read one slip; any measured quantity may be absent."""
    values: dict[str, Decimal] = {}
    typed: dict[str, str] = {}
    reader.known((*QUANTITIES, "settled"))
    present = reader.names()
    for key in QUANTITIES:
        if key not in present:
            continue
        value = _smoke(reader) if key == "smoke" else reader.quantity(key)
        if value is not None:
            values[key] = value
            typed[key] = as_typed(reader.raw(key))
    attempt = reader.decimal("attempt", low=1, high=MOST_ATTEMPTS, decimals=0)
    return Slip(
        point=reader.choice("point", POINTS),
        rate=reader.choice("rate", RATES),
        values=values,
        typed=typed,
        attempt=int(attempt) if attempt is not None else 1,
        confirmed=frozenset(reader.texts("confirmed", most=20)),
        air_humidity_pct=reader.decimal("air_humidity_pct", low=0, high=100),
        adjusted=reader.flag("adjusted"),
        settled=reader.flag("settled") if "settled" in present else None,
    )


def _smoke(reader: Reader) -> Decimal | None:
    """Read a smoke number, or the worse end of a range such as 0-1."""
    value = reader.raw("smoke")
    if isinstance(value, str) and (ends := _SMOKE_RANGE.match(value)):
        low, high = (int(end) for end in ends.groups())
        if low <= high:
            return Decimal(high)
        reader.fault("smoke", said("a number from 0 to 9, or a range such as 0-1, lower end first"))
        return None
    return reader.quantity("smoke")


def read_not_measured(reader: Reader) -> Sequence[NotMeasured]:
    """Read the slips that could not be had, each with its reason."""
    return [
        NotMeasured(
            point=entry.choice("point", POINTS),
            rate=entry.choice("rate", RATES),
            reason=entry.text("reason", required=True, longest=500),
        )
        for entry in reader.items("not_measured")
    ]


def read_overrides(reader: Reader) -> tuple[Override, ...]:
    """Read the steps of the procedure that were passed over, each with its reason."""
    return tuple(
        Override(
            step=entry.text("step", required=True, longest=100),
            reason=entry.text("reason", required=True, longest=500),
        )
        for entry in reader.items("overrides", most=50)
    )
