"""Issuing a paper: number, fingerprint, drawing, seal; inside the caller's transaction."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.records import sealing
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Customer, Premises
from flueleaf.domain.words import said
from flueleaf.papers import canonical
from flueleaf.papers import facts as paper
from flueleaf.papers.registry import all_kinds
from flueleaf.storage import numbering, papers

if TYPE_CHECKING:
    from sqlite_utils import Database

# The numbering series of each kind; records share one, so that a premises' folder reads in one order.
SERIES = {
    "commissioning record": "records",
    "service record": "records",
    "quote": "quotes",
    "invoice": "invoices",
}


@dataclass(frozen=True, slots=True)
class Issued:
    """A paper just sealed; ``pdf`` are its bytes as kept in the book."""

    number: str
    kind: str
    fingerprint: str
    pdf: bytes


@dataclass(frozen=True, slots=True)
class Subject:
    """Whom and what a paper is about; customer and premises carry their ids, a visit is its row's number."""

    business: Business
    customer: Customer
    premises: Premises
    visit_ref: int | None = None


def issuer_faults(business: Business) -> tuple[Fault, ...]:
    """Return what the book must know of its business before any paper is sealed: whose paper it is."""
    if business.name.strip():
        return ()
    return (
        Fault("business.name", "", said("the name your papers are issued under, in the form Your business")),
    )


def lacks_vat_number(business: Business) -> bool:
    """Tell whether a business charges VAT and the book does not know its VAT number."""
    return business.vat != "none" and not business.vat_number.strip()


def issue(
    tx: Database,
    kind: str,
    subject: Subject,
    *,
    date: dt.date,
    issued_at: dt.datetime,
    facts_of: Callable[[paper.Head], Any],
) -> Issued:
    """Number, draw and seal a paper.

    Args:
        tx: the open transaction; if it fails, the number is free again.
        kind: the paper's kind ("invoice").
        subject: whom and what it is about.
        date: the day printed on it.
        issued_at: aware; the year of the number and the date of the PDF.
        facts_of: gives the kind's facts for the head every paper has.

    Raises:
        Refused: the business has no name.
    """
    if faults := issuer_faults(subject.business):
        raise Refused(faults)
    letters = numbering.letters_of(tx.conn, SERIES[kind])
    number = papers.next_number(tx, letters, issued_at.year)
    head = paper.Head(
        number=number,
        kind=kind,
        issued_at=issued_at,
        business=paper.business_facts(subject.business),
        customer=paper.party_facts(subject.customer),
        premises=paper.place_facts(subject.premises),
    )
    facts = facts_of(head)
    facts_json = canonical.to_json(facts)
    previous, _ = papers.last_chain(tx.conn)
    fingerprint = sealing.fingerprint(number, kind, facts_json, previous)
    printed = "" if previous == sealing.GENESIS else previous
    pdf = all_kinds()[kind].draw(facts, paper.Seals(number, fingerprint, printed))
    papers.add_sealed(
        tx,
        number=number,
        kind=kind,
        date=date,
        facts=facts_json,
        pdf=pdf,
        issued_at=issued_at,
        customer_id=subject.customer.id,
        premises_id=subject.premises.id,
        visit_ref=subject.visit_ref,
    )
    return Issued(number, kind, fingerprint, pdf)
