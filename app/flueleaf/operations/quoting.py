"""A quote still being typed: begun, kept, judged live, sealed."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flueleaf.domain.money.document import Tally
from flueleaf.domain.money.lines import Line
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Customer, Premises, PremisesId
from flueleaf.domain.words import said
from flueleaf.operations import bills, kept
from flueleaf.operations import register as registering
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.intake import documents
from flueleaf.operations.intake.money import read_line
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_customer, read_premises
from flueleaf.operations.issuing import Subject
from flueleaf.storage import business as businesses
from flueleaf.storage import money, register
from flueleaf.storage.book import Book

KIND = "quote"
MOST_LINES = 200  # as in a visit

_SEALED = frozenset({Topic.REGISTER, Topic.DRAFTS, Topic.PAPERS, Topic.MONEY})


@dataclass(frozen=True, slots=True)
class QuoteJudgement:
    """What can be said of a quote being typed.

    Attributes:
        customer, premises, lines: what could be read of it.
        tally: what the lines come to, None while that cannot be said.
        faults: what is not accepted, or needed and empty, by path.
    """

    customer: Customer
    premises: Premises
    lines: tuple[Line, ...]
    tally: Tally | None
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class SealedQuote:
    """A sealed quote, and what the views reload."""

    number: str

    @property
    def changes(self) -> Changes:
        """What the views reload."""
        return Changes(_SEALED, said("Sealed: {number}.", number=self.number))


def begin(book: Book, *, premises_id: int | None = None) -> dict[str, Any]:
    """Return the document of a new quote, for premises that are known or still to be typed."""
    document: dict[str, Any] = {"quote_id": str(uuid.uuid4()), "customer": {}, "premises": {}, "lines": []}
    if premises_id is not None:
        premises = register.premises(book.con, PremisesId(premises_id))
        assert premises.customer_id is not None
        document["premises"] = documents.premises_document(premises)
        document["customer"] = documents.customer_document(register.customer(book.con, premises.customer_id))
    return document


def keep(book: Book, document: Mapping[str, Any], *, at: str = "") -> Changes:
    """Keep a draft as it stands; ``at`` is the name of the field the cursor is in."""
    return kept.keep(book, KIND, str(document["quote_id"]), document, {kept.AT: at})


def load(book: Book, quote_id: str) -> dict[str, Any] | None:
    """Return a kept draft, or None."""
    return kept.load(book, KIND, quote_id)


def left_at(book: Book, quote_id: str) -> str:
    """Return the name of the field the cursor was in when a draft was kept last."""
    return kept.beside(book, KIND, quote_id, kept.AT)


def put_away(book: Book, quote_id: str) -> Changes:
    """Put a draft away; the change can be taken back until the next draft is put away."""
    return kept.put_away(book, KIND, quote_id)


def judge(document: Mapping[str, Any], business: Business, *, today: dt.date) -> QuoteJudgement:
    """Return what can be said of a draft; reads nothing from the book."""
    root = Reader.of(document, typed=True)
    root.text("quote_id", longest=60)
    customer = read_customer(root.child("customer"))
    premises = read_premises(root.child("premises"))
    lines = tuple(read_line(entry) for entry in root.items("lines", required=True, most=MOST_LINES))
    found: list[Fault] = []
    try:
        root.finish()
    except Refused as refused:
        found += refused.faults
    tally = None
    if not any(fault.where.startswith("lines") for fault in found):
        try:
            tally = bills.tally_lines("quote", lines, business, customer, today)
        except Refused as refused:
            found += refused.faults
    return QuoteJudgement(customer, premises, lines, tally, tuple(found))


def seal(book: Book, document: Mapping[str, Any], *, issued_at: dt.datetime) -> SealedQuote:
    """Seal a quote: strictly read, numbered, drawn; the draft goes in the same transaction.

    Raises:
        Refused: naming what stands in the way, by path.
    """
    with book.writing() as tx:
        business = businesses.business(tx.conn)
        judgement = judge(document, business, today=issued_at.date())
        if judgement.faults:
            raise Refused(judgement.faults)
        customer = registering.known_customer(tx, judgement.customer)
        premises = registering.known_premises(tx, judgement.premises, customer)
        subject = Subject(business, customer, premises)
        issued = bills.issue_quote_in(tx, subject, judgement.lines, issued_at=issued_at)
        kept.drop_in(tx, KIND, str(document["quote_id"]))
    return SealedQuote(issued.number)


def valid_until(today: dt.date) -> dt.date:
    """Return the last day of a quote sealed today."""
    return today + dt.timedelta(days=bills.QUOTE_VALID_DAYS)


def open_quotes(book: Book, document: Mapping[str, Any]) -> tuple[money.Quote, ...]:
    """Return the quotes without an invoice for the premises of a draft, the newest first."""
    reader = Reader.of(document.get("premises", {}), typed=True)
    typed = read_premises(reader)
    found = register.find_premises(book.con, typed.address, typed.postcode) if typed.address else None
    if found is None or found.id is None:
        return ()
    return tuple(money.quotes_of_premises(book.con, found.id, open_only=True))
