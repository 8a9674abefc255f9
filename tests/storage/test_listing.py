"""Lists that join across subjects."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from tests.storage.samples import RESULT, UTC, VISIT, registered, seal_papers

from flueleaf.domain.money.amount import Money
from flueleaf.storage import listing, money, papers, register, sending, visits
from flueleaf.storage.book import Book

AT = dt.datetime(2026, 11, 20, 20, 15, tzinfo=UTC)


def with_an_invoice(book: Book) -> int:
    visit = registered(book)
    with book.writing() as tx:
        ref = visits.add_visit(tx, visit, [RESULT])
        number = papers.next_number(tx, "I", 2026)
        papers.add_sealed(
            tx, number=number, kind="invoice", date=AT.date(), issued_at=AT, facts="{}", pdf=b"",
            visit_ref=ref, customer_id=1, premises_id=1,
        )  # fmt: skip
        money.add_invoice(tx, money.Invoice(number, AT.date(), 1, Money(1), Money(0), Money(1), Money(1)))
    return ref


def test_papers_with_whom_they_went_to(book: Book) -> None:
    assert listing.paper_count(book.con) == 0
    ref = with_an_invoice(book)
    (bare,) = seal_papers(book, 1)
    every = listing.all_papers(book.con)
    assert [paper.number for paper in every] == ["I-2026-0001", bare]
    first = every[0]
    assert (first.premises, first.customer) == ("14 Cooper's Rise, Port Ellery QX3 7TC", "Maud Ferrow")
    assert (first.visit_ref, first.total_pence, first.replaces) == (ref, 1, None)
    assert first.fingerprint == papers.sealed(book.con, first.number).fingerprint
    assert (every[1].premises, every[1].customer, every[1].total_pence) == ("", "", None)
    assert listing.newest_papers(book.con, most=1) == [every[1]]
    assert listing.papers_of_premises(book.con, 1) == [first]
    assert listing.papers_of_appliance(book.con, 1) == [first]
    assert listing.papers_of_appliance(book.con, 2) == []
    assert listing.paper_count(book.con) == 2


def test_papers_of_a_visit_in_the_order_they_were_sealed(book: Book) -> None:
    ref = with_an_invoice(book)
    with book.writing() as tx:
        number = papers.next_number(tx, "R", 2026)
        papers.add_sealed(
            tx, number=number, kind="service record", date=AT.date(), issued_at=AT, facts="{}", pdf=b"",
            visit_ref=ref,
        )  # fmt: skip
    seal_papers(book, 1)
    assert [one.number for one in listing.papers_of_visit(book.con, ref)] == ["I-2026-0001", number]
    assert listing.papers_of_visit(book.con, ref + 1) == []


def test_a_paper_leaves_the_list_of_the_unsent_while_a_sending_of_it_stands(book: Book) -> None:
    first, second = seal_papers(book, 2)
    assert [one.number for one in listing.unsent_papers(book.con, most=9)] == [second, first]
    with book.writing() as tx:
        sending.note_sent(tx, second, sending.Sending(AT, "printed"))
    assert [one.number for one in listing.unsent_papers(book.con, most=9)] == [first]
    with book.writing() as tx:
        sending.note_sent(tx, second, sending.Sending(AT, sending.TAKEN_BACK))
    assert [one.number for one in listing.unsent_papers(book.con, most=1)] == [second]


def test_the_totals_of_a_day_count_a_visit_once_and_invoices_only(book: Book) -> None:
    assert listing.day_totals(book.con, AT.date()) == listing.DayTotals(0, 0, 0)
    ref = with_an_invoice(book)
    with book.writing() as tx:
        for series, kind in (("R", "service record"), ("Q", "quote")):
            papers.add_sealed(
                tx, number=papers.next_number(tx, series, 2026), kind=kind, date=AT.date(), issued_at=AT,
                facts="{}", pdf=b"", visit_ref=ref if series == "R" else None, customer_id=1, premises_id=1,
            )  # fmt: skip
        money.add_quote(tx, money.Quote("Q-2026-0001", AT.date(), 1, Money(5), Money(1), Money(6)))
    assert listing.day_totals(book.con, AT.date()) == listing.DayTotals(1, 3, 1)
    assert [one.total_pence for one in listing.all_papers(book.con)] == [1, None, 6]
    for other in (AT.date() - dt.timedelta(days=1), AT.date() + dt.timedelta(days=1)):
        assert listing.day_totals(book.con, other) == listing.DayTotals(0, 0, 0)


def test_whether_there_are_premises(book: Book) -> None:
    assert not listing.has_premises(book.con)
    registered(book)
    assert listing.has_premises(book.con)


def test_visits_of_an_appliance(book: Book) -> None:
    ref = with_an_invoice(book)
    (found,) = listing.visits_of_appliance(book.con, 1)
    assert (found.visit_ref, found.visit_id, found.date) == (ref, VISIT.visit_id, VISIT.date)
    assert (found.purpose, found.verdict, found.outcome) == ("service", "over", "isolated")


def test_the_instrument_at_hand(book: Book) -> None:
    assert listing.usual_instrument(book.con) is None
    visit = registered(book)
    with book.writing() as tx:
        spare = replace(visit.works[0].instrument, name="a spare", id=None)  # type: ignore[type-var]
        spare = replace(spare, id=register.add_instrument(tx, spare))
    assert listing.usual_instrument(book.con) == spare
    with book.writing() as tx:
        visits.add_visit(tx, visit, [RESULT])
    assert listing.usual_instrument(book.con) == visit.works[0].instrument


def test_one_appliance_of_each_model_the_newest(book: Book) -> None:
    visit = registered(book)
    known = visit.works[0].appliance
    with book.writing() as tx:
        other = replace(known, make="HALVARD", serial="2")
        newest = replace(other, id=register.add_appliance(tx, other))
        register.add_appliance(tx, replace(known, model=""))
        lpg = replace(known, fuel="propane")
        lpg = replace(lpg, id=register.add_appliance(tx, lpg))
    assert listing.models(book.con) == [newest, lpg]
