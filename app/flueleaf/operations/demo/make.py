"""Writing the demo book: the story, run through the very operations a person uses."""

from __future__ import annotations

import datetime as dt
import itertools
import os
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from flueleaf.domain.money.amount import Money
from flueleaf.domain.problems import BookProblem
from flueleaf.domain.records.owned import OwnFuel, OwnLimit
from flueleaf.operations import bills, visits
from flueleaf.operations import register as registering
from flueleaf.operations.demo.dealings import Paid, Quoted, payments, quotes
from flueleaf.operations.demo.one_by_one import by_date, told_one_by_one
from flueleaf.operations.demo.planning import Span
from flueleaf.operations.demo.scenario import Scenario, load
from flueleaf.operations.demo.story import told
from flueleaf.operations.intake.money import read_line
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_customer, read_premises
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.issuing import Subject
from flueleaf.operations.sending import SAVED
from flueleaf.operations.tables import choices_of, tables_of
from flueleaf.paths import DEMO_DB
from flueleaf.storage import business as businesses
from flueleaf.storage import owned
from flueleaf.storage.book import Book, copy_to
from flueleaf.storage.sending import Sending, note_sent

if TYPE_CHECKING:
    from sqlite_utils import Database

EVENTS_A_TRANSACTION = 400  # one commit for each visit would take longer than the visits themselves
UNSENT = 3  # the papers sealed last wait to be sent; all before went out on the evening they were sealed
_QUOTING = dt.time(17, 0, tzinfo=dt.UTC)  # ahead of the evening's papers


@dataclass(frozen=True, slots=True)
class DemoSummary:
    """What was written."""

    book: Path
    premises: int
    appliances: int
    visits: int
    papers: int
    payments: int

    def as_json(self) -> dict[str, Any]:
        """Return it as the command line prints it."""
        counts = {
            name: getattr(self, name) for name in ("premises", "appliances", "visits", "papers", "payments")
        }
        return {"book": str(self.book), **counts}


@dataclass(slots=True)
class _Written:
    """What the book holds so far, as far as later events need it."""

    invoices: dict[str, tuple[str, Money]] = field(default_factory=dict)  # by visit: number, owing
    quotes: dict[str, str] = field(default_factory=dict)  # by visit: number
    premises: set[tuple[str, ...]] = field(default_factory=set)
    appliances: set[str] = field(default_factory=set)
    visits: int = 0
    papers: int = 0
    payments: int = 0
    unsent: list[tuple[str, dt.datetime]] = field(default_factory=list)  # number, moment of sealing


Event = tuple[dt.date, int, Quoted | dict[str, Any] | Paid]


def make_demo(
    path: Path,
    *,
    years: int = 6,
    scale: int = 1,
    seed: int = 1,
    today: dt.date,
    scenario: Scenario | None = None,
) -> DemoSummary:
    """Write the demo book; the file appears under its name only when it is whole.

    Args:
        path: the file, which must not be there.
        years: years of visits up to today.
        scale: so many times as many premises.
        seed: another number tells another story of the kind.
        today: the day the story has reached.
        scenario: another one than that of demo_db.

    Raises:
        BookProblem: something of that name is there already, or the folder takes no file.
    """
    if os.path.lexists(path):
        raise BookProblem(f"There is already a file at {path}; it was left as it is.")
    scenario = scenario or load(DEMO_DB)
    written = _Written()
    events = _events(scenario, years=years, scale=scale, seed=seed, today=today)
    with (
        tempfile.TemporaryDirectory(prefix="flueleaf-demo-") as folder,
        Book.create(Path(folder) / "demo.book") as book,
    ):
        with book.writing() as tx:
            businesses.save_business(tx, scenario.business)
            _write_owned(tx, scenario, Span.of(years, today, scenario.prices_from).first)
        while batch := list(itertools.islice(events, EVENTS_A_TRANSACTION)):
            with book.writing() as tx:
                for date, _, event in batch:
                    _write(tx, scenario, written, date, event)
        copy_to(book.con, path)
    return DemoSummary(
        book=path,
        premises=len(written.premises),
        appliances=len(written.appliances),
        visits=written.visits,
        papers=written.papers,
        payments=written.payments,
    )


