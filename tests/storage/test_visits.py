"""A visit comes back as it was added, with the verdicts frozen then."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType

import pytest
from tests.storage.samples import RESULT, VISIT, WORK, registered

from flueleaf.domain.records.register import ApplianceId
from flueleaf.domain.records.visits import Slip, Visit
from flueleaf.storage import register, visits
from flueleaf.storage.book import Book
from flueleaf.storage.visits.frozen import judged_of_appliance


def added(book: Book, visit: Visit = VISIT) -> Visit:
    known = registered(book, visit)
    with book.writing() as tx:
        visits.add_visit(tx, known, [RESULT])
    return known


def test_a_visit_comes_back_whole(book: Book) -> None:
    assert not visits.visit_exists(book.con, VISIT.visit_id)
    visit = added(book)
    stored = visits.stored_visit(book.con, visit.visit_id)
    assert stored.visit == visit
    assert list(stored.results) == [RESULT]
    assert stored.ref == visits.visit_ref(book.con, visit.visit_id) == 1
    assert visits.visit_exists(book.con, VISIT.visit_id)
    kept = stored.visit.works[0].slips[0]
    assert str(kept.values["o2_pct"]) == "4.80"
    assert kept.typed == {"o2_pct": "4.80 %", "smoke": "0-?"}
    assert type(stored.results[0]["slips"][0]["judged"][0]["value"]) is int
    assert type(stored.results[0]["slips"][0]["judged"][0]["chance_beyond"]) is float


def test_a_bare_visit_comes_back_whole(book: Book) -> None:
    work = replace(WORK, instrument=None, slips=(), checks=(), close_up={}, defects=(), not_measured=())
    work = replace(work, outcome="not accessed", notes={})
    bare = replace(
        VISIT, works=(work, work), lines=(), arrived=None, left=None, sign_off=None, issued_at=None
    )
    visit = registered(book, bare)
    with book.writing() as tx:
        visits.add_visit(tx, visit, [{}, {"slips": [], "missing": [Decimal("1.5")]}])
    stored = visits.stored_visit(book.con, visit.visit_id)
    assert stored.visit == visit
    assert list(stored.results) == [
        {"slips": [], "doubts": []},
        {"slips": [], "doubts": [], "missing": ["1.5"]},
    ]
    assert [head.verdict for head in visits.recent_visits(book.con)] == ["unjudged"]


def test_what_was_given_may_be_any_mapping(book: Book) -> None:
    slip = Slip("flue", "max", MappingProxyType({"co_ppm": Decimal(5)}))
    supply = replace(WORK.supply, gas_rate=MappingProxyType({"volume": Decimal("0.10")}))
    visit = registered(book, replace(VISIT, works=(replace(WORK, slips=(slip,), supply=supply),)))
    result: dict[str, object] = {
        "slips": [MappingProxyType({"ratio": Decimal("0.0010"), "judged": [], "verdict": None})]
    }
    with book.writing() as tx:
        visits.add_visit(tx, visit, [result])
    assert visits.stored_visit(book.con, visit.visit_id).visit.works[0].supply.gas_rate == {"volume": "0.10"}
    assert visits.history(book.con, ApplianceId(1))[0].ratio == 0.001


def test_the_same_visit_again_is_refused(book: Book) -> None:
    visit = added(book)
    with pytest.raises(sqlite3.IntegrityError), book.writing() as tx:
        visits.add_visit(tx, visit, [RESULT])
    assert book.con.execute("SELECT count(*) FROM work").fetchone()[0] == 1


def test_what_does_not_fit_is_refused_and_nothing_is_written(book: Book) -> None:
    visit = registered(book)
    nameless = replace(visit, works=(replace(visit.works[0], appliance=WORK.appliance),))
    for wrong, results, words in (
        (visit, [], "1 works, but 0 results"),
        (visit, [{**RESULT, "slips": []}], "2 slips, but 0 results"),
        (VISIT, [RESULT], "customer of a visit"),
        (nameless, [RESULT], "appliance of a visit"),
    ):
        with pytest.raises(ValueError, match=words), book.writing() as tx:
            visits.add_visit(tx, wrong, results)
    for table in ("visit", "work", "slip", "reading", "work_line"):
        assert book.con.execute(f"SELECT count(*) FROM {table}").fetchone()[0] == 0


def test_a_visit_that_is_not_there(book: Book) -> None:
    for read in (visits.stored_visit, visits.visit_ref):
        with pytest.raises(LookupError):
            read(book.con, "nowhere")


def test_the_instrument_is_the_one_of_that_day(book: Book) -> None:
    visit = added(book)
    used = visit.works[0].instrument
    assert used is not None
    with book.writing() as tx:
        register.update_instrument(tx, replace(used, calibration_due=dt.date(2030, 1, 1)))
    assert visits.stored_visit(book.con, visit.visit_id).visit.works[0].instrument == used


def later(visit: Visit, number: int, date: dt.date, slips: tuple[Slip, ...]) -> Visit:
    works = (replace(visit.works[0], slips=slips),)
    return replace(visit, visit_id=f"visit {number}", date=date, works=works)


def results_for(slips: tuple[Slip, ...]) -> list[dict[str, object]]:
    verdicts = [
        {"judged": [{"quantity": "ratio", "verdict": "near"}, {"quantity": "co_ppm", "verdict": "within"}]}
    ]
    return [{"verdict": "near", "slips": verdicts * len(slips)}]


def test_history_is_every_slip_oldest_first(book: Book) -> None:
    visit = added(book)
    slips = (
        Slip("flue", "max", {"co_ppm": Decimal(9)}, attempt=3),
        Slip("flue", "max", {"co_ppm": Decimal(8)}, attempt=2),
        Slip("flue", "min"),
        Slip("flue", "max", {"co_ppm": Decimal(7)}, attempt=3),
    )
    with book.writing() as tx:
        visits.add_visit(tx, later(visit, 2, dt.date(2025, 11, 20), slips), results_for(slips))
        visits.add_visit(tx, later(visit, 3, dt.date(2027, 11, 20), ()), results_for(()))
    found = visits.history(book.con, ApplianceId(1))
    assert [(one.date.year, one.rate, one.attempt, one.decides) for one in found] == [
        (2025, "max", 3, False),
        (2025, "max", 2, False),
        (2025, "min", 1, True),
        (2025, "max", 3, True),
        (2026, "max", 1, False),
        (2026, "max", 2, True),
    ]
    assert [one.verdict for one in found] == ["near"] * 4 + ["over", "near"]
    assert found[2].values == {}
    assert found[4].values == {"o2_pct": Decimal("4.80"), "co_ppm": Decimal(610)}
    assert (found[4].ratio, found[5].ratio) == (0.00667, None)
    assert {one.instrument for one in found} == {"analyser 1"}
    assert visits.history(book.con, ApplianceId(2)) == []


def test_history_knows_what_was_adjusted_and_what_burned(book: Book) -> None:
    visit = added(book)
    slips = (Slip("flue", "max", adjusted=True), Slip("flue", "min"))
    results = [{**result, "fuel": "propane"} for result in results_for(slips)]
    with book.writing() as tx:
        visits.add_visit(tx, later(visit, 2, dt.date(2027, 11, 20), slips), results)
    found = visits.history(book.con, ApplianceId(1))
    assert [(one.adjusted, one.fuel) for one in found if one.date.year == 2027] == [
        (True, "propane"),
        (False, "propane"),
    ]
    assert {one.fuel for one in found if one.date.year == 2026} == {""}  # not noted by an older program


def test_history_is_one_join(book: Book) -> None:
    visit = added(book)
    statements: list[str] = []
    book.con.set_trace_callback(statements.append)
    visits.history(book.con, ApplianceId(1))
    book.con.set_trace_callback(None)
    assert len(statements) == 1
    plan = [row["detail"] for row in book.con.execute(f"EXPLAIN QUERY PLAN {statements[0]}")]
    assert [line for line in plan if line.startswith("SCAN")] == []
    assert visit.works[0].appliance.id == 1


def test_what_was_judged_of_an_appliance_comes_in_the_shape_it_was_given(book: Book) -> None:
    visit = added(book)
    assert judged_of_appliance(book.con, ApplianceId(1)) == {
        (visit.visit_id, "flue", "max", 1): RESULT["slips"][0]["judged"]
    }
    assert judged_of_appliance(book.con, ApplianceId(2)) == {}


def test_last_slips_are_those_before_the_day_latest_first(book: Book) -> None:
    visit = added(book)
    slips = (Slip("flue", "max", {"co_ppm": Decimal(9)}),)
    with book.writing() as tx:
        for number, year in ((2, 2024), (3, 2025), (4, 2027)):
            visits.add_visit(tx, later(visit, number, dt.date(year, 11, 20), slips), results_for(slips))
        bare = replace(visit.works[0], slips=(), instrument=None)
        visits.add_visit(tx, replace(visit, visit_id="bare", works=(bare,)), [{}])
        alone = replace(visit.works[0], slips=slips, instrument=None)
        first = replace(visit, visit_id="first", date=dt.date(2020, 1, 1), works=(alone,))
        visits.add_visit(tx, first, results_for(slips))
    found = visits.last_slips(book.con, ApplianceId(1), dt.date(2027, 11, 20), most=9)
    assert [one.date.year for one in found] == [2026, 2025, 2024, 2020]
    assert found[0].slips == visit.works[0].slips
    assert found[0].instrument == visit.works[0].instrument
    assert found[3].instrument is None
    assert len(visits.last_slips(book.con, ApplianceId(1), dt.date(2027, 11, 20))) == 3
    assert visits.last_slips(book.con, ApplianceId(1), dt.date(2020, 1, 1)) == []


def test_visits_of_premises_newest_first_with_the_worst_verdict(book: Book) -> None:
    visit = added(book)
    slips = (Slip("flue", "max", {"co_ppm": Decimal(9)}),)
    with book.writing() as tx:
        visits.add_visit(tx, later(visit, 2, dt.date(2027, 1, 1), slips), results_for(slips))
        two = replace(visit, visit_id="two", date=dt.date(2025, 1, 1), works=visit.works * 2)
        visits.add_visit(tx, two, [{**RESULT, "verdict": "within"}, {**RESULT, "verdict": "unjudged"}])
    heads = visits.visits_of_premises(book.con, visit.premises.id)  # type: ignore[arg-type]
    assert [(head.visit_id, head.verdict) for head in heads] == [
        ("visit 2", "near"),
        (visit.visit_id, "over"),
        ("two", "unjudged"),
    ]
    assert visits.recent_visits(book.con, most=1) == heads[:1]


def _rated(book: Book, number: int, date: dt.date, rate: dict[str, object] | None) -> None:
    visit = later(VISIT, number, date, ())
    supply = replace(WORK.supply, gas_rate=rate)
    known = registered(book, replace(visit, works=(replace(WORK, supply=supply, slips=()),)))
    with book.writing() as tx:
        visits.add_visit(tx, known, [{"slips": []}])


def test_the_last_calorific_value_is_the_latest_of_that_gas_up_to_the_day(book: Book) -> None:
    fuel, day = WORK.appliance.fuel, dt.date(2027, 1, 10)
    assert visits.last_heat(book.con, fuel, day) is None
    _rated(book, 1, day, {"calorific_value_mj_m3": Decimal("39.60")})
    of_day: dict[str, object] = {"calorific_value_mj_m3": "38.9", "calorific_value_date": "2027-01-09"}
    _rated(book, 2, day + dt.timedelta(1), of_day)
    _rated(book, 3, day + dt.timedelta(2), {"calorific_value_mj_m3": "95.1", "fuel": "propane"})
    _rated(book, 4, day + dt.timedelta(3), None)
    found = visits.last_heat(book.con, fuel, day + dt.timedelta(9))
    assert found == visits.LastHeat("38.9", dt.date(2027, 1, 9))
    assert visits.last_heat(book.con, fuel, day) == visits.LastHeat("39.60", day)
    assert visits.last_heat(book.con, "propane", day + dt.timedelta(9)) is None


def test_last_time_is_the_latest_visit_with_an_answer_or_a_note(book: Book) -> None:
    visit = added(book)
    appliance_id = visit.works[0].appliance.id
    assert appliance_id is not None
    noted = replace(visit.works[0], slips=(), checks=(), notes={"as_found": "off"})
    silent = replace(noted, notes={})
    for number, (work, day) in enumerate(((noted, dt.date(2026, 12, 1)), (silent, dt.date(2026, 12, 8))), 2):
        one = replace(
            visit, visit_id=f"1c0de000-0000-4000-8000-00000000000{number}", date=day, works=(work,), lines=()
        )
        with book.writing() as tx:
            visits.add_visit(tx, one, [{}])
    last = visits.last_answers(book.con, appliance_id, dt.date(2026, 12, 31))
    assert last is not None
    assert (last.date, last.answers, last.notes) == (dt.date(2026, 12, 1), (), {"as_found": "off"})
    first = visits.last_answers(book.con, appliance_id, dt.date(2026, 12, 1))
    assert first is not None
    assert first.answers == visit.works[0].checks
    assert list(first.notes.items()) == [("flow_c", "60.0"), ("as_left", "running")]
    assert visits.last_answers(book.con, appliance_id, visit.date) is None
