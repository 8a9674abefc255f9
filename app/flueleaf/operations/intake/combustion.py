"""The document of ``flueleaf gas-rate``: a meter run, the gas, the plate it is compared with."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas_rate import (
    HIGHEST_CV_MJ_M3,
    LOWEST_CV_MJ_M3,
    METER_UNITS,
    TIMING_S,
    Dial,
    GasRate,
    MeterRun,
    Plate,
    gas_rate,
)
from flueleaf.domain.records.register import Basis
from flueleaf.domain.words import said
from flueleaf.operations.intake.fuel import fuel_of
from flueleaf.operations.intake.reader import Reader

# Beyond any meter and appliance of the trade; they only keep a slip of the pen out. Common practice.
LEAST_VOLUME, BIGGEST_VOLUME = Decimal("0.0001"), Decimal(1000)
MOST_REVOLUTIONS, BIGGEST_PER_REVOLUTION = 1000, Decimal(100)
LONGEST_RUN_S = 86_400
BIGGEST_INPUT_KW = 10_000
BASES: tuple[Basis, ...] = ("net", "gross")


@dataclass(frozen=True, slots=True)
class GasRateInput:
    """What is needed to work out a heat input, and the day its calorific value is of."""

    fuel: Fuel
    run: MeterRun
    calorific_value_mj_m3: Decimal
    corrected: bool
    plate: Plate | None
    calorific_value_date: dt.date | None = None


def read_gas_rate(document: object, *, fuels: Mapping[str, Fuel]) -> GasRateInput:
    """Read the document.

    Raises:
        Refused: naming every fault, keys that are not known and a liquid fuel included.
    """
    root = Reader.of(document)
    found = gas_rate_of(root, fuels=fuels)
    root.finish()
    return found


def gas_rate_of(root: Reader, *, fuels: Mapping[str, Fuel], usual: str | Fuel | None = None) -> GasRateInput:
    """Read a meter run out of an object that is being read; ``usual`` is the fuel where none is given."""
    known = fuels.get(usual) if isinstance(usual, str) else usual
    return GasRateInput(
        fuel=fuel_of(root, fuels, state="gas", usual=known),
        run=_run(root.child("meter")),
        calorific_value_mj_m3=_given(
            root.decimal("calorific_value_mj_m3", low=LOWEST_CV_MJ_M3, high=HIGHEST_CV_MJ_M3, required=True)
        ),
        corrected=root.flag("corrected"),
        plate=_plate(root),
        calorific_value_date=root.date("calorific_value_date"),
    )


def worked_out(given: GasRateInput) -> GasRate:
    """Return the heat input that a meter run shows."""
    return gas_rate(
        given.fuel,
        given.run,
        calorific_value_mj_m3=given.calorific_value_mj_m3,
        corrected=given.corrected,
        plate=given.plate,
    )


def _given(value: Decimal | None) -> Decimal:
    """Return a required number; the reader stands in for a refused one until it refuses the document."""
    return Decimal(1) if value is None else value


def _run(meter: Reader) -> MeterRun:
    unit = meter.choice("unit", METER_UNITS)
    timing = meter.decimal("timing_s", low=0, high=60)
    dial = _dial(meter)
    volume = meter.decimal("volume", low=LEAST_VOLUME, high=BIGGEST_VOLUME)
    if dial is not None and meter.has("volume"):
        meter.fault("volume", said("either volume, or revolutions with per_revolution, not both"))
    elif dial is None and "volume" not in meter.names():
        meter.fault("volume", said("a volume, or revolutions with per_revolution"))
    return MeterRun(
        unit=unit,
        volume=_given(volume) if dial is None else dial.volume,
        seconds=_given(meter.decimal("seconds", low=1, high=LONGEST_RUN_S, required=True)),
        step=meter.decimal("step", low=0, high=BIGGEST_VOLUME),
        timing_s=TIMING_S if timing is None else timing,
        dial=dial,
    )


def _dial(meter: Reader) -> Dial | None:
    """Read a timed test dial, None where neither of its two keys is there."""
    turns = meter.decimal("revolutions", low=1, high=MOST_REVOLUTIONS)
    passed = meter.decimal("per_revolution", low=LEAST_VOLUME, high=BIGGEST_PER_REVOLUTION)
    names = meter.names()
    if "revolutions" not in names and "per_revolution" not in names:
        return None
    for key, other in (("revolutions", "per_revolution"), ("per_revolution", "revolutions")):
        if key not in names:
            meter.fault(key, said("a number, beside {other}", other=other))
    return Dial(_given(turns), _given(passed))


def _plate(root: Reader) -> Plate | None:
    plus = minus = None
    if root.raw("tolerance_pct") is not None:
        tolerance = root.child("tolerance_pct")
        plus = tolerance.decimal("plus", low=0, high=100, required=True)
        minus = tolerance.decimal("minus", low=0, high=100, required=True)
        if not root.has("rated_input"):
            root.fault("rated_input", said("a JSON object: a tolerance is a tolerance of the rated input"))
    if root.raw("rated_input") is None:
        return None
    plate = root.child("rated_input")
    return Plate(
        basis=plate.choice("basis", BASES),
        kw=_given(plate.decimal("kw", low="0.1", high=BIGGEST_INPUT_KW, required=True)),
        plus_pct=plus,
        minus_pct=minus,
    )
