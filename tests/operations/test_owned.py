"""The owner's limits and fuels: entered with their document, judged by the date of the work, never lost."""

from __future__ import annotations

import copy
import datetime as dt
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.domain.judging.bench import case, flue

from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.own_limits import with_own
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.domain.records.owned import OwnLimit
from flueleaf.domain.records.visits import Visit
from flueleaf.operations import drafting, evening, owned, pages, register, tables
from flueleaf.operations.assessing import assess_document, assess_work
from flueleaf.operations.facts.record import judged_facts
from flueleaf.operations.intake.visit import read_visit
from flueleaf.papers.record.words import also_words, verdict_words
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
AT = dt.datetime(2026, 11, 25, 20, 0, tzinfo=dt.UTC)
FIRE = "action_levels.gas_fire_ratio"
ENTRY = {
    "limit": "0.0200",
    "edition": "example edition",
    "source": "own copy",
    "clause": "6.1",
    "valid_from": "2026-10-01",
}
BLEND = {
    "name": "blend of 20 % hydrogen",
    "state": "gas",
    "source": "example",
    "mole_pct": {"methane": "80", "hydrogen": "20"},
}


def fire_document(document: dict[str, Any], **plate: Any) -> dict[str, Any]:
    """The evening's first work as a service of a gas fire, without what only its boiler needs."""
    made = copy.deepcopy(document)
    work = made["works"][0]
    work["appliance"] = {
        "kind": "gas fire", "fuel": "natural gas", "flue": "open", "make": "Halvard", **plate,
    }  # fmt: skip
    work["slips"] = [{"point": "flue", "rate": "max", "co_ppm": 61, "co2_pct": "4.0", "o2_pct": "13.9"}]
    for key in ("checks", "close_up", "defects", "supply", "notes", "not_measured"):
        work.pop(key, None)
    made["works"] = [work]
    made["purpose"] = "service"
    return made


def visit_of(book: Book, document: dict[str, Any], **changes: Any) -> Visit:
    choices = tables.choices_of(tables.of_book(book))
    return read_visit({**document, **changes}, choices=choices, today=TODAY)


def verdicts(book: Book, document: dict[str, Any], **changes: Any) -> dict[str, str]:
    visit = visit_of(book, document, **changes)
    found = assess_work(visit, visit.works[0], (), tables.of_book(book))
    return {judged.quantity: judged.verdict for judged in found.slips[0].judged}


def test_a_filled_slot_judges_by_the_date_of_the_work(book: Book, document: dict[str, Any]) -> None:
    fire = fire_document(document)
    assert set(verdicts(book, fire).values()) == {"unjudged"}
    owned.enter_limit(book, FIRE, ENTRY, at=AT)
    assert verdicts(book, fire)["ratio"] == "within"
    assert set(verdicts(book, fire, date="2026-09-30").values()) == {"unjudged"}
    owned.withdraw_limit(book, FIRE, at=AT)
    assert set(verdicts(book, fire).values()) == {"unjudged"}
    assert [entry.limit for entry in owned.slot(book, FIRE, TODAY).entries] == [None, Decimal("0.0200")]


def test_what_is_assessed_without_a_book_rests_on_the_shipped_tables(book: Book) -> None:
    owned.enter_limit(book, FIRE, ENTRY, at=AT)
    slip = {"point": "flue", "rate": "max", "co_ppm": 61, "co2_pct": "4.0"}
    told = {"date": "2026-11-25", "fuel": "natural gas", "appliance": {"kind": "gas fire"}, "slips": [slip]}
    assert assess_document(told, today=TODAY)["verdict"] == "unjudged"


def test_the_record_prints_that_the_owner_entered_it(book: Book, document: dict[str, Any]) -> None:
    owned.enter_limit(book, FIRE, ENTRY, at=AT)
    visit = visit_of(book, fire_document(document))
    (slip,) = assess_work(visit, visit.works[0], (), tables.of_book(book)).slips
    ratio = next(judged for judged in slip.judged if judged.quantity == "ratio")
    printed = judged_facts(ratio, slip.ratio_text)
    assert printed.source == (
        "entered by the engineer from own copy, valid from 1 October 2026, example edition, 6.1"
    )
    assert verdict_words(printed) == "within the limit the engineer entered"
    assert (printed.entered, printed.also_entered) == (True, False)


