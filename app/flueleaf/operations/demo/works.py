"""What was done at one appliance, as the ``works`` entry of an evening document."""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.kind import Kind, WantedSlip
from flueleaf.operations.demo.answers import check_answers
from flueleaf.operations.demo.charges import repair_of
from flueleaf.operations.demo.copies import YEAR_DAYS
from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.planning import Planned, PlannedWork, Span
from flueleaf.operations.demo.readings import Spell, air_inlet_slip, drifted, flue_slip, supply
from flueleaf.operations.demo.scenario import Analyser, Fitted, Json, Scenario
from flueleaf.operations.tables import Tables

FAILING_CO_FACTORS = (1.3, 1.9)  # how far beyond its limit a failed first attempt lies, from and to


@dataclass(frozen=True, slots=True)
class Setting:
    """What every work of a story shares."""

    scenario: Scenario
    tables: Tables
    span: Span
    seed: int


@dataclass(frozen=True, slots=True)
class _Task:
    """One work to be told, with what it needs at hand."""

    setting: Setting
    visit: Planned
    work: PlannedWork
    kind: Kind
    fuel: Fuel
    dice: Dice

    @property
    def wanted(self) -> tuple[WantedSlip, ...]:
        """The slips of the visit; a repair, and what the purpose wants none of, is measured like a service.

        Where even a service wants none, the maker's own limit asks for one at the flue.
        """
        flue = self.work.fitted.model.flue
        service = self.kind.slips_for("service", flue) or (WantedSlip("flue", "max", ()),)
        if self.work.course == "repaired":
            return service
        return self.kind.slips_for(self.visit.purpose, flue) or service


def work_document(setting: Setting, visit: Planned, work: PlannedWork) -> Json:
    """Return one entry of ``works``."""
    task = _Task(
        setting,
        visit,
        work,
        kind=setting.tables.kinds[work.fitted.model.kind],
        fuel=setting.tables.fuels[work.fitted.model.fuel],
        dice=Dice(setting.seed, "work", work.fitted.serial, visit.date, work.course),
    )
    document: Json = {"appliance": _appliance(task)}
    if work.course == "no access":
        reasons = [_not_measured(slip, "Nobody in; the appliance was not reached") for slip in task.wanted]
        return {**document, "not_measured": reasons, "outcome": "not accessed"}
    document["instrument"] = instrument(setting, visit.date)
    full = visit.purpose != "breakdown"
    document["supply"] = supply(work.fitted, task.fuel, full=full, dice=task.dice)
    return document | (_made_safe(task) if work.course == "made safe" else _left_in_use(task))


def _appliance(task: _Task) -> Json:
    fitted, model = task.work.fitted, task.work.fitted.model
    measured = {slip.point for slip in task.kind.wanted}
    return {
        "kind": model.kind,
        "make": model.make,
        "model": model.model,
        "serial": fitted.serial,
        "location": fitted.location,
        "fuel": model.fuel,
        "flue": model.flue,
        "rated_input": model.rated_input,
        "limits": model.limits,
        "limits_source": model.limits_source,
        "test_points": [point for point in task.kind.points if point in measured],
        "installed": task.setting.span.before_today(fitted.installed_days_before).isoformat(),
    }


def instrument(setting: Setting, date: dt.date) -> Json:
    """Return the analyser used on a day: the everyday one, or the spare while it is away."""
    days = (setting.span.today - date).days
    everyday, spare = setting.scenario.analysers
    analyser = spare if any(end <= days <= start for start, end in everyday.away) else everyday
    due = setting.span.today - dt.timedelta(days=_due_days_before(analyser, days))
    return {
        "name": analyser.name,
        "serial": analyser.serial,
        "calibration_due": due.isoformat(),
        "tolerance": analyser.tolerance,
        "range": analyser.range,
    }


