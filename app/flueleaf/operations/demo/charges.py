"""The work lines of a visit, from the price list."""

from __future__ import annotations

from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.planning import Planned, PlannedWork
from flueleaf.operations.demo.scenario import Json, Scenario

_SERVICE_OF_KIND = {"gas fire": "service_fire", "water heater": "service_heater"}
_DISCOUNT_FROM_APPLIANCES = 3  # as many at one visit, and the further ones cost a tenth less


def line(scenario: Scenario, what: str | Json, quantity: str = "1", **more: str) -> Json:
    """Return a line for an entry of the price list, or for a part."""
    entry = scenario.prices[what] if isinstance(what, str) else what
    return {**entry, "quantity": quantity, "vat_pct": scenario.vat_pct, **more}


def visit_lines(scenario: Scenario, visit: Planned, dice: Dice) -> list[Json]:
    """Return what a visit is charged at."""
    lines: list[Json] = []
    for nth, work in enumerate(visit.works):
        if work.course == "no access":
            return [line(scenario, "visit_in_vain")]
        lines += _work_lines(scenario, visit, work, nth, dice)
    return lines


def _work_lines(scenario: Scenario, visit: Planned, work: PlannedWork, nth: int, dice: Dice) -> list[Json]:
    if work.course == "commissioned":
        return commissioning_lines(scenario, work, dice)
    if work.course == "mended":
        repair = repair_of(scenario, visit, work)
        first, further = scenario.prices["fault_first_hour"], line(scenario, "fault_more", repair["hours"])
        found = line(scenario, {**first, "text": f"{first['text']}: {repair['fault']}"})
        return [found, further, line(scenario, repair["part"])]
    if work.course == "repaired":
        defect = scenario.defects[work.cause]
        repair = {**scenario.prices["fault_more"], "text": defect["repair"]}
        return [line(scenario, repair, defect["hours"]), line(scenario, defect["part"])]
    if visit.purpose == "landlord check":
        return [line(scenario, "landlord_further" if nth else "landlord_check"), *_parts(scenario, work)]
    service = _SERVICE_OF_KIND.get(work.fitted.model.kind, "service")
    fewer = {"discount_pct": "10"} if nth + 1 >= _DISCOUNT_FROM_APPLIANCES else {}
    return [line(scenario, service, **fewer), *_parts(scenario, work)]


def repair_of(scenario: Scenario, visit: Planned, work: PlannedWork) -> Json:
    """Return what a breakdown took: fault, part, hours."""
    return Dice("repair", work.fitted.serial, visit.date).pick(scenario.repairs)


def _parts(scenario: Scenario, work: PlannedWork) -> list[Json]:
    return [line(scenario, scenario.correction["part"])] if work.course == "corrected" else []


def commissioning_lines(scenario: Scenario, work: PlannedWork, dice: Dice) -> list[Json]:
    """Return the lines of fitting and commissioning an appliance, as quoted and as invoiced."""
    model = work.fitted.model
    supply = {"text": f"{model.make} {model.model}", "unit": "each", "unit_price": model.supply_price}
    hours = str(dice.between(6, 10))
    boiler = model.kind == "condensing boiler"
    lines = [line(scenario, supply), line(scenario, "fitting", hours)]
    if boiler:
        lines.append(line(scenario, "flue_kit"))
        lines.append(line(scenario, "filter", **({"discount_pct": "10"} if dice.chance(0.3) else {})))
        lines.append(line(scenario, "inhibitor"))
        lines.append(line(scenario, "condensate_pipe", f"{dice.between(2, 9)}.5"))
    return lines
