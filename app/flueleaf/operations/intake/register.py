"""Customers, premises, appliances and instruments out of a document."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal

from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.mail import MAIL_ACCEPTED, may_be_mail
from flueleaf.domain.records.register import (
    CUSTOMER_KINDS,
    FLUES,
    POINTS,
    RATES,
    Appliance,
    Customer,
    Flue,
    Instrument,
    MakerLimits,
    Point,
    Premises,
    Rate,
    RatedInput,
    Tolerance,
    Window,
)
from flueleaf.domain.words import quoted, said
from flueleaf.operations.intake.reader import Reader, as_decimal

# Beyond any appliance or analyser of the trade; they only keep a slip of the pen out. Common practice.
BIGGEST_INPUT_KW = 10_000
BIGGEST_TOLERANCE_REL = 1


def read_customer(reader: Reader) -> Customer:
    """Read a customer; the name is needed."""
    return Customer(
        name=reader.text("name", required=True, longest=200),
        kind=reader.choice("kind", CUSTOMER_KINDS, required=False),
        address=reader.texts("address"),
        postcode=reader.text("postcode", longest=20),
        telephone=reader.text("telephone", longest=50),
        email=_mail(reader),
    )


def _mail(reader: Reader) -> str:
    text = reader.text("email", longest=200)
    if text and not may_be_mail(text):
        reader.fault("email", said(MAIL_ACCEPTED))
    return text


def read_premises(reader: Reader) -> Premises:
    """Read premises; the address is needed."""
    return Premises(
        address=reader.texts("address", required=True),
        postcode=reader.text("postcode", longest=20),
        responsible=reader.text("responsible", longest=200),
    )


def read_appliance(reader: Reader, *, kinds: Mapping[str, Sequence[Flue]], fuels: Sequence[str]) -> Appliance:
    """Read an appliance as its plate describes it.

    Args:
        reader: of its object.
        kinds: the flues that each kind may have; where there is but one, it need not be said.
        fuels: names of the fuels.
    """
    kind = reader.choice("kind", tuple(kinds))
    flues = kinds[kind]
    return Appliance(
        kind=kind,
        make=reader.text("make", longest=100),
        model=reader.text("model", longest=100),
        serial=reader.text("serial", longest=100),
        location=reader.text("location", longest=200),
        fuel=reader.choice("fuel", fuels),
        flue=reader.choice("flue", FLUES, required=len(flues) != 1, default=flues[0]),
        rated_input=read_rated_input(reader),
        limits=read_limits(reader),
        test_points=read_points(reader, "test_points"),
        installed=reader.date("installed"),
    )


def read_points(reader: Reader, key: str) -> tuple[Point, ...]:
    """Read a list of test points, each once."""
    found: list[Point] = []
    for name in reader.texts(key, most=len(POINTS)):
        known = [point for point in POINTS if point == name]
        if not known or known[0] in found:
            reader.fault(key, said("each once, of {names}", names=quoted(POINTS)))
            return ()
        found.append(known[0])
    return tuple(found)


def read_rated_input(reader: Reader) -> RatedInput | None:
    """Read the heat input of the plate, kW with its basis."""
    if not reader.has("rated_input"):
        reader.raw("rated_input")
        return None
    plate = reader.child("rated_input")
    return RatedInput(
        basis=plate.choice("basis", ("net", "gross")),
        max_kw=plate.decimal("max_kw", low="0.1", high=BIGGEST_INPUT_KW),
        min_kw=plate.decimal("min_kw", low="0.1", high=BIGGEST_INPUT_KW),
    )


def read_limits(reader: Reader) -> MakerLimits | None:
    """Read the maker's limits; the source may stand in them or beside them as ``limits_source``."""
    beside = reader.text("limits_source", longest=300)
    if not reader.has("limits"):
        reader.raw("limits")
        return None
    limits = reader.child("limits")
    highest = {
        key: limits.decimal(key, low=QUANTITIES[key].low, high=QUANTITIES[key].high)
        for key in ("co_ppm", "ratio", "smoke")
    }
    return MakerLimits(
        co_ppm=highest["co_ppm"],
        ratio=highest["ratio"],
        smoke=highest["smoke"],
        co2_pct=_windows(limits, "co2_pct"),
        o2_pct=_windows(limits, "o2_pct"),
        source=limits.text("limits_source", longest=300) or beside,
    )


def _windows(limits: Reader, key: str) -> Mapping[Rate, Window]:
    if not limits.has(key):
        limits.raw(key)
        return {}
    quantity = QUANTITIES[key]
    by_rate = limits.child(key)
    found: dict[Rate, Window] = {}
    for rate in RATES:
        ends = by_rate.raw(rate)
        if ends is None and rate not in by_rate.names():
            continue
        numbers = [as_decimal(end) for end in ends] if isinstance(ends, list) else []
        low, high = (numbers[0], numbers[1]) if len(numbers) == 2 else (None, None)
        if low is None or high is None or not quantity.low <= low <= high <= quantity.high:
            by_rate.fault(
                rate,
                said(
                    "two numbers, lower then upper, from {low} to {high} %",
                    low=quantity.low,
                    high=quantity.high,
                ),
            )
            continue
        found[rate] = Window(low, high)
    return found


def read_instrument(reader: Reader) -> Instrument:
    """Read an analyser; the name is needed."""
    return Instrument(
        name=reader.text("name", required=True, longest=100),
        serial=reader.text("serial", longest=100),
        calibration_due=reader.date("calibration_due"),
        tolerance=_by_quantity(reader, "tolerance", _tolerance),
        range=_ranges(reader),
        co2_calculated=reader.flag("co2_calculated"),
    )


def _by_quantity(
    reader: Reader, key: str, read: Callable[[Reader, str], Tolerance]
) -> Mapping[str, Tolerance]:
    if not reader.has(key):
        reader.raw(key)
        return {}
    table = reader.child(key)
    return {name: read(table.child(name), name) for name in table.names() if name in _measured(table)}


def _measured(table: Reader) -> tuple[str, ...]:
    """Declare every measured quantity known, so that only a misspelt one is refused."""
    table.known(QUANTITIES)
    return tuple(QUANTITIES)


def _tolerance(entry: Reader, name: str) -> Tolerance:
    quantity = QUANTITIES[name]
    absolute = entry.decimal("abs", low=0, high=quantity.high)
    relative = entry.decimal("rel", low=0, high=BIGGEST_TOLERANCE_REL)
    if absolute is None and relative is None and not {"abs", "rel"} & {*entry.names()}:
        entry.fault("abs", said("“abs”, “rel” or both for {name}", name=name))
    return Tolerance(absolute or Decimal(0), relative or Decimal(0))


def _ranges(reader: Reader) -> Mapping[str, Decimal]:
    if not reader.has("range"):
        reader.raw("range")
        return {}
    table = reader.child("range")
    found = {
        name: table.decimal(name, low=QUANTITIES[name].low, high=QUANTITIES[name].high)
        for name in table.names()
        if name in _measured(table)
    }
    return {name: value for name, value in found.items() if value is not None}
