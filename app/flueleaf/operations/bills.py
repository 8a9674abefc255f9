"""Quotes, invoices and payments."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.document import Document, DocumentKind, Payment, Tally
from flueleaf.domain.money.lines import Line
from flueleaf.domain.money.tally import tally
from flueleaf.domain.money.tax import tax_point
from flueleaf.domain.problems import Fault, Refused, UserProblem
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Customer, CustomerId, Premises, PremisesId
from flueleaf.domain.records.visits import Visit
from flueleaf.domain.words import said
from flueleaf.operations import register as registering
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.facts.bill import invoice_facts, quote_facts
from flueleaf.operations.issuing import Issued, Subject, issue
from flueleaf.storage import business as businesses
from flueleaf.storage import money, register, visits
from flueleaf.storage.book import Book
from flueleaf.storage.tables.money import money_rules

if TYPE_CHECKING:
    from sqlite3 import Connection

    from sqlite_utils import Database

QUOTE_VALID_DAYS = 30  # common practice; the paper prints the last day

TAKEN_BACK = "taken back"  # the note of a counter entry, in the book and in what is read out of it

_MONEY = frozenset({Topic.MONEY, Topic.PAPERS})


def tally_lines(
    kind: DocumentKind, lines: Sequence[Line], business: Business, customer: Customer, date: dt.date
) -> Tally:
    """Return what lines come to for this business on a date.

    Raises:
        Refused: a line whose VAT does not fit the business or the date.
    """
    document = Document(
        kind=kind, vat=business.vat, lines=tuple(lines), date=date, business=customer.kind == "business"
    )
    return tally(document, money_rules())


def issue_quote_in(
    tx: Database, subject: Subject, lines: Sequence[Line], *, issued_at: dt.datetime
) -> Issued:
    """Seal a quote and note it in the book."""
    date = issued_at.date()
    valid_until = date + dt.timedelta(days=QUOTE_VALID_DAYS)
    sums = tally_lines("quote", lines, subject.business, subject.customer, date)
    issued = issue(
        tx,
        "quote",
        subject,
        date=date,
        issued_at=issued_at,
        facts_of=lambda head: quote_facts(
            head, lines, sums, business=subject.business, date=date, valid_until=valid_until
        ),
    )
    assert subject.customer.id is not None
    money.add_quote(
        tx,
        money.Quote(
            number=issued.number,
            date=date,
            valid_until=valid_until,
            customer_id=subject.customer.id,
            premises_id=subject.premises.id,
            net=sums.net,
            vat=sums.vat_total,
            total=sums.total,
            lines=tuple(lines),
        ),
    )
    return issued


def issue_invoice_in(
    tx: Database,
    subject: Subject,
    lines: Sequence[Line],
    *,
    performed: dt.date,
    issued_at: dt.datetime,
    quote_number: str = "",
) -> Issued:
    """Seal an invoice and note it in the book; with a quote's number that quote counts as accepted.

    Raises:
        Refused: the quote is not known, was invoiced already, or is for other premises.
    """
    date = issued_at.date()
    if quote_number:
        _accept(tx, quote_number, date, subject.premises)
    point = tax_point(money_rules(), completed=performed, invoiced=date)
    sums = tally_lines("invoice", lines, subject.business, subject.customer, date)
    issued = issue(
        tx,
        "invoice",
        subject,
        date=date,
        issued_at=issued_at,
        facts_of=lambda head: invoice_facts(
            head,
            lines,
            sums,
            business=subject.business,
            date=date,
            performed=performed,
            tax_point=point,
            quote_number=quote_number,
        ),
    )
    assert subject.customer.id is not None
    money.add_invoice(
        tx,
        money.Invoice(
            number=issued.number,
            date=date,
            due=date + dt.timedelta(days=subject.business.payment_days),
            customer_id=subject.customer.id,
            premises_id=subject.premises.id,
            visit_ref=subject.visit_ref,
            net=sums.net,
            vat=sums.vat_total,
            total=sums.total,
            payable=sums.payable,
            lines=tuple(lines),
            quote_number=quote_number or None,
        ),
    )
    return issued


def _accept(tx: Database, quote_number: str, on: dt.date, premises: Premises) -> None:
    """Note that the quote was taken; it becomes at most one invoice, for the premises it was made for."""
    if known_quote(tx.conn, quote_number).premises_id != premises.id:
        raise Refused([Fault("quote", quote_number, said("the number of a quote for the same premises"))])
    try:
        money.accept_quote(tx, quote_number, on)
    except LookupError:
        accepted = said("the number of a quote that was not invoiced yet")
        raise Refused([Fault("quote", quote_number, accepted)]) from None


def issue_quote(
    book: Book,
    customer: Customer,
    premises: Premises,
    lines: Sequence[Line],
    *,
    issued_at: dt.datetime,
) -> Issued:
    """Issue a quote of its own, without a visit.

    Raises:
        Refused: no lines, or a line whose VAT does not fit.
    """
    if not lines:
        raise Refused([Fault("lines", "", said("at least one line"))])
    with book.writing() as tx:
        known = registering.known_customer(tx, customer)
        place = registering.known_premises(tx, premises, known)
        subject = Subject(businesses.business(tx.conn), known, place)
        return issue_quote_in(tx, subject, lines, issued_at=issued_at)


def invoice_quote(book: Book, quote_number: str, *, performed: dt.date, issued_at: dt.datetime) -> Issued:
    """Make an accepted quote the invoice of its work, in one step and at its price.

    Raises:
        Refused: no such quote, or it was invoiced already.
    """
    with book.writing() as tx:
        quote = known_quote(tx.conn, quote_number)
        assert quote.premises_id is not None
        subject = Subject(
            businesses.business(tx.conn),
            register.customer(tx.conn, CustomerId(quote.customer_id)),
            register.premises(tx.conn, PremisesId(quote.premises_id)),
        )
        return issue_invoice_in(
            tx, subject, quote.lines, performed=performed, issued_at=issued_at, quote_number=quote_number
        )


def visit_to_invoice(book: Book, visit_id: str, *, on: dt.date) -> tuple[Visit, Tally]:
    """Return a signed visit that may be invoiced, and what its lines come to on a day.

    Raises:
        Refused: no such visit, it has no lines, it was invoiced already, or the VAT of a line does not fit.
    """
    _, visit = _uninvoiced(book.con, visit_id)
    owner = businesses.business(book.con)
    return visit, tally_lines("invoice", visit.lines, owner, visit.customer, on)


def invoice_visit(book: Book, visit_id: str, *, performed: dt.date, issued_at: dt.datetime) -> Issued:
    """Invoice the lines of a visit that was signed off without an invoice; see ``quote_behind``.

    Raises:
        Refused: no such visit, it has no lines, or it was invoiced already.
    """
    with book.writing() as tx:
        ref, visit = _uninvoiced(tx.conn, visit_id)
        subject = Subject(businesses.business(tx.conn), visit.customer, visit.premises, ref)
        return issue_invoice_in(
            tx,
            subject,
            visit.lines,
            performed=performed,
            issued_at=issued_at,
            quote_number=quote_behind(tx.conn, visit),
        )


def quote_behind(con: Connection, visit: Visit) -> str:
    """Return the open quote for the premises of a signed visit whose lines it charges, "" for none.

    The invoice of the visit is that quote's, so that the same work is not charged twice.
    """
    assert visit.premises.id is not None
    of_premises = money.quotes_of_premises(con, visit.premises.id, open_only=True)
    return next((quote.number for quote in of_premises if tuple(quote.lines) == tuple(visit.lines)), "")


def _uninvoiced(con: Connection, visit_id: str) -> tuple[int, Visit]:
    try:
        kept = visits.stored_visit(con, visit_id)
    except LookupError:
        raise Refused([Fault("visit_id", visit_id, said("the id of a visit of this book"))]) from None
    if not kept.visit.lines:
        raise Refused([Fault("visit_id", visit_id, said("the id of a visit with something to charge"))])
    if money.invoice_of_visit(con, kept.ref) is not None:
        raise Refused([Fault("visit_id", visit_id, said("the id of a visit that was not invoiced yet"))])
    return kept.ref, kept.visit


def known_quote(con: Connection, number: str) -> money.Quote:
    """Return a quote.

    Raises:
        Refused: there is none of that number.
    """
    try:
        return money.quote(con, number)
    except LookupError:
        raise Refused([Fault("quote", number, said("the number of a quote of this book"))]) from None


def record_payment(book: Book, invoice_number: str, *, date: dt.date, amount: Money, way: str) -> Changes:
    """Note a payment.

    Raises:
        Refused: no such invoice, or no amount.
    """
    with book.writing() as tx:
        record_payment_in(tx, invoice_number, date=date, amount=amount, way=way)
    return Changes(
        _MONEY,
        said(
            "{amount} towards {invoice} is kept.",
            amount=amount.with_sign(),
            invoice=invoice_number,
        ),
        partial(take_back_payment, invoice_number=invoice_number, payment=Payment(date, amount), way=way),
    )


def take_back_payment(
    book: Book, _at: dt.datetime, *, invoice_number: str, payment: Payment, way: str
) -> Changes:
    """Set a counter entry of the same day against a payment noted by mistake; both stay in the book.

    Raises:
        UserProblem: so much is not paid on that day any more, as after it was taken back once.
    """
    with book.writing() as tx:
        paid = [one.amount for one in money.payments(tx.conn, invoice_number) if one.date == payment.date]
        if sum(one.pence for one in paid) < payment.amount.pence:
            raise UserProblem(said("That payment is taken back already."))
        counter = Payment(payment.date, -payment.amount)
        money.add_payment(tx, invoice_number, counter, way=way, note=TAKEN_BACK)
    return Changes(
        _MONEY,
        said(
            "{amount} towards {invoice} is taken back: a counter entry of the same day stands against it.",
            amount=payment.amount.with_sign(),
            invoice=invoice_number,
        ),
    )


def record_payment_in(tx: Database, invoice_number: str, *, date: dt.date, amount: Money, way: str) -> None:
    """Note a payment inside an open transaction."""
    if amount.pence <= 0:
        raise Refused([Fault("amount", amount.plain(), said("an amount above 0.00"))])
    try:
        money.add_payment(tx, invoice_number, Payment(date, amount), way=way)
    except LookupError:
        accepted = said("the number of an invoice of this book")
        raise Refused([Fault("invoice", invoice_number, accepted)]) from None
