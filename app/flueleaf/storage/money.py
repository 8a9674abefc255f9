"""Quotes, invoices, and payments; whole pence in the book, ``Money`` outside of it."""

from __future__ import annotations

import datetime as dt
import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.document import Payment
from flueleaf.domain.money.lines import Line
from flueleaf.storage.lines import add_lines, lines_of_owner
from flueleaf.storage.rows import date_of, insert, iso

if TYPE_CHECKING:
    from sqlite_utils import Database


@dataclass(frozen=True, slots=True)
class Quote:
    """A quote as issued; ``number`` is that of its sealed paper."""

    number: str
    date: dt.date
    customer_id: int
    net: Money
    vat: Money
    total: Money
    lines: tuple[Line, ...] = ()
    premises_id: int | None = None
    valid_until: dt.date | None = None
    accepted_on: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Invoice:
    """An invoice as issued; ``payable`` is the total less what was prepaid and deducted.

    Attributes:
        number: that of its sealed paper.
        due: the last day of payment in time.
        visit_ref: number of the row of the visit it charges.
        quote_number: of the quote it came from.
    """

    number: str
    date: dt.date
    customer_id: int
    net: Money
    vat: Money
    total: Money
    payable: Money
    lines: tuple[Line, ...] = ()
    due: dt.date | None = None
    premises_id: int | None = None
    visit_ref: int | None = None
    quote_number: str | None = None


@dataclass(frozen=True, slots=True)
class Unpaid:
    """An invoice with money owing on some day; ``days_late`` is 0 up to its due date."""

    number: str
    date: dt.date
    due: dt.date | None
    customer_id: int
    customer: str
    payable: Money
    paid: Money
    owing: Money
    days_late: int


def add_quote(tx: Database, quote: Quote) -> int:
    """Add a quote and return the number of its row."""
    row = {
        "number": quote.number,
        "date": iso(quote.date),
        "valid_until": iso(quote.valid_until),
        "customer_id": quote.customer_id,
        "premises_id": quote.premises_id,
        "net_pence": quote.net.pence,
        "vat_pence": quote.vat.pence,
        "total_pence": quote.total.pence,
        "accepted_on": iso(quote.accepted_on),
    }
    number = insert(tx, "quote", row)
    add_lines(tx, "quote_ref", number, quote.lines)
    return number


def accept_quote(tx: Database, number: str, on: dt.date) -> None:
    """Note that a quote was accepted.

    Raises:
        LookupError: there is no such quote, or it was accepted before.
    """
    changed = tx.execute(
        "UPDATE quote SET accepted_on = ? WHERE number = ? AND accepted_on IS NULL", (on.isoformat(), number)
    )
    if changed.rowcount != 1:
        raise LookupError(f"no open quote {number}")


def quote(con: sqlite3.Connection, number: str) -> Quote:
    """Return a quote.

    Raises:
        LookupError: there is no such quote.
    """
    row = _row(con, "quote", number)
    return Quote(
        number=row["number"],
        date=dt.date.fromisoformat(row["date"]),
        customer_id=row["customer_id"],
        net=Money(row["net_pence"]),
        vat=Money(row["vat_pence"]),
        total=Money(row["total_pence"]),
        lines=lines_of_owner(con, "quote_ref", row["id"]),
        premises_id=row["premises_id"],
        valid_until=date_of(row["valid_until"]),
        accepted_on=date_of(row["accepted_on"]),
    )


def quotes_of_premises(con: sqlite3.Connection, premises_id: int, *, open_only: bool = False) -> list[Quote]:
    """Return the quotes for some premises, newest first; open ones have no invoice yet."""
    found = con.execute(
        "SELECT q.number FROM quote q WHERE q.premises_id = ?"
        " AND NOT (? AND EXISTS (SELECT 1 FROM invoice i WHERE i.quote_ref = q.id))"
        " ORDER BY q.date DESC, q.id DESC",
        (premises_id, open_only),
    ).fetchall()
    return [quote(con, row["number"]) for row in found]


