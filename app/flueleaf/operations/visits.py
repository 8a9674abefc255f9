"""Signing off a visit: judged, checked, written and its papers sealed in one transaction."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueleaf.domain.judging.as_json import assessment_json
from flueleaf.domain.judging.assessment import Assessment, Doubt, Verdict, worst
from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.judging.procedure import override_faults, sign_off_blocks
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.records.register import Appliance
from flueleaf.domain.records.visits import Visit, Work
from flueleaf.domain.words import as_kept, either, said
from flueleaf.operations import assessing, bills, schedule
from flueleaf.operations import register as registering
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.facts.record import record_facts
from flueleaf.operations.issuing import Issued, Subject, issue, issuer_faults
from flueleaf.operations.tables import shipped, tables_of
from flueleaf.papers.record.facts import Due
from flueleaf.storage import business as businesses
from flueleaf.storage import register
from flueleaf.storage import visits as stored
from flueleaf.storage.book import Book

if TYPE_CHECKING:
    from sqlite3 import Connection

    from sqlite_utils import Database

# Which visits each record is the paper of.
RECORDS = {
    "commissioning record": ("commissioning",),
    "service record": ("service", "landlord check", "breakdown"),
}
BILLS = ("quote", "invoice")
PREVIOUS_VISITS = 3  # earlier visits looked at for "changed since last"

TOPICS = frozenset({Topic.REGISTER, Topic.VISITS, Topic.DRAFTS, Topic.PAPERS, Topic.MONEY, Topic.DUE})


@dataclass(frozen=True, slots=True)
class Signed:
    """A signed-off visit: the whole verdict, its doubts, its papers and what is due now."""

    visit_id: str
    verdict: Verdict
    doubts: tuple[Doubt, ...]
    papers: tuple[Issued, ...]
    due: tuple[Due, ...]

    @property
    def changes(self) -> Changes:
        """What the views reload."""
        numbers = ", ".join(paper.number for paper in self.papers)
        return Changes(
            TOPICS,
            said("Signed off; sealed: {numbers}.", numbers=numbers) if numbers else said("Signed off."),
        )


def sign_off(book: Book, visit: Visit, *, issued_at: dt.datetime, quote_number: str = "") -> Signed:
    """Sign off a visit: all of it is kept, or none of it.

    Args:
        book: the book.
        visit: as read from its document.
        issued_at: aware instant at which its papers are issued.
        quote_number: the accepted quote that becomes the visit's invoice, "" if none.

    Raises:
        Refused: naming what stands in the way.
    """
    with book.writing() as tx:
        return sign_off_in(tx, visit, issued_at=issued_at, quote_number=quote_number)


def sign_off_in(tx: Database, visit: Visit, *, issued_at: dt.datetime, quote_number: str = "") -> Signed:
    """Sign off a visit inside an open transaction."""
    if stored.visit_exists(tx.conn, visit.visit_id):
        raise Refused([Fault("visit_id", visit.visit_id, said("the id of a visit not yet in the book"))])
    tables = tables_of(tx.conn)
    previous = [previous_visits(tx.conn, visit, work) for work in visit.works]
    assessments = [
        assessing.assess_work(visit, work, earlier, tables)
        for work, earlier in zip(visit.works, previous, strict=True)
    ]
    business = businesses.business(tx.conn)
    if faults := [*blocks(visit, assessments), *(issuer_faults(business) if visit.papers else ())]:
        raise Refused(faults)
    if visit.lines:
        bills.tally_lines("invoice", visit.lines, business, visit.customer, issued_at.date())
    known = _registered(tx, visit)
    # What burned then is kept with the verdict: the appliance may be converted one day.
    frozen = [
        {**assessment_json(each), "fuel": work.appliance.fuel}
        for each, work in zip(assessments, known.works, strict=True)
    ]
    visit_ref = stored.add_visit(tx, dataclasses.replace(known, issued_at=issued_at), frozen)
    due = [schedule.set_due_in(tx, known, work, visit_ref) for work in known.works]
    subject = Subject(business, known.customer, known.premises, visit_ref)
    signing = _Signing(tx, subject, known, assessments, due, issued_at, quote_number)
    papers = [_paper(signing, kind) for kind in _order(visit.papers)]
    return Signed(
        visit_id=visit.visit_id,
        verdict=worst(assessment.verdict for assessment in assessments),
        doubts=tuple(doubt for assessment in assessments for doubt in assessment.doubts),
        papers=tuple(papers),
        due=tuple(item for items in due for item in items),
    )


def _order(kinds: Sequence[str]) -> list[str]:
    """Return the papers in the order of issue: records first, a quote before the invoice it becomes."""
    ranks = [*RECORDS, *BILLS]
    return sorted(kinds, key=ranks.index)


def _registered(tx: Database, visit: Visit) -> Visit:
    """Return the visit with everyone and everything in it known to the register."""
    customer = registering.known_customer(tx, visit.customer)
    premises = registering.known_premises(tx, visit.premises, customer)
    works = tuple(
        dataclasses.replace(
            work,
            appliance=registering.known_appliance(tx, work.appliance, premises),
            instrument=registering.known_instrument(tx, work.instrument),
        )
        for work in visit.works
    )
    return dataclasses.replace(visit, customer=customer, premises=premises, works=works)


def previous_visits(con: Connection, visit: Visit, work: Work) -> tuple[PreviousVisit, ...]:
    """Return the earlier visits to a work's appliance that the book knows, latest first."""
    found = known_appliance(con, visit, work)
    if found is None or found.id is None:
        return ()
    earlier = stored.last_slips(con, found.id, visit.date, most=PREVIOUS_VISITS)
    fuel = tables_of(con).fuels.get(found.fuel)
    return tuple(dataclasses.replace(past, fuel=fuel) for past in earlier)


