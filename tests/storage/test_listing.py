"""Lists that join across subjects."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from tests.storage.samples import RESULT, UTC, VISIT, registered, seal_papers

from flueleaf.domain.money.amount import Money
from flueleaf.storage import listing, money, papers, register, visits
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
