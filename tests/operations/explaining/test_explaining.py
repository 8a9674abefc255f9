"""An explanation ends in the figure shown, and its steps lead there from what was typed."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.assessment import Judged, OtherLimit
from flueleaf.domain.judging.case import Case, PreviousVisit
from flueleaf.domain.judging.rule_table import Status
from flueleaf.domain.money.amount import Money
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import RatedInput
from flueleaf.domain.records.visits import Slip
from flueleaf.domain.schedule.due import in_words, plan
from flueleaf.operations import bills, drafting, explaining
from flueleaf.operations.combustion import gas_rate_document
from flueleaf.operations.explaining.draft import explain_assessment
from flueleaf.operations.explaining.explanation import Explanation, unrounded
from flueleaf.operations.explaining.gas import explain_conversion, explain_gas_rate
from flueleaf.operations.explaining.sealed import PastSlip, judged_then
from flueleaf.operations.explaining.verdicts import explain_verdict, slip_key
from flueleaf.operations.facts.record import judged_facts
from flueleaf.operations.facts.wording import figure
from flueleaf.operations.page_records import DueRow, InvoicePage
from flueleaf.operations.tables import shipped
from flueleaf.storage.tables.schedule import due_rules

TODAY = dt.date(2026, 11, 25)
LANDLORD = Business(name="Jory Quillfeather", vat="standard", vat_number="GB999999973")


def _slip(**values: str) -> Slip:
    return Slip(point="flue", rate="max", values={key: Decimal(text) for key, text in values.items()})


def _case(*slips: Slip, previous: tuple[PreviousVisit, ...] = ()) -> Case:
    tables = shipped()
    return Case(
        date=TODAY,
        fuel=tables.fuels["natural gas"],
        kind=tables.kinds["condensing boiler"],
        slips=slips,
        previous=previous,
    )


def _explained(case: Case) -> tuple[Any, list[Explanation]]:
    assessment = assess(case, shipped().rules)
    return assessment, explain_assessment(case, assessment, case.slips)


def _last_number(step: str) -> float:
    return float(re.findall(r"−?\d+(?:\.\d+)?", step)[-1].replace("−", "-"))


@given(
    co=st.integers(0, 2000),
    o2=st.decimals("0", "20.9", places=1),
    co2=st.one_of(st.none(), st.decimals("0", "12", places=1)),
    flue=st.decimals("20", "200", places=1),
)
@settings(max_examples=60, deadline=None)
def test_every_result_is_the_figure_shown(co: int, o2: Decimal, co2: Decimal | None, flue: Decimal) -> None:
    texts = {"co_ppm": str(co), "o2_pct": str(o2), "flue_c": str(flue), "air_c": "18.0"}
    if co2 is not None:
        texts["co2_pct"] = str(co2)
    assessment, found = _explained(_case(_slip(**texts)))
    slip = assessment.slips[0]
    results = {(one.key, one.result) for one in found}
    for judged in slip.judged:
        told = judged_facts(judged, slip.ratio_text)
        shown = f"{told.value} {told.unit}".strip()
        text = f"{shown}: {judged.verdict}" if shown else judged.verdict
        assert (slip_key(slip, judged.quantity), text) in results
    figures = dataclasses.asdict(slip.figures)
    for key, decimals, unit in (
        ("air_factor", 2, ""), ("co_undiluted_ppm", 0, " ppm"), ("efficiency_net_pct", 1, " %"),
        ("efficiency_gross_pct", 1, " %"), ("loss_net_pct", 1, " %"),
    ):  # fmt: skip
        told_of = [one for one in found if one.key == slip_key(slip, key)]
        assert bool(told_of) is (figures[key] is not None)
        for one in told_of:
            assert one.result == f"{figure(figures[key], decimals)}{unit}"
            assert _last_number(one.steps[-1].split("% of")[0]) == pytest.approx(figures[key], rel=1e-8)


def test_the_steps_of_a_verdict_can_be_followed_by_hand() -> None:
    # Worked by hand: 350 − 61 = 289; default tolerance of CO at 61 ppm as in the shipped table.
    assessment, found = _explained(_case(_slip(co_ppm="61", co2_pct="9.1", o2_pct="4.8")))
    one = next(one for one in found if one.key == "flue.max.1.co_ppm")
    judged = next(one for one in assessment.slips[0].judged if one.quantity == "co_ppm")
    assert judged.limit is not None
    assert one.steps[0] == f"m = {judged.limit} − 61 = {judged.limit - 61} ppm"
    assert unrounded(judged.standard_uncertainty or 0.0) in one.steps[1]
    ratio = next(one for one in found if one.key == "flue.max.1.ratio.figure")
    assert ratio.steps[0] == "61 / (10 000 · 9.1) = 0.0006703296703…"
    assert ratio.result == "0.0007"


def test_a_ratio_typed_for_the_air_of_a_room_is_not_told_as_worked_out() -> None:
    values = {"co_ppm": Decimal(10), "co2_pct": Decimal("0.1"), "ratio": Decimal("0.02")}
    _, found = _explained(_case(Slip("room", "max", values=values)))
    ratio = next(one for one in found if one.key == "room.max.1.ratio.figure")
    assert ratio.steps == ("as the analyser printed it: no CO and CO2 of a flame to divide",)
    assert [given.name for given in ratio.inputs] == ["CO/CO2 ratio"]


@pytest.mark.parametrize(
    ("status", "name"), [("owner", "the limit you entered"), ("common practice", "limit of the rule table")]
)
def test_a_limit_the_owner_entered_is_named_with_its_standard_and_edition(status: Status, name: str) -> None:
    own = Judged("ratio", Decimal("0.002"), Decimal("0.011"), "at most", "table", "within", "typed",
                 source_text="entered by the engineer from own copy", edition="Edition 4",
                 status=status)  # fmt: skip
    one = explain_verdict(PastSlip("hob", "max", 1, "0.0020"), own)
    assert (name, "entered by the engineer from own copy, Edition 4") in [
        (given.name, given.origin) for given in one.inputs
    ]
    other = dataclasses.replace(
        own, source="maker", status="", also=OtherLimit(Decimal("0.01"), "table", "own copy", status)
    )
    names = [given.name for given in explain_verdict(PastSlip("hob", "max", 1, "0.0020"), other).inputs]
    assert f"does not count: {name}" in names


def test_a_missing_reading_is_explained_as_unjudged() -> None:
    _, found = _explained(_case(_slip(o2_pct="4.8")))
    one = next(one for one in found if one.key == "flue.max.1.co_ppm")
    assert one.result == "unjudged"
    assert "no reading" in one.source
    assert not one.steps


def test_a_change_is_told_as_the_judgement_tells_it() -> None:
    before = PreviousVisit(
        date=dt.date(2025, 11, 20), slips=(_slip(co_ppm="20", co2_pct="9.1", o2_pct="4.8"),)
    )
    for now, told in (("22", False), ("320", True)):
        case = _case(_slip(co_ppm=now, co2_pct="9.1", o2_pct="4.8"), previous=(before,))
        assessment, found = _explained(case)
        one = next(one for one in found if one.key == "flue.max.1.co_ppm.change")
        doubted = {d.quantity for d in assessment.doubts if d.code == "changed-since-last"}
        assert ("co_ppm" in doubted) is told
        assert one.result.startswith("changed" if told else "no change")
        assert one.steps[0].startswith(f"{now} − 20 = ")


METER = {"volume": "0.083", "unit": "m3", "seconds": "120"}


@pytest.mark.parametrize("basis", ["net", "gross"])
@pytest.mark.parametrize("volume", ["0.083", "0.2", "0.01"])
def test_the_gas_rate_ends_in_what_the_supply_says(volume: str, basis: str) -> None:
    document = {
        "fuel": "natural gas",
        "meter": {**METER, "volume": volume},
        "calorific_value_mj_m3": "39.6",
        "rated_input": {"kw": "24.7", "basis": basis},
        "tolerance_pct": {"plus": "5", "minus": "5"},
    }
    one, rate = explain_gas_rate(document), gas_rate_document(document)
    assert one is not None
    net, gross = figure(rate["input_net_kw"], 1), figure(rate["input_gross_kw"], 1)
    assert one.result == f"{net} kW net, {gross} kW gross: {rate['verdict']}"
    assert any(unrounded(rate["deviation_pct"]) in step for step in one.steps)


def test_a_dial_and_the_day_of_the_calorific_value_are_told() -> None:
    document = {
        "fuel": "natural gas",
        "meter": {"unit": "ft3", "revolutions": "2", "per_revolution": "1", "seconds": "75"},
        "calorific_value_mj_m3": "39.6",
        "calorific_value_date": "2026-11-20",
        "rated_input": {"kw": "28", "basis": "gross"},
    }
    one, rate = explain_gas_rate(document), gas_rate_document(document)
    assert one is not None
    told = {given_.name: (given_.value, given_.origin) for given_ in one.inputs}
    assert told["turns of the dial"] == ("2", "1 ft³ a turn")
    assert told["volume"][0] == "2 ft³"
    assert told["calorific value"][1] == "gross, of 20 November 2026"
    apart = f"without the volume correction {unrounded(rate['input_gross_uncorrected_kw'])} kW gross"
    assert any(step.startswith(apart) for step in one.steps)
    assert any(f"1.645 · {unrounded(rate['standard_uncertainty_kw'])} kW" in step for step in one.steps)


def test_a_meter_run_not_whole_is_not_explained() -> None:
    assert explain_gas_rate({"fuel": "natural gas", "meter": {"volume": "0.083"}}) is None


def test_net_and_gross_turn_into_each_other() -> None:
    fuel = shipped().fuels["natural gas"]
    there = explain_conversion(fuel, RatedInput("net", Decimal("24.7")))
    back = explain_conversion(fuel, RatedInput("gross", Decimal("24.7")))
    assert there is not None
    assert back is not None
    assert there.result == f"{figure(24.7 * fuel.gross_net_ratio, 1)} kW gross"
    assert back.result == f"{figure(24.7 / fuel.gross_net_ratio, 1)} kW net"
    assert explain_conversion(fuel, RatedInput("net")) is None


def test_the_sum_of_a_bill(document: dict[str, Any]) -> None:
    visit = drafting.judge(document, drafting.Past(), today=TODAY).visit
    tally = bills.tally_lines("invoice", visit.lines, LANDLORD, visit.customer, visit.date)
    found = {one.key: one for one in explaining.explain_sum(visit.lines, tally)}
    assert found["bill.total"].result == tally.total.with_sign()
    assert found["bill.vat.S.20"].result == tally.vat[0].vat.with_sign()
    for n, net in enumerate(tally.line_nets):
        assert found[f"bill.line.{n}"].result == net.with_sign()


def test_a_due_date_names_its_rule() -> None:
    rule = due_rules()["landlord check"]
    made = plan(rule, checked=dt.date(2026, 2, 9), previous_due=dt.date(2026, 3, 1))
    one = explaining.explain_due(DueRow(made.next_due, rule.name, "a boiler", why=made.why, appliance_id=3))
    assert one.result == in_words(made.next_due)
    assert "12 months" in one.formula[1]
    assert "36A" in one.source
    assert one.steps == (made.why,)


@pytest.mark.parametrize("due", [dt.date(2026, 11, 1), TODAY, dt.date(2026, 12, 24)])
def test_late_and_owing_are_those_of_the_page(due: dt.date) -> None:
    late = max(0, (TODAY - due).days)
    page = InvoicePage("B-2026-0001", "Tamsin Orrell", Money(16000), Money(0), due, late)
    assert explaining.explain_late(page, TODAY).result == str(page.overdue_days)
    assert explaining.explain_owing(page).result == "£160.00"


def test_numbers_are_written_out_whole() -> None:
    assert unrounded(Decimal("0.0040")) == "0.004"
    assert unrounded(5.6) == "5.6"
    assert unrounded(1 / 3) == "0.3333333333…"
    assert unrounded(-2.5) == "−2.5"
    assert unrounded(1e-7) == "0.0000001"


@pytest.mark.parametrize(
    ("typed", "step"),
    # Worked apart: √(20² + 0.5²)/√3 = 11.55061326; √(20² + 0.05²)/√3 = 11.54704147.
    [
        ("61", "u = √(20² + 0.5²) / √3 = 11.55061326… ppm"),
        ("61.0", "u = √(20² + 0.05²) / √3 = 11.54704147… ppm"),
    ],
)
def test_the_last_digit_typed_has_its_place_in_the_uncertainty(typed: str, step: str) -> None:
    _, found = _explained(_case(_slip(co_ppm=typed, co2_pct="9.1", o2_pct="4.8")))
    one = next(one for one in found if one.key == "flue.max.1.co_ppm")
    assert one.steps[1].startswith(step)
    assert "u = √(a² + (d / 2)²) / √3, d the last digit" in one.formula


def test_what_was_judged_before_the_digits_counted_is_explained_as_it_was() -> None:
    judged = judged_then(
        {"quantity": "co_ppm", "value": 61, "limit": 350, "sense": "at most", "source": "maker",
         "verdict": "within", "margin": 289, "standard_uncertainty": 5.773502691896258}
    )  # fmt: skip
    one = explain_verdict(PastSlip("flue", "max", 1, ""), judged)
    assert one.steps[1].startswith("u = 10 ppm / √3 = 5.7735")
    assert "u = a / √3" in one.formula