def test_the_record_prints_both_limits_where_they_differ(book: Book, document: dict[str, Any]) -> None:
    owned.enter_limit(book, FIRE, ENTRY, at=AT)
    fire = fire_document(document, limits={"ratio": "0.0100"})
    visit = visit_of(book, fire)
    (slip,) = assess_work(visit, visit.works[0], (), tables.of_book(book)).slips
    ratio = next(judged for judged in slip.judged if judged.quantity == "ratio")
    printed = judged_facts(ratio, slip.ratio_text)
    assert (printed.whose, printed.limit) == ("maker", "0.0100")
    assert (printed.also, printed.also_whose) == ("0.0200", "table")
    assert (printed.entered, printed.also_entered) == (False, True)
    assert also_words(printed) == "the engineer’s: at most 0.0200"
    assert (
        printed.also_source
        == "entered by the engineer from own copy, valid from 1 October 2026, example edition, 6.1"
    )


def test_a_draft_is_judged_and_signed_off_by_what_the_owner_entered(
    book: Book, document: dict[str, Any], tmp_path: Any
) -> None:
    owned.enter_limit(book, "condensing_boiler.flue_co", {**ENTRY, "limit": "50"}, at=AT)
    past = drafting.look_back(book, document)
    judged = drafting.judge(document, past, today=TODAY)
    statuses = {one.status for slip in judged.assessments[0].slips for one in slip.judged}
    assert "owner" not in statuses  # the maker of that boiler gives a CO limit, which wins
    told = {one.also.status for slip in judged.assessments[0].slips for one in slip.judged if one.also}
    assert "owner" in told
    silent = copy.deepcopy(document)
    for key in ("limits", "limits_source"):
        silent["works"][0]["appliance"].pop(key, None)
    silent["works"][0]["outcome"] = "left in use"
    with pytest.raises(Refused, match="left in use"):
        evening.run(book, silent, out=tmp_path / "out", today=TODAY)


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"limit": "1.5"}, "limit"),
        ({"limit": ""}, "limit"),
        ({"limit": "-0.1"}, "limit"),
        ({"edition": " "}, "edition"),
        ({"source": ""}, "source"),
        ({"valid_from": "soon"}, "valid_from"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_an_entry_without_its_document_is_refused_by_field(
    book: Book, changes: dict[str, Any], where: str
) -> None:
    with pytest.raises(Refused) as refusal:
        owned.enter_limit(book, FIRE, ENTRY | changes, at=AT)
    assert [fault.where for fault in refusal.value.faults] == [where]
    assert owned.slot(book, FIRE, TODAY).entries == ()


def test_nothing_as_the_least_is_no_limit(book: Book) -> None:
    with pytest.raises(Refused, match="above 0"):
        owned.enter_limit(book, "flue_integrity.air_inlet_o2", {**ENTRY, "limit": "0"}, at=AT)


def test_what_was_read_in_its_source_and_what_is_no_slot_is_not_entered(book: Book) -> None:
    with pytest.raises(UserProblem, match="was read in its source"):
        owned.enter_limit(book, "room_co_workplace.over_8_h", {**ENTRY, "limit": "20"}, at=AT)
    with pytest.raises(UserProblem, match="no slot called"):
        owned.enter_limit(book, "nowhere.co", ENTRY, at=AT)
    with pytest.raises(UserProblem, match="Nothing of yours"):
        owned.withdraw_limit(book, FIRE, at=AT)


def test_every_slot_is_listed_once_with_its_status(book: Book) -> None:
    found = owned.slots(book, TODAY)
    assert len({slot.key for slot in found}) == len(found)
    by_key = {slot.key: slot for slot in found}
    assert (by_key[FIRE].rule.status, by_key[FIRE].open) == ("empty", True)
    assert (by_key["oil_firing.flue_smoke"].rule.status, by_key["room_co_workplace.over_8_h"].open) == (
        "recalled", False,
    )  # fmt: skip
    owned.enter_limit(book, "oil_firing.flue_smoke", {**ENTRY, "limit": "2"}, at=AT)
    smoke = owned.slot(book, "oil_firing.flue_smoke", TODAY)
    assert (smoke.rule.limit, smoke.rule.status, smoke.proposal.limit) == (2, "owner", 1)
    assert (smoke.edition, smoke.source) == (
        "example edition",
        "entered by the engineer from own copy, valid from 1 October 2026",
    )


def test_a_fuel_of_the_owners_is_burnt_like_any_other(book: Book, document: dict[str, Any]) -> None:
    owned.enter_fuel(book, BLEND, at=AT)
    name = BLEND["name"]
    assert name in tables.of_book(book).kinds["condensing boiler"].fuels
    assert name not in tables.of_book(book).kinds["oil boiler"].fuels
    document["works"][0]["appliance"]["fuel"] = name
    visit = visit_of(book, document)
    assert visit.works[0].appliance.fuel == name
    found = assess_work(visit, visit.works[0], (), tables.of_book(book))
    assert found.slips[-1].figures.air_factor is not None
    with pytest.raises(Refused, match="fuel"):
        read_visit(document, choices=tables.choices(), today=TODAY)


def test_a_fuel_taken_back_is_offered_no_more_but_stays_readable(
    book: Book, document: dict[str, Any], tmp_path: Any
) -> None:
    owned.enter_fuel(book, BLEND, at=AT)
    document["works"][0]["appliance"]["fuel"] = BLEND["name"]
    document["works"][0]["outcome"] = "left in use with notes"  # the readings are those of another gas
    document["papers"] = []
    evening.run(book, document, out=tmp_path, today=TODAY)
    owned.withdraw_fuel(book, str(BLEND["name"]), at=AT)
    assert BLEND["name"] not in tables.of_book(book).offered
    with pytest.raises(Refused, match="fuel"):
        visit_of(book, document)
    page = pages.appliance_page(book, 1)
    assert page.appliance.fuel == BLEND["name"]
    assert page.fuel_line
    assert [row.withdrawn for row in owned.fuels(book)] == [True]
    assert owned.fuels(book)[0].document["mole_pct"] == {"methane": "80", "hydrogen": "20"}
    with pytest.raises(UserProblem, match="not a fuel of yours"):
        owned.withdraw_fuel(book, str(BLEND["name"]), at=AT)
    owned.enter_fuel(book, BLEND, at=AT)
    assert BLEND["name"] in tables.of_book(book).offered
    assert register.choices(book).models


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"mole_pct": {"methane": "80", "hydrogen": "19"}}, "mole_pct"),
        ({"mole_pct": {"methane": "101"}}, "mole_pct.methane"),
        ({"name": " "}, "name"),
        ({"name": "natural gas"}, "name"),
        ({"name": "Natural  Gas"}, "name"),
        ({"name": "x" * 61}, "name"),
        ({"state": "solid"}, "state"),
        ({"source": ""}, "source"),
    ],
)
def test_a_fuel_that_does_not_add_up_is_refused_by_field(
    book: Book, changes: dict[str, Any], where: str
) -> None:
    with pytest.raises(Refused) as refusal:
        owned.enter_fuel(book, {**BLEND, **changes}, at=AT)
    assert [fault.where for fault in refusal.value.faults] == [where]
    assert owned.fuels(book) == ()