def add_invoice(tx: Database, invoice: Invoice) -> int:
    """Add an invoice and return the number of its row; a quote becomes at most one invoice.

    Raises:
        LookupError: there is no quote of that number.
        sqlite3.IntegrityError: the number is taken, or the quote has its invoice already.
    """
    quote_ref = None if invoice.quote_number is None else _row(tx.conn, "quote", invoice.quote_number)["id"]
    row = {
        "number": invoice.number,
        "date": iso(invoice.date),
        "due": iso(invoice.due),
        "customer_id": invoice.customer_id,
        "premises_id": invoice.premises_id,
        "visit_ref": invoice.visit_ref,
        "quote_ref": quote_ref,
        "net_pence": invoice.net.pence,
        "vat_pence": invoice.vat.pence,
        "total_pence": invoice.total.pence,
        "payable_pence": invoice.payable.pence,
    }
    number = insert(tx, "invoice", row)
    add_lines(tx, "invoice_ref", number, invoice.lines)
    return number


def invoice(con: sqlite3.Connection, number: str) -> Invoice:
    """Return an invoice.

    Raises:
        LookupError: there is no such invoice.
    """
    row = _row(con, "invoice", number)
    quoted = con.execute("SELECT number FROM quote WHERE id = ?", (row["quote_ref"],)).fetchone()
    return Invoice(
        number=row["number"],
        date=dt.date.fromisoformat(row["date"]),
        customer_id=row["customer_id"],
        net=Money(row["net_pence"]),
        vat=Money(row["vat_pence"]),
        total=Money(row["total_pence"]),
        payable=Money(row["payable_pence"]),
        lines=lines_of_owner(con, "invoice_ref", row["id"]),
        due=date_of(row["due"]),
        premises_id=row["premises_id"],
        visit_ref=row["visit_ref"],
        quote_number=None if quoted is None else quoted["number"],
    )


def invoice_of_visit(con: sqlite3.Connection, visit_ref: int) -> str | None:
    """Return the number of the invoice that charges a visit, None where there is none."""
    row = con.execute("SELECT number FROM invoice WHERE visit_ref = ?", (visit_ref,)).fetchone()
    return None if row is None else row["number"]


def add_payment(tx: Database, number: str, payment: Payment, *, way: str = "", note: str = "") -> None:
    """Note money received for an invoice (negative: paid back).

    Raises:
        LookupError: there is no such invoice.
        sqlite3.IntegrityError: a payment of nothing.
    """
    row = {
        "invoice_ref": _row(tx.conn, "invoice", number)["id"],
        "date": iso(payment.date),
        "amount_pence": payment.amount.pence,
        "way": way,
        "note": note,
    }
    insert(tx, "payment", row)


def payments(con: sqlite3.Connection, number: str) -> list[Payment]:
    """Return what was paid for an invoice, oldest first.

    Raises:
        LookupError: there is no such invoice.
    """
    found = con.execute(
        "SELECT date, amount_pence FROM payment WHERE invoice_ref = ? ORDER BY date, id",
        (_row(con, "invoice", number)["id"],),
    )
    return [Payment(dt.date.fromisoformat(row["date"]), Money(row["amount_pence"])) for row in found]


_UNPAID = """
SELECT i.number, i.date, i.due, i.customer_id, c.name AS customer, i.payable_pence,
       (SELECT ifnull(sum(p.amount_pence), 0) FROM payment p
        WHERE p.invoice_ref = i.id AND p.date <= :on) AS paid_pence
FROM invoice i JOIN customer c ON c.id = i.customer_id
WHERE i.date <= :on AND paid_pence < i.payable_pence
ORDER BY ifnull(i.due, i.date), i.id
"""


def unpaid(con: sqlite3.Connection, on: dt.date) -> list[Unpaid]:
    """Return the invoices with money owing on a day, the longest due first; later payments do not count."""
    return [_unpaid_of(row, on) for row in con.execute(_UNPAID, {"on": on.isoformat()})]


def _unpaid_of(row: sqlite3.Row, on: dt.date) -> Unpaid:
    due = date_of(row["due"])
    payable, paid = Money(row["payable_pence"]), Money(row["paid_pence"])
    return Unpaid(
        number=row["number"],
        date=dt.date.fromisoformat(row["date"]),
        due=due,
        customer_id=row["customer_id"],
        customer=row["customer"],
        payable=payable,
        paid=paid,
        owing=payable - paid,
        days_late=0 if due is None else max(0, (on - due).days),
    )


def _row(con: sqlite3.Connection, table: str, number: str) -> sqlite3.Row:
    row: sqlite3.Row | None = con.execute(f"SELECT * FROM {table} WHERE number = ?", (number,)).fetchone()
    if row is None:
        raise LookupError(f"no {table} {number}")
    return row
