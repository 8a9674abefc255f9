"""The demo book holds every doubt, every fork of every procedure, every ending and every kind."""

from __future__ import annotations

import datetime as dt
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest

from flueleaf.domain.judging.doubts import DOUBT_CODES
from flueleaf.domain.judging.steps import procedure_for
from flueleaf.operations import book as books
from flueleaf.operations import drafting, pages
from flueleaf.operations.demo.make import UNSENT, make_demo
from flueleaf.operations.demo.one_by_one import by_date, told_one_by_one
from flueleaf.operations.tables import of_book, shipped
from flueleaf.storage.book import Book
from flueleaf.storage.tables.procedures import PROCEDURES

# The shipped tables hold no limit for the air outdoors, and a maker's are for the flue: nothing judges it.
BEYOND_REACH = {("flueless", "outdoors", "good"), ("flueless", "outdoors", "over")}


def _forks() -> set[tuple[str, str, str]]:
    """Return every way that the files list, by procedure, step and result.

    What a failed check or an open point leads to is no fork: the answer is given anew, or it ends there.
    """
    found = set()
    for path in PROCEDURES.glob("*.toml"):
        steps = tomllib.loads(path.read_text(encoding="utf-8"))["step"]
        of_slips = {step["key"] for step in steps if step["by"] == "slip"}
        for step in steps:
            if step["by"] != "remedy" or of_slips & set(step["ways"]["again"]):
                found |= {(path.stem, step["key"], result) for result in step["ways"]}
    return found


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory, today: dt.date) -> Iterator[Book]:
    path = tmp_path_factory.mktemp("whole") / "demo.book"
    make_demo(path, today=today)
    with books.reading(path) as opened:
        yield opened


@pytest.fixture(scope="module")
def works(book: Book) -> list[dict[str, Any]]:
    """Every work of the book: its procedure's key, its appliance's kind, its outcome and its result."""
    tables = of_book(book)
    found = []
    for row in book.con.execute("SELECT visit_id FROM visit").fetchall():
        kept = drafting.stored_visit(book, row["visit_id"])
        assert kept is not None
        for work, result in zip(kept.visit.works, kept.results, strict=True):
            state = tables.fuels[result["fuel"]].state
            way = procedure_for(tables.procedures, work.appliance.flue, state)
            assert way is not None
            told = {"way": way.key, "kind": work.appliance.kind, "outcome": work.outcome}
            found.append({**told, **result})
    return found


