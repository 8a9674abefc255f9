"""The facts of a record: the law's examinations apart, fitting cautions, words that fit verdicts."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Customer, Premises
from flueleaf.operations.assessing import assess_work
from flueleaf.operations.facts import cautions
from flueleaf.operations.facts.record import record_facts
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices, shipped
from flueleaf.papers import canonical
from flueleaf.papers import facts as paper
from flueleaf.papers.record.facts import Record

ISSUED = dt.datetime(2026, 11, 20, 20, 15, tzinfo=dt.UTC)


def _facts(document: dict[str, Any], record_text: str = "") -> Record:
    visit = read_visit(document, choices=choices(), today=dt.date(2026, 11, 25))
    head = paper.Head(
        number="R-2026-0001",
        kind="commissioning record",
        issued_at=ISSUED,
        business=paper.business_facts(Business(name="Ina Fell")),
        customer=paper.party_facts(Customer("Wilf Example")),
        premises=paper.place_facts(Premises(("2 Dock Street",))),
    )
    return record_facts(
        head,
        visit,
        [assess_work(visit, work, ()) for work in visit.works],
        tables=shipped(),
        business=Business(name="Ina Fell", registration="INVENTED-1", record_text=record_text),
        due=[()],
    )


def test_what_the_law_wants_examined_stands_apart(document: dict[str, Any]) -> None:
    (work,) = _facts(document).works
    # Gas Safety (Installation and Use) Regulations 1998, reg. 26(9): (a), (b), (c), (ca), (d).
    assert len(work.examined) == 5
    assert len(work.examined) + len(work.checks) == len(document["works"][0]["checks"])
    assert not {check.question for check in work.examined} & {check.question for check in work.checks}


def test_the_facts_are_canonical_and_come_back_equal(document: dict[str, Any]) -> None:
    facts = _facts(document)
    assert canonical.from_json(Record, canonical.to_json(facts)) == facts


def _flue(document: dict[str, Any], **readings: str) -> dict[str, tuple[str, str]]:
    """Return the figures of the flue at high rate, with other readings: value and basis."""
    document["works"][0]["slips"][1].update(readings)
    (work,) = _facts(document).works
    slip = next(one for one in work.slips if (one.point, one.rate) == ("flue", "high rate"))
    return {one.label: (f"{one.value} {one.unit}".strip(), one.basis) for one in slip.readings}


def test_measured_nox_is_a_fact_on_gross_heat(document: dict[str, Any]) -> None:
    assert "NOx" not in _flue(document)
    # 30 ppm at 4.8 % O2: 30 · 20.95 / 16.15 · 1.7689 / 1.1069 (facts of the fuel in tests/outside).
    assert _flue(document, no_ppm="30")["NOx"] == (
        "62.2 mg/kWh", "of gross heat, measured NO counted as NO2"
    )  # fmt: skip


def test_readings_that_contradict_each_other_give_no_figures(document: dict[str, Any]) -> None:
    assert "efficiency, net" in _flue(document)
    told = _flue(document, co2_pct="12.6")
    assert told["CO2"][0] == "12.6 %"
    assert not {"air factor", "efficiency, net", "efficiency, gross"} & set(told)
    document["works"][0]["slips"][1]["confirmed"] = ["beyond-physics", "o2-co2-disagree", "ratio-disagrees"]
    assert "efficiency, net" in _flue(document, co2_pct="12.6")


def test_a_verdict_in_doubt_points_to_the_doubts_and_names_no_code(document: dict[str, Any]) -> None:
    document["works"][0]["slips"][1]["co2_pct"] = "12.6"
    (work,) = _facts(document).works
    slip = next(one for one in work.slips if (one.point, one.rate) == ("flue", "high rate"))
    whys = {judged.why for judged in slip.judged if judged.verdict == "unjudged"}
    assert whys == {"in doubt: see the doubts below"}
    assert slip.doubts


def test_the_owners_line_is_a_fact_only_where_there_is_one(document: dict[str, Any]) -> None:
    assert _facts(document, "Every year.").texts == ("Every year.",)
    assert '"texts"' not in canonical.to_json(_facts(document))


def test_a_value_over_its_limit_is_printed_as_over_and_never_as_the_limit(document: dict[str, Any]) -> None:
    slip = document["works"][0]["slips"][1]
    slip.update(co_ppm="372.1", co2_pct="9.3", ratio="0.0040")  # 0.00400108 when worked out
    document["works"][0]["outcome"] = "left in use with notes"
    (work,) = _facts(document).works
    judged = [row for s in work.slips for row in s.judged if row.label == "CO/CO2 ratio" and row.derived]
    assert ("over", "0.004001", "0.0040") in [(row.verdict, row.value, row.limit) for row in judged]
    assert work.verdict == "over"


@pytest.mark.parametrize(("outcome", "expected"), [("left in use", ()), ("isolated", (cautions.OUT_OF_USE,))])
def test_an_appliance_out_of_use_says_so(
    document: dict[str, Any], outcome: str, expected: tuple[str, ...]
) -> None:
    document["works"][0]["outcome"] = outcome
    assert _facts(document).works[0].cautions == expected


def test_an_unsafe_class_of_the_engineer_brings_its_caution(document: dict[str, Any]) -> None:
    document["works"][0]["defects"] = [{"text": "cracked seal", "class": "at risk", "action": "turned off"}]
    document["works"][0]["outcome"] = "left in use with notes"
    assert cautions.CLASSED in _facts(document).works[0].cautions


def test_the_smell_of_gas_is_for_gas(document: dict[str, Any]) -> None:
    assert cautions.SMELL_OF_GAS in _facts(document).cautions
    document["works"][0]["appliance"]["fuel"] = "kerosene"
    document["works"][0]["supply"] = {}
    assert cautions.SMELL_OF_GAS not in _facts(document).cautions


def test_nothing_printed_says_that_an_appliance_is_safe(document: dict[str, Any]) -> None:
    text = canonical.to_json(_facts(document)).casefold()
    assert " is safe" not in text
    assert "safe to use" not in text


def test_a_step_gone_past_is_printed_with_its_reason(document: dict[str, Any]) -> None:
    work = document["works"][0]
    inlet = next(slip for slip in work["slips"] if slip["point"] == "air inlet")
    inlet["o2_pct"] = "20.1"
    work["outcome"] = "left in use with notes"
    assert not _facts(document).works[0].gone_past
    work["overrides"] = [{"step": "integrity", "reason": "The probe drew room air; looked over by eye."}]
    (past,) = _facts(document).works[0].gone_past
    assert past.step == "flue integrity at high rate"
    assert past.reason == "The probe drew room air; looked over by eye."
    assert _facts(document).works[0].verdict == "over"


def test_a_slip_taken_after_an_adjustment_is_told_as_such(document: dict[str, Any]) -> None:
    flue = [slip for slip in document["works"][0]["slips"] if slip["point"] == "flue"]
    flue[0]["adjusted"] = True
    told = [slip for slip in _facts(document).works[0].slips if slip.adjusted]
    assert [(slip.point, slip.rate) for slip in told] == [("flue", "high rate")]


def test_the_humidity_of_the_air_is_printed_where_it_was_measured(document: dict[str, Any]) -> None:
    assert "air humidity" not in _flue(document)
    assert _flue(document, air_humidity_pct="55")["air humidity"] == ("55 %", "")


def test_what_was_written_down_comes_in_the_order_of_the_kind(document: dict[str, Any]) -> None:
    document["works"][0]["notes"] = [
        {"key": "inhibitor_date", "text": "2026-11-20"},
        {"key": "flue_length_m", "text": "2.40"},
        {"key": "filter", "text": "fitted today"},
    ]
    (work,) = _facts(document).works
    assert [(one.group, one.label, one.text) for one in work.noted] == [
        ("flue run", "flue, length of all pieces", "2.40\N{NO-BREAK SPACE}m"),
        ("heating water", "inhibitor put in on", "20\xa0November\xa02026"),
        ("heating water", "filter", "fitted today"),
    ]
