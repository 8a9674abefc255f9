"""The document of ``flueleaf assess``: one appliance, its instrument, its slips, its past."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.case import Case, PreviousVisit
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.judging.procedure import override_faults
from flueleaf.domain.judging.steps import Procedure, procedure_for
from flueleaf.domain.records.register import FLUES, Flue, Instrument
from flueleaf.domain.words import said
from flueleaf.operations.intake.combustion import gas_rate_of, worked_out
from flueleaf.operations.intake.fuel import fuel_of
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import (
    read_instrument,
    read_limits,
    read_points,
    read_rated_input,
)
from flueleaf.operations.intake.slips import read_not_measured, read_overrides, read_slips


def read_case(
    document: object,
    *,
    kinds: Mapping[str, Kind],
    fuels: Mapping[str, Fuel],
    today: dt.date,
    procedures: Iterable[Procedure] = (),
) -> Case:
    """Read the case of one appliance.

    Raises:
        Refused: naming every fault.
    """
    root = Reader.of(document)
    appliance = root.child("appliance")
    fuel = fuel_of(root, fuels)
    kind = kinds[appliance.choice("kind", tuple(kinds))]
    flue = appliance.choice("flue", FLUES) if appliance.has("flue") else None
    case = Case(
        date=root.date("date") or today,
        fuel=fuel,
        kind=kind,
        limits=read_limits(appliance),
        rated_input=read_rated_input(appliance),
        flue=flue,
        test_points=read_points(appliance, "test_points"),
        instrument=_instrument(root),
        slips=read_slips(root, required=True),
        previous=tuple(_previous(entry) for entry in root.items("previous")),
        not_measured=tuple(read_not_measured(root)),
        overrides=read_overrides(root),
        known_fuels=tuple(fuels.values()),
        input_net_kw_max=_measured_input_kw(root, fuel, fuels),
        procedure=procedure_for(procedures, flue or _only(kind.flues), fuel.state),
    )
    appliance.known(["flue"])
    for fault in override_faults(case.overrides, case.procedure):
        root.note(fault)
    root.finish()
    return case


def _only(flues: Sequence[Flue]) -> Flue | None:
    """Return the flue that a kind always has, None where there are several."""
    return flues[0] if len(flues) == 1 else None


def _measured_input_kw(root: Reader, fuel: Fuel, fuels: Mapping[str, Fuel]) -> float | None:
    """Read the meter run at maximum rate, where there is one, and return the net heat input it shows."""
    if not root.has("gas_rate"):
        root.known(["gas_rate"])
        return None
    run = root.child("gas_rate")
    given = gas_rate_of(run, fuels=fuels, usual=fuel)
    if not root.faults and given.fuel.name != fuel.name:
        run.fault("fuel", said("{fuel}, the fuel of this document, or none", fuel=fuel.name))
    return None if root.faults else worked_out(given).input_net_kw


def _instrument(reader: Reader) -> Instrument | None:
    if not reader.has("instrument"):
        reader.known(["instrument"])
        return None
    return read_instrument(reader.child("instrument"))


def _previous(entry: Reader) -> PreviousVisit:
    return PreviousVisit(
        date=entry.date("date", required=True) or dt.date.min,
        slips=read_slips(entry, required=True),
        instrument=_instrument(entry),
    )