def test_the_newest_entry_of_a_name_counts(book: Book) -> None:
    owned.enter_fuel(book, BLEND, at=AT)
    owned.enter_fuel(book, {**BLEND, "mole_pct": {"methane": "90", "hydrogen": "10"}}, at=AT)
    (row,) = owned.fuels(book)
    assert row.fuel.parts == pytest.approx({"methane": 0.9, "hydrogen": 0.1})
    with pytest.raises(Refused, match="no other fuel"):
        owned.enter_fuel(book, {**BLEND, "name": "Blend of 20 % Hydrogen"}, at=AT)


LIMITS = st.decimals(Decimal("0.0001"), Decimal("0.1"), places=4)


@settings(deadline=None, max_examples=40)
@given(LIMITS, LIMITS)
def test_over_begins_beyond_the_limit_entered(limit: Decimal, ratio: Decimal) -> None:
    base = tables.shipped()
    own = OwnLimit(FIRE, limit, dt.date(2026, 1, 1), AT, "e", "s")
    one = flue(ratio=f"{ratio:f}", co_ppm=None, co2_pct=None, o2_pct=None)
    found = assess(case(one, kind=base.kinds["gas fire"]), with_own(base.rules, [own])).slips[0]
    judged = next(each for each in found.judged if each.quantity == "ratio")
    assert (judged.verdict == "over") is (ratio > limit)
