"""Write one visit with two papers again and again, each time dying one statement later; print what was found.

Usage: python dying_writer.py FOLDER. A process of its own, since every try ends one.
"""

from __future__ import annotations

import datetime as dt
import multiprocessing
import os
import shutil
import sys
from dataclasses import replace
from pathlib import Path

from tests.storage.samples import RESULT, UTC, VISIT, registered, seal_papers

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.document import Payment
from flueleaf.storage import money, papers, schedule, verify, visits
from flueleaf.storage.book import Book

DIED, WROTE = 9, 0
AT = dt.datetime(2026, 11, 20, 20, 15, tzinfo=UTC)


def write(path: Path, die_at: int) -> None:
    """Write everything of an evening in one change; die before the statement of that number."""
    seen = 0

    def count(_statement: str) -> None:
        nonlocal seen
        seen += 1
        if seen == die_at:
            os._exit(DIED)

    with Book.open(path, on_statement=count) as book:
        with book.writing() as tx:
            visit = visits.stored_visit(tx.conn, VISIT.visit_id).visit
            again = replace(visit, visit_id="second", date=dt.date(2026, 12, 1))
            ref = visits.add_visit(tx, again, [RESULT])
            for series in ("R", "I"):
                number = papers.next_number(tx, series, 2026)
                papers.add_sealed(
                    tx, number=number, kind=series, date=again.date, issued_at=AT, facts="{}",
                    pdf=b"x" * 9000, visit_ref=ref, customer_id=1, premises_id=1,
                )  # fmt: skip
            invoice = money.Invoice(
                number, again.date, 1, Money(1), Money(0), Money(1), Money(1), visit.lines
            )
            money.add_invoice(tx, invoice)
            money.add_payment(tx, number, Payment(again.date, Money(1)))
            schedule.set_due(tx, rule="yearly service", date=AT.date(), reason="r", appliance_id=1)
        book.con.execute("SELECT 'the change is kept'").fetchall()
    os._exit(WROTE)


def main(folder: Path) -> None:
    """Die at the first, second, … statement until one try gets through."""
    start = folder / "start.book"
    with Book.create(start) as book:
        visit = registered(book)
        with book.writing() as tx:
            visits.add_visit(tx, visit, [RESULT])
        seal_papers(book, 2)
    context = multiprocessing.get_context(
        "fork" if "fork" in multiprocessing.get_all_start_methods() else "spawn"
    )
    die_at, ended = 0, DIED
    while ended == DIED:
        die_at += 1
        path = folder / f"{die_at}.book"
        shutil.copy(start, path)
        process = context.Process(target=write, args=(path, die_at))
        process.start()
        process.join()
        ended = process.exitcode or 0
        with Book.open(path, read_only=True) as book:
            faults = [fault.code for fault in verify.verify(book.con)]
            numbers = [paper.number for paper in papers.all_papers(book.con)]
            counts = [
                book.con.execute(f"SELECT count(*) FROM {table}").fetchone()[0]
                for table in ("visit", "reading", "judged", "invoice", "payment", "due_item", "finder")
            ]
        sys.stdout.write(f"{ended}|{faults}|{numbers}|{counts}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
