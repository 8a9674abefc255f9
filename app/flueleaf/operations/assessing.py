"""Judging an appliance's slips, from a document or from a visit."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.as_json import assessment_json
from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.assessment import Assessment
from flueleaf.domain.judging.case import Case, PreviousVisit
from flueleaf.domain.judging.steps import procedure_for
from flueleaf.domain.records.visits import Visit, Work
from flueleaf.operations.intake.case import read_case
from flueleaf.operations.intake.combustion import gas_rate_of, worked_out
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.tables import Tables, shipped


def assess_document(document: object, *, today: dt.date) -> dict[str, Any]:
    """Return the result of ``flueleaf assess``.

    Raises:
        Refused: the document is not accepted.
    """
    tables = shipped()
    case = read_case(
        document, kinds=tables.kinds, fuels=tables.fuels, procedures=tables.procedures, today=today
    )
    return assessment_json(assess(case, tables.rules))


def assess_work(
    visit: Visit, work: Work, previous: Sequence[PreviousVisit], tables: Tables | None = None
) -> Assessment:
    """Return the verdict on one appliance of a visit.

    Args:
        visit, work: the visit and its work on the appliance.
        previous: earlier visits to it, latest first.
        tables: those that count in the book of the visit; None for the shipped ones.
    """
    tables = tables or shipped()
    return assess(case_of(visit, work, previous, tables), tables.rules)


def case_of(
    visit: Visit, work: Work, previous: Sequence[PreviousVisit], tables: Tables | None = None
) -> Case:
    """Return what is judged of one appliance of a visit; see ``assess_work``."""
    tables = tables or shipped()
    appliance = work.appliance
    fuel = tables.fuels[appliance.fuel]
    return Case(
        date=visit.date,
        fuel=fuel,
        kind=tables.kinds[appliance.kind],
        limits=appliance.limits,
        instrument=work.instrument,
        slips=work.slips,
        previous=tuple(previous),
        rated_input=appliance.rated_input,
        flue=appliance.flue,
        purpose=visit.purpose,
        test_points=appliance.test_points,
        not_measured=work.not_measured,
        known_fuels=tuple(tables.fuels.values()),
        input_net_kw_max=_measured_input_kw(work, tables.fuels),
        procedure=procedure_for(tables.procedures, appliance.flue, fuel.state),
        answers={check.key: check.answer for check in work.checks},
        close_up=work.close_up,
        outcome=work.outcome,
        overrides=work.overrides,
    )


def _measured_input_kw(work: Work, fuels: Mapping[str, Fuel]) -> float | None:
    """Return the net heat input that the meter showed at maximum rate; None where no run was noted.

    A run noted for another gas than the appliance's says nothing of it.
    """
    if not work.supply.gas_rate:
        return None
    reader = Reader.of(work.supply.gas_rate)
    given = gas_rate_of(reader, fuels=fuels, usual=work.appliance.fuel)
    if reader.faults or given.fuel.name != work.appliance.fuel:
        return None
    return worked_out(given).input_net_kw