def _due_days_before(analyser: Analyser, days: int) -> int:
    """Return how many days before today the certificate then valid, or last valid, ran out."""
    earlier = [day for day in analyser.calibrated if day >= days]
    if earlier:
        return min(earlier) - YEAR_DAYS
    oldest = max(analyser.calibrated)  # before the scenario's first certificate: one every year
    return oldest + -(-(days - oldest) // YEAR_DAYS) * YEAR_DAYS - YEAR_DAYS


def _left_in_use(task: _Task) -> Json:
    slips, not_measured = _slips(task)
    document: Json = {
        "slips": slips,
        "checks": _checks(task),
        "close_up": {slip["point"]: True for slip in slips},
    }
    if task.work.course == "advice":
        text = task.dice.pick(task.setting.scenario.advice)
        document["defects"] = [{"text": text, "class": "advice", "action": "Told the user"}]
    if not_measured:
        document["not_measured"] = not_measured
    noted = bool(not_measured) or task.work.course == "advice"
    return document | {"outcome": "left in use with notes" if noted else "left in use"}


def _slips(task: _Task) -> tuple[list[Json], list[Json]]:
    """Return the slips and what could not be measured."""
    fitted = task.work.fitted
    spell = drifted(fitted, task.visit.date, task.setting.span, task.visit.place.serviced_days_before)
    corrected = task.work.course == "corrected"
    slips: list[Json] = []
    left_out: list[Json] = []
    for wanted in task.wanted:
        if wanted.point == "air inlet":
            slips.append(air_inlet_slip(task.fuel, wanted.rate, task.dice))
        elif fitted.no_minimum and wanted.rate == "min":
            left_out.append(_not_measured(wanted, "The burner could not be held at minimum rate"))
        elif corrected and wanted.rate == "max":
            slips += _two_attempts(task, spell)
        else:
            now = Spell(0.0) if corrected else spell
            slips += _until_right(task, flue_slip(fitted, task.fuel, wanted.rate, now, task.dice))
    return slips, left_out


def _until_right(task: _Task, slip: Json) -> list[Json]:
    """Return a slip, and after cleaning a second one, where drift alone has carried it beyond its limit."""
    ratio = task.work.fitted.model.limits.get("ratio", "1")
    if float(slip["co_ppm"]) <= highest_co_ppm(task.work.fitted) and float(slip["ratio"]) < float(ratio):
        return [slip]
    second = flue_slip(task.work.fitted, task.fuel, slip["rate"], Spell(0.0), task.dice)
    return [slip | {"attempt": "1"}, second | {"attempt": "2"}]


def _two_attempts(task: _Task, spell: Spell) -> list[Json]:
    """Return a first attempt beyond the limits and a second after cleaning and setting."""
    fitted, dice = task.work.fitted, task.dice
    usual = fitted.model.co_ppm["max"] + fitted.drift_ppm_per_year * spell.years
    low, high = FAILING_CO_FACTORS
    factor = (low + (high - low) * dice.unit()) * highest_co_ppm(fitted) / usual
    first = flue_slip(fitted, task.fuel, "max", dataclasses.replace(spell, co_factor=factor), dice)
    second = flue_slip(fitted, task.fuel, "max", Spell(0.0), dice)
    return [first | {"attempt": "1"}, second | {"attempt": "2"}]


def highest_co_ppm(fitted: Fitted) -> float:
    """Return the CO at which the first of its maker's limits is reached at maximum rate, ppm."""
    limits, aim = fitted.model.limits, fitted.model.aim_pct["max"]
    by_ratio = float(limits["ratio"]) * 10_000.0 * aim if "ratio" in limits else float("inf")
    return min(float(limits.get("co_ppm", "inf")), by_ratio)


def _not_measured(wanted: WantedSlip, reason: str) -> Json:
    return {"point": wanted.point, "rate": wanted.rate, "reason": reason}


def _made_safe(task: _Task) -> Json:
    """Return the part of the work that tells a defect; the story's engineer classified it."""
    defect = task.setting.scenario.defects[task.work.cause]
    slips: list[Json] = []
    left_out: list[Json] = []
    for wanted in task.wanted:
        if wanted.point == "air inlet" and "air_inlet" in defect:
            slips.append(air_inlet_slip(task.fuel, wanted.rate, task.dice, defect["air_inlet"]))
        else:
            left_out.append(_not_measured(wanted, "Not gone on with: see the defect"))
    return {
        "slips": slips,
        "checks": _checks(task, measured=bool(slips)),
        "close_up": {slip["point"]: True for slip in slips},
        "defects": [{"text": defect["text"], "class": defect["class"], "action": defect["action"]}],
        "not_measured": left_out,
        "outcome": defect["outcome"],
    }


def _checks(task: _Task, *, measured: bool = True) -> list[Json]:
    repair = repair_of(task.setting.scenario, task.visit, task.work)
    return check_answers(
        task.setting.scenario, task.kind, task.visit.purpose, task.work, repair, measured=measured
    )
