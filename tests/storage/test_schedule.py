"""Due items: one open per rule and subject."""

from __future__ import annotations

import datetime as dt
import sqlite3

import pytest
from tests.storage.samples import RESULT, registered

from flueleaf.domain.records.register import Appliance, Instrument, Premises, PremisesId
from flueleaf.storage import register, schedule, visits
from flueleaf.storage.book import Book

DAY = dt.date(2027, 11, 20)
YEARLY = "yearly service"


def test_an_item_tells_what_where_and_whose(book: Book) -> None:
    registered(book)
    with book.writing() as tx:
        register.add_appliance(tx, Appliance("gas fire", premises_id=PremisesId(1)))
        register.add_instrument(tx, Instrument("spare"))
        register.add_premises(tx, Premises(("1 Mole End",)))
        schedule.set_due(tx, rule=YEARLY, date=DAY, reason="a year on", appliance_id=1)
        schedule.set_due(
            tx, rule="landlord check", date=dt.date(2027, 3, 1), reason="r", premises_id=1,
            window_opens=dt.date(2027, 1, 1),
        )  # fmt: skip
        schedule.set_due(
            tx, rule="instrument calibration", date=dt.date(2027, 3, 2), reason="r", instrument_id=1
        )
        schedule.set_due(
            tx, rule="instrument calibration", date=dt.date(2027, 3, 3), reason="r", instrument_id=2
        )
        schedule.set_due(tx, rule=YEARLY, date=dt.date(2027, 3, 4), reason="r", appliance_id=2)
        schedule.set_due(tx, rule="landlord check", date=dt.date(2027, 3, 5), reason="r", premises_id=2)
    found = schedule.due_until(book.con, DAY)
    place = "14 Cooper's Rise, Port Ellery QX3 7TC"
    assert [(one.what, one.premises, one.customer) for one in found] == [
        (place, place, "Maud Ferrow"),
        ("analyser 1 AN 0042", "", ""),
        ("spare", "", ""),
        ("gas fire", place, "Maud Ferrow"),
        ("1 Mole End", "1 Mole End", ""),
        ("Halvard Sund 24, airing cupboard", place, "Maud Ferrow"),
    ]
    assert found[0].window_opens == dt.date(2027, 1, 1)
    assert (found[5].date, found[5].rule, found[5].why) == (DAY, YEARLY, "a year on")
    assert (found[5].appliance_id, found[5].premises_id, found[5].customer_id) == (1, 1, 1)
    assert len(schedule.due_until(book.con, dt.date(2027, 11, 19))) == 5
    assert [one.id for one in schedule.due_of_appliance(book.con, 1)] == [1]


def test_a_new_date_takes_the_place_of_the_open_one(book: Book) -> None:
    visit = registered(book)
    with book.writing() as tx:
        ref = visits.add_visit(tx, visit, [RESULT])
        schedule.set_due(tx, rule=YEARLY, date=dt.date(2026, 11, 1), reason="planned", appliance_id=1)
        schedule.set_due(tx, rule=YEARLY, date=dt.date(2026, 11, 2), reason="moved", appliance_id=1)
        schedule.set_due(tx, rule="other", date=DAY, reason="another rule", appliance_id=1)
    assert [one.why for one in schedule.due_of_appliance(book.con, 1)] == ["moved", "another rule"]
    with book.writing() as tx:
        schedule.set_due(
            tx, rule=YEARLY, date=DAY, reason="done", appliance_id=1, done_by=ref, done_on=visit.date
        )
    assert [one.why for one in schedule.due_until(book.con, DAY)] == ["another rule", "done"]
    closed = book.con.execute("SELECT * FROM due_item WHERE closed_on IS NOT NULL").fetchall()
    assert [(row["reason"], row["closed_on"], row["done_by"]) for row in closed] == [
        ("moved", "2026-11-20", ref)
    ]


def test_what_is_due_at_some_premises(book: Book) -> None:
    registered(book)
    with book.writing() as tx:
        register.add_premises(tx, Premises(("1 Mole End",)))
        schedule.set_due(tx, rule=YEARLY, date=DAY, reason="appliance", appliance_id=1)
        schedule.set_due(
            tx, rule="landlord check", date=dt.date(2027, 1, 1), reason="premises", premises_id=1
        )
        schedule.set_due(tx, rule="landlord check", date=DAY, reason="elsewhere", premises_id=2)
    assert [one.why for one in schedule.due_of_premises(book.con, 1)] == ["premises", "appliance"]


def test_closing(book: Book) -> None:
    registered(book)
    with book.writing() as tx:
        item = schedule.set_due(tx, rule=YEARLY, date=DAY, reason="r", appliance_id=1)
        schedule.close(tx, item, DAY)
    assert schedule.due_until(book.con, DAY) == []
    with pytest.raises(LookupError), book.writing() as tx:
        schedule.close(tx, item, DAY)


def test_exactly_one_subject(book: Book) -> None:
    registered(book)
    for subject in ({}, {"appliance_id": 1, "premises_id": 1}):
        with pytest.raises(sqlite3.IntegrityError), book.writing() as tx:
            schedule.set_due(tx, rule=YEARLY, date=DAY, reason="r", **subject)


def test_two_open_items_of_one_rule_and_subject_cannot_be(book: Book) -> None:
    registered(book)
    with book.writing() as tx:
        schedule.set_due(tx, rule=YEARLY, date=DAY, reason="r", appliance_id=1)
    with pytest.raises(sqlite3.IntegrityError):
        book.con.execute(
            "INSERT INTO due_item (rule, due, reason, appliance_id) VALUES (?, '2028-01-01', '', 1)",
            (YEARLY,),
        )


@pytest.mark.parametrize("subject", ["appliance_id", "instrument_id", "premises_id"])
def test_the_open_item_is_found_by_its_subject(book: Book, subject: str) -> None:
    registered(book)
    statements: list[str] = []
    with book.writing() as tx:
        book.con.set_trace_callback(statements.append)
        schedule.set_due(tx, rule=YEARLY, date=DAY, reason="r", **{subject: 1})
        book.con.set_trace_callback(None)
    plan = [row["detail"] for row in book.con.execute(f"EXPLAIN QUERY PLAN {statements[0]}")]
    assert [line for line in plan if f"{subject}=?" not in line] == []


def test_the_list_is_read_off_an_index(book: Book) -> None:
    statements: list[str] = []
    book.con.set_trace_callback(statements.append)
    schedule.due_until(book.con, DAY)
    book.con.set_trace_callback(None)
    plan = [row["detail"] for row in book.con.execute(f"EXPLAIN QUERY PLAN {statements[0]}")]
    assert any("due_item_open" in line for line in plan)
    assert [line for line in plan if line.startswith("SCAN")] == []
