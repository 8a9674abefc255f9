"""The gas supply as lines of a record: pressures, heat input by the meter, tightness as entered."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from decimal import Decimal

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas_rate import GasRate, Plate
from flueleaf.domain.records.visits import Work
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import sentence
from flueleaf.operations.facts.guidance import NO_PASS, permissible_drops
from flueleaf.operations.facts.wording import figure
from flueleaf.operations.intake.combustion import GasRateInput, gas_rate_of, worked_out
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.tables import Tables
from flueleaf.papers.record.facts import Row

_PRESSURES = (
    ("standing_mbar", "standing pressure"),
    ("working_mbar", "working pressure"),
    ("inlet_mbar", "pressure at the appliance inlet"),
)
VOLUME_UNITS = {"m3": "m³", "ft3": "ft³"}
_STEP_NOTE = "one step of the meter is {step} % of it"


def rows(work: Work, tables: Tables, on: dt.date) -> tuple[Row, ...]:
    """Return the lines of a work's gas supply, each as entered or with what it was worked out from.

    Args:
        work: the work.
        tables: those that count in the book: fuels, and the drops that the owner entered.
        on: the day of the work.
    """
    found = [
        Row(label, f"{value:f}", "mbar")
        for key, label in _PRESSURES
        if (value := getattr(work.supply, key)) is not None
    ]
    return (*found, *_gas_rate(work, tables.fuels), *_tightness(work), *_permissible(work, tables, on))


def _gas_rate(work: Work, fuels: Mapping[str, Fuel]) -> tuple[Row, ...]:
    if work.supply.gas_rate is None:
        return ()
    reader = Reader.of(work.supply.gas_rate)
    given = gas_rate_of(reader, fuels=fuels, usual=work.appliance.fuel)
    reader.finish()
    rate = worked_out(given)
    note = f"{_run_note(given)}; " + _STEP_NOTE.format(step=figure(rate.step_pct, 1))
    lines = [
        Row("heat input by the meter, gross", figure(rate.input_gross_kw, 1), "kW", note, derived=True),
        Row("heat input by the meter, net", figure(rate.input_net_kw, 1), "kW", derived=True),
    ]
    if given.plate and rate.deviation_pct is not None:
        verdict = rate.verdict or "unjudged"
        against = f"{verdict}; the plate says {given.plate.kw:f} kW {given.plate.basis}"
        shown = deviation_text(rate, given.plate)
        lines.append(Row("against the plate", shown, "%", against, derived=True))
    return tuple(lines)


def _run_note(given: GasRateInput) -> str:
    """Return what was read at the meter, at which calorific value, and whether it was corrected."""
    run, of_day = given.run, given.calorific_value_date
    volume = f"{run.volume:f} {VOLUME_UNITS[run.unit]}"
    if run.dial is not None:
        turns = f"{run.dial.revolutions:f} × {run.dial.per_revolution:f} {VOLUME_UNITS[run.unit]}"
        volume = f"{turns} by the test dial"
    day = f" of {in_words(of_day)}" if of_day else ""
    way = "corrected for temperature and pressure" if given.corrected else "as metered"
    return f"{volume} in {run.seconds:f} s at {given.calorific_value_mj_m3:f} MJ/m³{day}, {way}"


def deviation_text(rate: GasRate, plate: Plate) -> str:
    """Return the deviation from the plate, %; one that is over never reads as within its tolerance."""
    deviation = rate.deviation_pct or 0.0
    return _beyond(deviation, plate) if rate.verdict == "over" else figure(deviation, 1)


def _beyond(deviation_pct: float, plate: Plate) -> str:
    """Return a deviation beyond its tolerance with as many decimals as show that it is."""
    tolerance = plate.plus_pct if deviation_pct > 0 else plate.minus_pct
    for decimals in range(1, 12):
        text = figure(abs(deviation_pct), decimals)
        if tolerance is None or Decimal(text) > tolerance:
            break
    return figure(deviation_pct, decimals)


def _tightness(work: Work) -> tuple[Row, ...]:
    return tuple(
        _tightness_row(key, value)
        for key, value in (work.supply.tightness or {}).items()
        if value is not None
    )


def _permissible(work: Work, tables: Tables, on: dt.date) -> tuple[Row, ...]:
    """Return the drops the owner read in the own copy, where a tightness test is noted."""
    if not any(value is not None for value in (work.supply.tightness or {}).values()):
        return ()
    drops, behind = permissible_drops(tables, tables.fuels.get(work.appliance.fuel), on)
    if not drops:
        return ()
    # Several rows of a table are longer than the column of values is wide.
    return (Row("permissible drop, appliances connected", "", note=f"{drops}; {behind}. {NO_PASS}"),)


def _tightness_row(key: str, value: object) -> Row:
    words, unit = key.replace("_", " "), ""
    for ending, printed in ((" mbar", "mbar"), (" minutes", "min"), (" m3", "m³")):
        if words.endswith(ending):
            words, unit = words.removesuffix(ending), printed
    label = f"tightness test: {words}" if words != "tightness" else "tightness test"
    if isinstance(value, bool):
        return Row(label, "yes" if value else "no")
    if isinstance(value, Decimal):
        return Row(label, f"{value:f}", unit)
    return Row(label, sentence(str(value)), unit)
