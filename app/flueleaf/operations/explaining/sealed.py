"""What can be explained of the past: verdicts frozen at sign-off, sealed bills."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from flueleaf.domain.judging.assessment import WORKED_OUT, Exact, Judged, OtherLimit
from flueleaf.domain.money.document import DocumentKind
from flueleaf.domain.problems import Refused
from flueleaf.domain.records.register import CustomerId, Point, Rate
from flueleaf.domain.words import said
from flueleaf.operations import bills
from flueleaf.operations.explaining.bills import explain_owing, explain_sum
from flueleaf.operations.explaining.dates import explain_due, explain_late
from flueleaf.operations.explaining.draft import explain_plate
from flueleaf.operations.explaining.drift import explain_drift
from flueleaf.operations.explaining.explanation import Explanation
from flueleaf.operations.explaining.verdicts import explain_verdict
from flueleaf.operations.page_records import AppliancePage, InvoicePage, QuoteRow, ReadingRow
from flueleaf.operations.pages.money import invoice_page
from flueleaf.operations.tables import of_book
from flueleaf.storage import business as businesses
from flueleaf.storage import money, register
from flueleaf.storage.book import Book
from flueleaf.storage.visits.frozen import judged_of_appliance
from flueleaf.storage.visits.results import exact


@dataclass(frozen=True, slots=True)
class PastSlip:
    """Where a slip of the past was taken, and its ratio as the page shows it."""

    point: Point
    rate: Rate
    attempt: int
    ratio_text: str


def explain_appliance(book: Book, page: AppliancePage) -> list[Explanation]:
    """Return verdicts of the last readings as they were frozen, drifts, the plate's input, what is due."""
    assert page.appliance.id is not None
    frozen = judged_of_appliance(book.con, page.appliance.id)
    found: list[Explanation] = []
    for row in page.last:
        told = frozen.get((row.visit_id, row.point, row.rate, row.attempt), [])
        found += [_frozen(row, n, each) for n, each in enumerate(told)]
    found += [explain_drift(row) for row in page.drifts]
    return [*found, *explain_plate(page.appliance, of_book(book)), *(explain_due(due) for due in page.due)]


def explain_bill(book: Book, bill: InvoicePage | QuoteRow | None, today: dt.date) -> list[Explanation]:
    """Return how a sealed bill came to its sum, what is owing and how late; nothing of any other paper."""
    if bill is None:
        return []
    con = book.con
    invoiced = isinstance(bill, InvoicePage)
    sealed = money.invoice(con, bill.number) if invoiced else money.quote(con, bill.number)
    kind: DocumentKind = "invoice" if invoiced else "quote"
    customer = register.customer(con, CustomerId(sealed.customer_id))
    found = [explain_owing(bill), explain_late(bill, today)] if isinstance(bill, InvoicePage) else []
    try:
        tally = bills.tally_lines(kind, sealed.lines, businesses.business(con), customer, sealed.date)
    except Refused:
        return found
    # The business may have changed since: only sums that are those of the sealed paper are explained.
    same = (tally.net, tally.vat_total, tally.total) == (sealed.net, sealed.vat, sealed.total)
    return [*found, *(explain_sum(sealed.lines, tally) if same else ())]


def _frozen(row: ReadingRow, number: int, told: Mapping[str, Any]) -> Explanation:
    shown = row.judged[number].value_text
    return explain_verdict(PastSlip(row.point, row.rate, row.attempt, shown), judged_then(told))


def judged_then(told: Mapping[str, Any]) -> Judged:
    """Return a verdict as it was frozen; nothing is judged again."""
    value = exact(told.get("value"))
    worked_out = told.get("basis") in WORKED_OUT
    worked: Exact | None = Fraction(value) if value is not None and worked_out else value
    margin = exact(told.get("margin"))
    texts = {key: str(told.get(key) or "") for key in _TEXTS}
    return Judged(
        quantity=told["quantity"],
        value=worked,
        limit=exact(told.get("limit")),
        sense=told["sense"],
        source=told["source"],
        verdict=told["verdict"],
        basis=told.get("basis", "measured"),
        margin=None if margin is None else Fraction(margin),
        standard_uncertainty=told.get("standard_uncertainty"),
        chance_beyond=told.get("chance_beyond"),
        resolution=exact(told.get("resolution")),
        tolerance=texts["tolerance"],
        source_text=texts["source_text"],
        table=texts["table"],
        edition=texts["edition"],
        clause=texts["clause"],
        status=texts["status"],
        why=texts["why"],
        also=other_then(told.get("also")),
    )


def other_then(told: Mapping[str, Any] | None) -> OtherLimit | None:
    """Return the limit that did not count, as it was frozen beside the one that did."""
    limit = None if told is None else exact(told.get("limit"))
    if told is None or limit is None:
        return None
    return OtherLimit(
        limit, told["source"], str(told.get("source_text") or ""), str(told.get("status") or "")
    )


_TEXTS = ("tolerance", "source_text", "table", "edition", "clause", "status", "why")


def explain_unpaid(book: Book, numbers: Sequence[str], today: dt.date) -> list[Explanation]:
    """Return what is owing of some invoices and how late each is, by their numbers."""
    found: list[Explanation] = []
    for number in numbers:
        bill = invoice_page(book, number, today)
        for one in (explain_owing(bill), explain_late(bill, today)):
            title = said("{number}: {figure}", number=number, figure=one.title)
            found.append(replace(one, key=f"{number}.{one.key}", title=title))
    return found
