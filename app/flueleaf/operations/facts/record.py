"""The facts of a commissioning or service record, out of a visit and its verdicts."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

from flueleaf.domain.judging.assessment import WORKED_OUT, Assessment, Judged, SlipAssessment
from flueleaf.domain.judging.doubts import contradicted
from flueleaf.domain.judging.kind import Check, Kind
from flueleaf.domain.judging.rule_table import OWNERS
from flueleaf.domain.quantities import AIR_HUMIDITY, QUANTITIES, shown
from flueleaf.domain.records import register, visits
from flueleaf.domain.records.business import Business
from flueleaf.operations.facts import supply, wording
from flueleaf.operations.facts.bill import paragraphs
from flueleaf.operations.facts.cautions import visit_cautions, work_cautions
from flueleaf.operations.tables import Tables
from flueleaf.papers import facts as paper
from flueleaf.papers.record import facts

# The figures printed of a flue slip beside what was measured: key, label, unit, decimals, basis.
_FIGURES = (
    ("air_factor", "air factor", "", 2, ""),
    ("efficiency_net_pct", "efficiency, net", "%", 1, "first principles, no condensing credit"),
    ("efficiency_gross_pct", "efficiency, gross", "%", 1, "first principles, no condensing credit"),
    ("nox_mg_per_kwh_gross", "NOx", "mg/kWh", 1, "of gross heat, measured NO counted as NO2"),
)
# A verdict in doubt says so; which doubt it is stands in words under the table.
IN_DOUBT, SEE_DOUBTS = "in doubt", "in doubt: see the doubts below"
# The examinations of SI 1998/2451, reg. 26(9)(a) to (d), are the checks of this stage that name it.
EXAMINED_IN, EXAMINED_BY = "safety checks", "reg. 26(9)("
_REFIT: Mapping[bool | str, facts.Refit] = {True: "refitted", False: "not refitted", "not sure": "not sure"}


def record_facts(
    head: paper.Head,
    visit: visits.Visit,
    assessments: Sequence[Assessment],
    *,
    tables: Tables,
    business: Business,
    due: Sequence[Sequence[facts.Due]],
) -> facts.Record:
    """Return the facts of a record.

    Args:
        head: what every paper has.
        visit: the visit, signed off.
        assessments, due: of each work, in the visit's order.
        tables: the kinds and fuels that count in the book.
        business: whose engineer signs.
    """
    works = tuple(
        _work(visit, work, tables, assessment, dates)
        for work, assessment, dates in zip(visit.works, assessments, due, strict=True)
    )
    return facts.Record(
        head=head,
        purpose=visit.purpose,
        date=visit.date,
        arrived=_time(visit.arrived),
        left=_time(visit.left),
        works=works,
        cautions=visit_cautions(visit, tables.fuels),
        sign_off=facts.SignOff(
            customer_name=visit.sign_off.customer_name if visit.sign_off else "",
            customer=visit.sign_off.customer if visit.sign_off else "",
            engineer=business.name,
            registration=business.registration,
        ),
        texts=paragraphs(business.record_text),
    )


def _time(time: dt.time | None) -> str:
    return f"{time:%H:%M}" if time else ""


def _work(
    visit: visits.Visit,
    work: visits.Work,
    tables: Tables,
    assessment: Assessment,
    due: Sequence[facts.Due],
) -> facts.Work:
    kind = tables.kinds[work.appliance.kind]
    return facts.Work(
        appliance=_appliance(work.appliance),
        limits=limit_rows(work.appliance.limits),
        limits_source=work.appliance.limits.source if work.appliance.limits else "",
        instrument=_instrument(work.instrument, visit.date, assessment.tolerance),
        supply=supply.rows(work, tables, visit.date),
        slips=tuple(_slip(slip) for slip in assessment.slips),
        verdict=assessment.verdict,
        missing=tuple(missing.text for missing in assessment.missing),
        doubts=tuple(
            facts.Doubt(doubt.text, doubt.confirmed) for doubt in assessment.doubts if doubt.point is None
        ),
        checks=_answers(work, kind, examined=False),
        examined=_answers(work, kind, examined=True),
        close_up=tuple(facts.CloseUp(point, _REFIT[answer]) for point, answer in work.close_up.items()),
        defects=tuple(
            facts.Defect(defect.text, defect.defect_class, defect.action) for defect in work.defects
        ),
        not_measured=tuple(
            facts.NotMeasured(entry.point, wording.RATE_NAMES[entry.rate], entry.reason)
            for entry in work.not_measured
        ),
        gone_past=_gone_past(assessment),
        outcome=work.outcome,
        cautions=work_cautions(work),
        due=tuple(due),
        noted=_noted(work, kind),
    )


def _noted(work: visits.Work, kind: Kind) -> tuple[facts.Noted, ...]:
    """Return what was written down, in the kind's order."""
    return tuple(
        facts.Noted(note.group, note.label, wording.note_text(note, work.notes[note.key]))
        for note in kind.notes
        if work.notes.get(note.key)
    )


def _gone_past(assessment: Assessment) -> tuple[facts.GonePast, ...]:
    """Return the steps that held the engineer up and were gone past, each with its reason."""
    taken = assessment.walk.taken if assessment.walk else ()
    return tuple(facts.GonePast(one.step.title, one.reason) for one in taken if one.overridden)


def _answers(work: visits.Work, kind: Kind, *, examined: bool) -> tuple[facts.Check, ...]:
    """Return the answers to what the law wants examined after work, or to all the other checks."""
    asked = {check.key: check for check in kind.checks}
    return tuple(
        facts.Check(asked[answer.key].question, answer.answer, answer.note)
        for answer in work.checks
        if _is_examination(asked[answer.key]) is examined
    )


