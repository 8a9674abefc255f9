"""Sample papers: how the owner's papers will look, drawn by the very code that draws the real ones.

A sample states an invented job for invented people. It has no number of a series, no fingerprint and no entry
in the book: where they would stand it says so.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from decimal import Decimal
from typing import Literal

from flueleaf.domain.money.document import Tally
from flueleaf.domain.money.lines import Line
from flueleaf.domain.money.tax import tax_point
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Customer, Instrument
from flueleaf.operations.bills import QUOTE_VALID_DAYS, tally_lines
from flueleaf.operations.facts.bill import invoice_facts, paragraphs, quote_facts
from flueleaf.papers import facts as paper
from flueleaf.papers.record import facts as record
from flueleaf.papers.record.sample import sample_record
from flueleaf.papers.registry import all_kinds
from flueleaf.papers.sample_facts import sample_head
from flueleaf.storage.tables.money import money_rules

NUMBER = "SAMPLE"
UNSEALED = "unsealed"  # stands where the fingerprint of an issued paper stands
UNNAMED = "Your name"
_NOON = dt.time(12, tzinfo=dt.UTC)
_VAT_PCT = Decimal(20)  # the standard rate in force is checked by the tally against the rule table
_LINES = (
    ("Service of a condensing boiler", "1", "job", "78.00"),
    ("Seal kit, burner door", "1", "each", "12.40"),
    ("Labour beyond the service", "0.5", "h", "52.00"),
)


def sample_invoice(business: Business, today: dt.date) -> bytes:
    """Return the PDF of an invented invoice of this business, dated today.

    Raises:
        UserProblem: the logo is no readable PNG.
    """
    head, lines, tally = _billed("invoice", business, today)
    facts = invoice_facts(
        head,
        lines,
        tally,
        business=business,
        date=today,
        performed=today,
        tax_point=tax_point(money_rules(), completed=today, invoiced=today),
    )
    return _draw("invoice", facts)


def sample_quote(business: Business, today: dt.date) -> bytes:
    """Return the PDF of an invented quote of this business, dated today.

    Raises:
        UserProblem: the logo is no readable PNG.
    """
    head, lines, tally = _billed("quote", business, today)
    valid_until = today + dt.timedelta(days=QUOTE_VALID_DAYS)
    facts = quote_facts(head, lines, tally, business=business, date=today, valid_until=valid_until)
    return _draw("quote", facts)


def sample_service_record(business: Business, instrument: Instrument | None, today: dt.date) -> bytes:
    """Return the PDF of an invented service record of this business, dated today.

    Args:
        business: as the papers are to print it.
        instrument: the analyser it names, None for one without a name yet.
        today: the day of the visit.

    Raises:
        UserProblem: logo or signature is no readable PNG.
    """
    facts = sample_record("service record", NUMBER, "service")
    assert facts.sign_off is not None
    return _draw(
        "service record",
        dataclasses.replace(
            facts,
            head=_head("service record", business, today),
            date=today,
            works=tuple(_measured_by(work, instrument, today) for work in facts.works),
            sign_off=dataclasses.replace(
                facts.sign_off, engineer=business.name or UNNAMED, registration=business.registration
            ),
            texts=paragraphs(business.record_text),
        ),
    )


def _billed(
    kind: Literal["invoice", "quote"], business: Business, today: dt.date
) -> tuple[paper.Head, tuple[Line, ...], Tally]:
    """Return head, lines and sums of an invented bill; only who is registered charges VAT."""
    vat_pct = _VAT_PCT if business.vat != "none" else None
    lines = tuple(
        Line(text, Decimal(quantity), unit, Decimal(price), vat_pct=vat_pct)
        for text, quantity, unit, price in _LINES
    )
    head = _head(kind, business, today)
    return head, lines, tally_lines(kind, lines, business, Customer(head.customer.name), today)


def _measured_by(work: record.Work, instrument: Instrument | None, today: dt.date) -> record.Work:
    if work.instrument is None:
        return work
    if instrument is None or not instrument.name.strip():
        return dataclasses.replace(work, instrument=record.Instrument("Your analyser"))
    due = instrument.calibration_due
    named = record.Instrument(instrument.name, instrument.serial, due, due is not None and due < today)
    return dataclasses.replace(work, instrument=named)


def _head(kind: str, business: Business, today: dt.date) -> paper.Head:
    named = business if business.name.strip() else dataclasses.replace(business, name=UNNAMED)
    return dataclasses.replace(
        sample_head(kind, NUMBER),
        issued_at=dt.datetime.combine(today, _NOON),
        business=paper.business_facts(named),
    )


def _draw(kind: str, facts: object) -> bytes:
    return all_kinds()[kind].draw(facts, paper.Seals(NUMBER, UNSEALED, UNSEALED))
