"""Everything that can be explained of a visit being typed, and of an appliance in the book."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from flueleaf.domain.judging.assessment import Assessment
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.changes import compare
from flueleaf.domain.judging.limits import default_tolerances
from flueleaf.domain.judging.readings import read
from flueleaf.domain.judging.uncertainty import Tolerances
from flueleaf.domain.records.register import Appliance
from flueleaf.domain.records.visits import Slip
from flueleaf.operations.assessing import case_of
from flueleaf.operations.drafting import Judgement, Past
from flueleaf.operations.drifts import drifts_with
from flueleaf.operations.explaining.changes import explain_change
from flueleaf.operations.explaining.combustion import explain_figures, explain_ratio
from flueleaf.operations.explaining.doubts import explain_doubts, explain_doubts_of_all
from flueleaf.operations.explaining.drift import explain_drift
from flueleaf.operations.explaining.explanation import Explanation
from flueleaf.operations.explaining.gas import explain_conversion, explain_gas_rate
from flueleaf.operations.explaining.verdicts import explain_verdict
from flueleaf.operations.tables import Tables, shipped


def explain_work(judgement: Judgement, past: Past, number: int) -> list[Explanation]:
    """Return everything that can be explained of one appliance of a visit.

    Args:
        judgement: of the visit as typed.
        past: what it was judged with.
        number: which appliance, from 0.
    """
    work = judgement.visit.works[number]
    earlier = past.visits[number] if number < len(past.visits) else ()
    case = case_of(judgement.visit, work, earlier, past.tables)
    found = explain_assessment(case, judgement.assessments[number], work.slips, past.tables)
    before = past.taken[number] if number < len(past.taken) else ()
    drifts = drifts_with(before, judgement.visit, work, judgement.assessments[number])
    return [*found, *(explain_drift(row) for row in drifts), *explain_plate(work.appliance, past.tables)]


def explain_assessment(
    case: Case, assessment: Assessment, slips: Sequence[Slip], tables: Tables | None = None
) -> list[Explanation]:
    """Return verdicts, ratio, figures, doubts and changes of every slip in this order, then other doubts.

    Args:
        case, assessment: what was judged, and what came of it.
        slips: as typed, in the order of the assessment.
        tables: those it was judged by; None for the shipped ones.
    """
    defaults = default_tolerances(case, (tables or shipped()).rules)
    found: list[Explanation] = []
    for slip, typed in zip(assessment.slips, slips, strict=True):
        found += [explain_verdict(slip, judged) for judged in slip.judged]
        ratio = explain_ratio(slip)
        found += [ratio] if ratio is not None else []
        heat = case.input_net_kw_max if slip.rate == "max" else None
        found += explain_figures(case.fuel, slip, air_humidity_pct=typed.air_humidity_pct, input_net_kw=heat)
        readings = read(typed, case.fuel, Tolerances.of(case.instrument, defaults))
        found += explain_doubts(case, slip.doubts, readings)
        if slip.decides:
            found += [explain_change(typed, one) for one in compare(case, readings, slip.judged, defaults)]
    return [*found, *explain_doubts_of_all(case, assessment)]


def explain_plate(appliance: Appliance, tables: Tables | None = None) -> list[Explanation]:
    """Return the rated input on its other basis, nothing where the plate gives none."""
    fuel = (tables or shipped()).fuels.get(appliance.fuel)
    if fuel is None or appliance.rated_input is None:
        return []
    made = explain_conversion(fuel, appliance.rated_input)
    return [made] if made is not None else []


def explain_supply(fuel: str, supply: Mapping[str, Any], tables: Tables | None = None) -> list[Explanation]:
    """Return the heat input of a supply as typed, nothing while the meter run is not whole."""
    run = supply.get("gas_rate") or {}
    fuels = (tables or shipped()).fuels
    made = explain_gas_rate({"fuel": fuel, **run}, fuels) if run.get("meter") else None
    return [made] if made is not None else []