def _events(scenario: Scenario, *, years: int, scale: int, seed: int, today: dt.date) -> Iterator[Event]:
    """Yield quotes, visits and payments in the order in which they came."""
    story = by_date(
        told(scenario, years=years, scale=scale, seed=seed, today=today),
        told_one_by_one(scenario, years=years, scale=scale, seed=seed, today=today),
    )
    span = Span.of(years, today, scenario.prices_from)
    found: list[Event] = [
        (quote.date, 0, quote) for quote in quotes(story, scenario, span=span, seed=seed, scale=scale)
    ]
    found += [(visit.date, 1, document) for visit, document in story]
    found += [(paid.date, 2, paid) for paid in payments(story, today=today, seed=seed)]
    yield from sorted(found, key=lambda event: event[:2])


def _write_owned(tx: Database, scenario: Scenario, first: dt.date) -> None:
    """Enter the owner's limits and fuel on the evening before the story begins."""
    day = first - dt.timedelta(days=1)
    at = dt.datetime.combine(day, _QUOTING)
    for entry in scenario.own_limits:
        limit = {**entry, "limit": Decimal(entry["limit"])}
        owned.add_limit(tx, OwnLimit(valid_from=day, entered_at=at, **limit))
    owned.add_fuel(tx, OwnFuel(scenario.own_fuel["name"], scenario.own_fuel, at))


def _write(
    tx: Database, scenario: Scenario, written: _Written, date: dt.date, event: Quoted | dict[str, Any] | Paid
) -> None:
    if isinstance(event, Quoted):
        _write_quote(tx, scenario, written, event)
    elif isinstance(event, Paid):
        _write_payment(tx, written, event)
    else:
        _write_visit(tx, scenario, written, date, event)


def _write_visit(
    tx: Database, scenario: Scenario, written: _Written, date: dt.date, document: dict[str, Any]
) -> None:
    visit = read_visit(document, choices=choices_of(tables_of(tx.conn)), today=date)
    assert visit.issued_at is not None
    quote = written.quotes.get(visit.visit_id, "")
    signed = visits.sign_off_in(tx, visit, issued_at=visit.issued_at, quote_number=quote)
    for paper in signed.papers:
        if paper.kind == "invoice":
            sums = bills.tally_lines("invoice", visit.lines, scenario.business, visit.customer, date)
            written.invoices[visit.visit_id] = (paper.number, sums.payable)
    _send_earlier(tx, written, [paper.number for paper in signed.papers], visit.issued_at)
    written.visits += 1
    written.papers += len(signed.papers)
    written.premises.add((*visit.premises.address, visit.premises.postcode))
    written.appliances.update(work.appliance.serial for work in visit.works)


def _write_quote(tx: Database, scenario: Scenario, written: _Written, quote: Quoted) -> None:
    known = registering.known_customer(tx, read_customer(Reader.of(quote.customer)))
    place = registering.known_premises(tx, read_premises(Reader.of(quote.premises)), known)
    lines = [read_line(Reader.of(line)) for line in quote.lines]
    at = dt.datetime.combine(quote.date, _QUOTING)
    issued = bills.issue_quote_in(tx, Subject(scenario.business, known, place), lines, issued_at=at)
    written.papers += 1
    _send_earlier(tx, written, [issued.number], at)
    if quote.visit_id:
        written.quotes[quote.visit_id] = issued.number


def _send_earlier(tx: Database, written: _Written, numbers: Iterable[str], at: dt.datetime) -> None:
    """Note the papers before the last few as sent."""
    written.unsent += [(number, at) for number in numbers]
    while len(written.unsent) > UNSENT:
        number, sealed = written.unsent.pop(0)
        note_sent(tx, number, Sending(sealed, SAVED))


def _write_payment(tx: Database, written: _Written, paid: Paid) -> None:
    number, owing = written.invoices[paid.visit_id]
    amount = owing if paid.rest else Money.of(Fraction(paid.part) * owing.pounds)
    bills.record_payment_in(tx, number, date=paid.date, amount=amount, way=paid.way)
    written.invoices[paid.visit_id] = (number, owing - amount)
    written.payments += 1