def _is_examination(check: Check) -> bool:
    return check.stage == EXAMINED_IN and EXAMINED_BY in check.source


def _appliance(appliance: register.Appliance) -> facts.Appliance:
    plate: list[facts.Row] = []
    if rated := appliance.rated_input:
        ends = [f"{kw:f}" for kw in (rated.min_kw, rated.max_kw) if kw is not None]
        if ends:
            plate.append(facts.Row("rated input", " to ".join(ends), "kW", f"{rated.basis} basis"))
    return facts.Appliance(
        kind=appliance.kind,
        make=appliance.make,
        model=appliance.model,
        serial=appliance.serial,
        location=appliance.location,
        fuel=appliance.fuel,
        flue=appliance.flue,
        installed=appliance.installed,
        plate=tuple(plate),
    )


def limit_rows(limits: register.MakerLimits | None) -> tuple[facts.Limit, ...]:
    """Return the maker's limits as lines."""
    if limits is None:
        return ()
    rows: list[facts.Limit] = []
    if limits.co_ppm is not None:
        rows.append(facts.Limit("CO", f"at most {limits.co_ppm:f}", "ppm"))
    if limits.ratio is not None:
        rows.append(facts.Limit("CO/CO2 ratio", f"at most {wording.value_text('ratio', limits.ratio)}"))
    if limits.smoke is not None:
        rows.append(facts.Limit(wording.label("smoke"), f"at most {limits.smoke:f}"))
    for key, windows in (("co2_pct", limits.co2_pct), ("o2_pct", limits.o2_pct)):
        for rate, window in windows.items():
            name = f"{wording.label(key)}, {wording.RATE_NAMES[rate]}"
            rows.append(facts.Limit(name, f"{window.low:f} to {window.high:f}", "%"))
    return tuple(rows)


def _instrument(
    instrument: register.Instrument | None, on: dt.date, tolerance: str
) -> facts.Instrument | None:
    if instrument is None:
        return None
    expired = instrument.calibration_due is not None and instrument.calibration_due < on
    return facts.Instrument(
        instrument.name, instrument.serial, instrument.calibration_due, expired, f"tolerances: {tolerance}"
    )


def _slip(slip: SlipAssessment) -> facts.Slip:
    return facts.Slip(
        point=slip.point,
        rate=wording.RATE_NAMES[slip.rate],
        attempt=slip.attempt,
        decides=slip.decides,
        readings=_readings(slip),
        judged=tuple(judged_facts(judged, slip.ratio_text) for judged in slip.judged),
        doubts=tuple(facts.Doubt(doubt.text, doubt.confirmed) for doubt in slip.doubts),
        adjusted=slip.adjusted,
    )


def _readings(slip: SlipAssessment) -> tuple[facts.Reading, ...]:
    found: list[facts.Reading] = []
    used = {"o2_pct": slip.o2_pct, "co2_pct": slip.co2_pct}
    for key, quantity in QUANTITIES.items():
        if key in slip.values:
            found.append(
                facts.Reading(quantity.label, wording.value_text(key, slip.values[key]), quantity.unit)
            )
        elif key in slip.derived and (value := used.get(key)) is not None:
            text = wording.exact(value, quantity.decimals)
            found.append(facts.Reading(quantity.label, text, quantity.unit, derived=True))
        elif key == "ratio" and slip.ratio_text:
            found.append(facts.Reading(quantity.label, slip.ratio_text, derived=True))
    if slip.air_humidity_pct is not None:
        humidity = shown(AIR_HUMIDITY, slip.air_humidity_pct)
        found.append(facts.Reading(AIR_HUMIDITY.label, humidity, AIR_HUMIDITY.unit))
    if contradicted(slip.doubts):
        return tuple(found)  # what is worked out from readings that contradict each other says nothing
    for key, label, unit, decimals, basis in _FIGURES:
        value = getattr(slip.figures, key)
        if value is not None and slip.point == "flue":
            found.append(facts.Reading(label, wording.figure(value, decimals), unit, basis, derived=True))
    return tuple(found)


def judged_facts(judged: Judged, ratio_text: str) -> facts.Judged:
    """Return one verdict as a paper prints it."""
    text = ""
    if judged.value is not None:
        computed = judged.quantity == "ratio" and judged.basis == "computed"
        text = ratio_text if computed else wording.value_text(judged.quantity, judged.value, judged.limit)
    return facts.Judged(
        label=wording.label(judged.quantity),
        value=text,
        verdict=judged.verdict,
        unit=wording.unit(judged.quantity),
        limit=wording.value_text(judged.quantity, judged.limit) if judged.limit is not None else "",
        sense=judged.sense,
        whose=judged.source,
        source=", ".join(part for part in (judged.source_text, judged.edition, judged.clause) if part),
        margin=wording.margin_text(judged.quantity, judged.margin) if judged.margin is not None else "",
        why=SEE_DOUBTS if judged.why.startswith(IN_DOUBT) else judged.why,
        chance=wording.chance_text(judged.chance_beyond) if judged.chance_beyond is not None else "",
        derived=judged.basis in WORKED_OUT,
        also=wording.value_text(judged.quantity, judged.also.limit) if judged.also else "",
        also_whose=judged.also.source if judged.also else "none",
        also_source=judged.also.source_text if judged.also else "",
        entered=judged.status == OWNERS,
        also_entered=judged.also is not None and judged.also.status == OWNERS,
    )