def _doubts(works: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for work in works:
        yield from work["doubts"]
        for slip in work["slips"]:
            yield from slip["doubts"]


@pytest.mark.slow
def test_every_doubt_is_there_some_confirmed_and_some_open(works) -> None:
    assert {doubt["code"] for doubt in _doubts(works)} == set(DOUBT_CODES)
    assert {doubt["confirmed"] for doubt in _doubts(works)} == {True, False}


@pytest.mark.slow
def test_a_serious_doubt_left_open_is_signed_off_with_notes_only(works) -> None:
    open_ones = [
        work for work in works if any(slip["decides"] and slip["doubtful"] for slip in work["slips"])
    ]
    assert open_ones
    assert {work["outcome"] for work in open_ones} == {"left in use with notes"}
    assert all(work["verdict"] in ("unjudged", "over") for work in open_ones)


@pytest.mark.slow
def test_every_fork_is_gone_at_least_once(works) -> None:
    gone = {(work["way"], one["step"], one["result"]) for work in works for one in work["procedure"]["taken"]}
    assert _forks() - gone == BEYOND_REACH
    for way in shipped().procedures:
        assert any(of == way.key and result == "without limit" for of, _, result in gone), way.key


@pytest.mark.slow
def test_steps_gone_past_slips_overtaken_and_slips_after_adjusting_are_there(works) -> None:
    taken = [one for work in works for one in work["procedure"]["taken"]]
    assert all(one["reason"] for one in taken if one["overridden"])
    assert sum(one["overridden"] for one in taken) >= 5
    assert any(one["adjusted"] for one in taken)
    assert any(work["procedure"]["stale"] for work in works)


@pytest.mark.slow
def test_every_ending_of_every_procedure_is_there(works) -> None:
    ended = {(work["way"], work["procedure"]["ending"]) for work in works}
    wanted = {
        (way.key, ending.title_for("service")) for way in shipped().procedures for ending in way.endings
    }
    assert wanted <= ended
    assert ("room_sealed", "commissioned") in ended
    assert ("room_sealed", "checked") in ended


@pytest.mark.slow
def test_every_kind_stands_somewhere(works) -> None:
    assert {work["kind"] for work in works} == set(shipped().kinds)


@pytest.mark.slow
def test_the_owner_entered_limits_and_a_fuel_that_were_used(book, works) -> None:
    own = of_book(book).fuels.keys() - shipped().fuels.keys()
    assert own == {"Thrupp bottled blend"}
    assert own < {work["fuel"] for work in works}
    cooker = [
        judged
        for work in works
        if work["kind"] == "cooker"
        for slip in work["slips"]
        for judged in slip["judged"]
    ]
    assert {judged["verdict"] for judged in cooker} >= {"within", "over"}
    # No ratio is typed above a cooker: the program divides CO by CO2 there.
    assert {judged["basis"] for judged in cooker if judged["quantity"] == "ratio" and judged["value"]} == {
        "computed"
    }


@pytest.mark.slow
def test_one_appliance_drifts_to_its_limit_and_of_another_too_little_is_known(book) -> None:
    rows = [
        drift
        for row in book.con.execute("SELECT id FROM appliance").fetchall()
        for drift in pages.appliance_page(book, row["id"]).drifts
    ]
    assert any(row.drift.significant and row.reached.on is not None for row in rows)
    assert any(row.drift.n < 3 and not row.drift.significant for row in rows)


@pytest.mark.slow
def test_tonight_stays_calm(book) -> None:
    assert book.con.execute("SELECT count(*) FROM draft").fetchone()[0] == 0
    sealed = book.con.execute("SELECT count(*) FROM sealed_paper").fetchone()[0]
    sent = book.con.execute("SELECT count(DISTINCT paper_id) FROM send_log").fetchone()[0]
    assert sealed - sent == UNSENT


def test_every_entry_names_a_place_and_a_serial_of_its_own(scenario) -> None:
    homes = {place.address[0] for place in scenario.places}
    serials = [entry["serial"] for entry in scenario.one_by_one]
    serials += [fitted.serial for place in scenario.places for fitted in place.fitted]
    assert {entry["at"] for entry in scenario.one_by_one} <= homes
    assert len(set(serials)) == len(serials)


def test_equal_arguments_tell_the_same_and_a_larger_town_has_as_many_more(scenario, today) -> None:
    once = list(told_one_by_one(scenario, years=6, scale=1, seed=1, today=today))
    assert once == list(told_one_by_one(scenario, years=6, scale=1, seed=1, today=today))
    twice = list(told_one_by_one(scenario, years=6, scale=2, seed=1, today=today))
    assert len(twice) == 2 * len(once)
    assert len({document["visit_id"] for _, document in twice}) == len(twice)
    assert list(told_one_by_one(scenario, years=0, scale=1, seed=1, today=today)) == []


def test_visits_of_two_stories_come_in_the_order_of_their_days(scenario, today, whole_story) -> None:
    told = told_one_by_one(scenario, years=6, scale=1, seed=1, today=today)
    both = by_date(whole_story, told)
    instants = [document["issued_at"] for _, document in both]
    assert instants == sorted(instants)
    assert {visit.date.weekday() for visit, _ in both} <= {0, 1, 2, 3, 4}


def test_nothing_is_answered_of_a_flue_or_yes_of_a_meter_that_is_not_there(scenario, today) -> None:
    bottled = {"propane", "butane", scenario.own_fuel["name"]}
    seen = 0
    for _, document in told_one_by_one(scenario, years=6, scale=1, seed=1, today=today):
        for work in document["works"]:
            answers = {one["key"]: one["answer"] for one in work.get("checks", ())}
            if work["appliance"]["flue"] == "none" and answers:
                assert "flue_effective" not in answers
                seen += 1
            if work["appliance"]["fuel"] in bottled and "gas_rate" in answers:
                assert answers["gas_rate"] == "not applicable"
                seen += 1
    assert seen > 10


def test_where_nothing_was_measured_no_reading_stood_still_and_a_failed_check_answers_its_twin(
    scenario, today, whole_story
) -> None:
    told = told_one_by_one(scenario, years=6, scale=1, seed=1, today=today)
    works = [work for _, document in (*whole_story, *told) for work in document["works"] if "checks" in work]
    answered = [
        ({one["key"]: one["answer"] for one in work["checks"]}, bool(work["slips"])) for work in works
    ]
    settled = {
        (answers["readings_settled"], any_) for answers, any_ in answered if "readings_settled" in answers
    }
    assert settled == {("yes", True), ("not applicable", False)}
    twins = (("ventilation", "combustion_air"), ("flue_flow", "flue_effective"))
    for failed, twin in twins:
        found = [answers.get(twin, "no") for answers, _ in answered if answers.get(failed) == "no"]
        assert found
        assert set(found) == {"no"}