def known_appliance(con: Connection, visit: Visit, work: Work) -> Appliance | None:
    """Return a work's appliance as the book knows it, None where it does not."""
    premises = register.find_premises(con, visit.premises.address, visit.premises.postcode)
    if premises is None or premises.id is None:
        return None
    plate = work.appliance
    return register.find_appliance(con, premises.id, plate.serial, plate.kind, plate.location)


def last_answers(con: Connection, visit: Visit, work: Work) -> stored.LastAnswers | None:
    """Return what was answered at a work's appliance at its latest visit, None where the book knows none."""
    found = known_appliance(con, visit, work)
    return None if found is None or found.id is None else stored.last_answers(con, found.id, visit.date)


def blocks(visit: Visit, assessments: Sequence[Assessment]) -> Iterator[Fault]:
    """Yield what the procedure, or a paper that is wanted, has against a sign-off, by path."""
    for n, (work, assessment) in enumerate(zip(visit.works, assessments, strict=True)):
        kind = shipped().kinds[work.appliance.kind]
        unknown = override_faults(work.overrides, assessment.walk.procedure if assessment.walk else None)
        for block in (*sign_off_blocks(work, kind, visit.purpose, assessment.verdict), *unknown):
            yield dataclasses.replace(block, where=f"works[{n}].{block.where}")
    yield from _paper_needs(visit)


def _paper_needs(visit: Visit) -> Iterator[Fault]:
    for kind in visit.papers:
        if kind in RECORDS and visit.purpose not in RECORDS[kind]:
            yield Fault(
                "papers",
                kind,
                said(
                    "for a visit whose purpose is {purposes}; this one is {purpose}",
                    purposes=either(RECORDS[kind]),
                    purpose=as_kept(visit.purpose),
                ),
            )
        if kind in RECORDS and visit.sign_off is None:
            yield Fault("sign_off", "", said("who signed, for a {kind}", kind=as_kept(kind)))
        if kind in BILLS and not visit.lines:
            yield Fault("lines", "", said("at least one line, for the {kind}", kind=as_kept(kind)))


@dataclass(frozen=True, slots=True)
class _Signing:
    """What the papers of one sign-off are made of."""

    tx: Database
    subject: Subject
    visit: Visit
    assessments: Sequence[Assessment]
    due: Sequence[Sequence[Due]]
    issued_at: dt.datetime
    quote_number: str


def _paper(signing: _Signing, kind: str) -> Issued:
    visit, subject, issued_at = signing.visit, signing.subject, signing.issued_at
    if kind == "quote":
        return bills.issue_quote_in(signing.tx, subject, visit.lines, issued_at=issued_at)
    if kind == "invoice":
        return bills.issue_invoice_in(
            signing.tx,
            subject,
            visit.lines,
            performed=visit.date,
            issued_at=issued_at,
            quote_number=signing.quote_number,
        )
    return issue(
        signing.tx,
        kind,
        subject,
        date=visit.date,
        issued_at=issued_at,
        facts_of=lambda head: record_facts(
            head,
            visit,
            signing.assessments,
            tables=tables_of(signing.tx.conn),
            business=subject.business,
            due=signing.due,
        ),
    )
