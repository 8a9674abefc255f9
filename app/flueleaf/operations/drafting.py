"""A visit still being typed: begun from what the book knows, kept, judged live, signed off."""

from __future__ import annotations

import datetime as dt
import json
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from flueleaf.domain.judging.assessment import Assessment
from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.judging.comparable import Taken
from flueleaf.domain.problems import Fault
from flueleaf.domain.records.register import Appliance, Instrument, PremisesId
from flueleaf.domain.records.visits import Purpose, Visit
from flueleaf.operations import assessing, kept, visits
from flueleaf.operations.changes import Changes
from flueleaf.operations.drifts import taken_before
from flueleaf.operations.intake import documents
from flueleaf.operations.intake.visit import peek_visit, read_visit
from flueleaf.operations.tables import Tables, choices_of, of_book, shipped
from flueleaf.storage import listing, register
from flueleaf.storage import visits as stored
from flueleaf.storage.book import Book

KIND = "visit"
LastHeat = stored.LastHeat


@dataclass(frozen=True, slots=True)
class Past:
    """What the book knows of the appliances of a draft.

    Attributes:
        visits: earlier visits of each work, latest first.
        answers: of each work, the checks of its latest visit; None where there were none.
        known: of each work, the appliance as the book has it; None where it is new.
        heats: of each work, the calorific value its gas was last rated with; None where there is none.
        tables: what judging rests on in the book.
        taken: of each work, every earlier slip at its flue, oldest first, in which a drift is looked for.
    """

    visits: tuple[tuple[PreviousVisit, ...], ...] = ()
    answers: tuple[stored.LastAnswers | None, ...] = ()
    known: tuple[Appliance | None, ...] = ()
    heats: tuple[LastHeat | None, ...] = ()
    taken: tuple[tuple[Taken, ...], ...] = ()
    tables: Tables = field(default_factory=shipped)


@dataclass(frozen=True, slots=True)
class Judgement:
    """What can be said of a draft.

    Attributes:
        visit: what could be read of it.
        assessments: of each work.
        faults: fields whose text is not accepted, or that are needed and empty, by path.
        blocks: what else stands in the way of sign-off, by path.
        document, past: what was judged, and with what known of earlier; {} where that was not kept.
    """

    visit: Visit
    assessments: tuple[Assessment, ...]
    faults: tuple[Fault, ...]
    blocks: tuple[Fault, ...]
    document: Mapping[str, Any] = field(default_factory=dict)
    past: Past | None = None

    @property
    def ready(self) -> bool:
        """Whether nothing stands in the way of sign-off."""
        return not self.faults and not self.blocks


def begin(
    book: Book,
    *,
    today: dt.date,
    purpose: Purpose = "service",
    premises_id: int | None = None,
    appliance_ids: Sequence[int] = (),
) -> dict[str, Any]:
    """Return the document of a new visit, filled with what the book knows; plate data, never readings."""
    document: dict[str, Any] = {
        "visit_id": str(uuid.uuid4()),
        "purpose": purpose,
        "date": today.isoformat(),
        "customer": {},
        "premises": {},
        "works": [],
    }
    appliances: list[Appliance] = []
    if premises_id is not None:
        premises = register.premises(book.con, PremisesId(premises_id))
        document["premises"] = documents.premises_document(premises)
        assert premises.customer_id is not None
        customer = register.customer(book.con, premises.customer_id)
        document["customer"] = documents.customer_document(customer)
        appliances = list(register.appliances_of(book.con, PremisesId(premises_id)))
        if appliance_ids:
            appliances = [appliance for appliance in appliances if appliance.id in appliance_ids]
    instrument = _usual_instrument(book)
    document["works"] = [_work(appliance, instrument) for appliance in appliances]
    if not appliances and instrument:  # the appliance is new, the analyser is not
        document["works"] = [_measured_with(instrument)]
    return document


def _work(appliance: Appliance, instrument: Instrument | None) -> dict[str, Any]:
    return {"appliance": documents.appliance_document(appliance), **_measured_with(instrument)}


def _measured_with(instrument: Instrument | None) -> dict[str, Any]:
    return {"instrument": documents.instrument_document(instrument)} if instrument else {}


def _usual_instrument(book: Book) -> Instrument | None:
    """Return the analyser used last, else the first known."""
    return listing.usual_instrument(book.con)


def keep(
    book: Book,
    document: Mapping[str, Any],
    *,
    at: str = "",
    quote_number: str = "",
    begun: Sequence[Sequence[Mapping[str, Any]]] = (),
) -> Changes:
    """Keep a draft as it stands; returns once it is on the disk.

    Args:
        book: the book.
        document: the visit as typed.
        at: the name of the field the cursor is in, so that the draft can be reopened there.
        quote_number: the quote its lines came from, "" if none.
        begun: work by work, the slips begun without a reading; they are no part of the document.
    """
    told = json.dumps(begun) if any(begun) else ""
    beside = {kept.AT: at, kept.QUOTE: quote_number, kept.BEGUN: told}
    return kept.keep(book, KIND, str(document["visit_id"]), document, beside)


def load(book: Book, visit_id: str) -> dict[str, Any] | None:
    """Return a kept draft, or None. Numbers come back as decimals or decimal strings with their digits."""
    return kept.load(book, KIND, visit_id)


def with_begun(book: Book, document: Mapping[str, Any]) -> dict[str, Any]:
    """Return a kept draft with the slips that were begun without a reading, so that they are shown again."""
    told = kept.beside(book, KIND, str(document["visit_id"]), kept.BEGUN)
    works = list(document.get("works", ()))
    for number, slips in enumerate(json.loads(told) if told else ()):
        if slips and number < len(works):
            works[number] = {**works[number], "slips": [*works[number].get("slips", ()), *slips]}
    return {**document, "works": works}


def left_at(book: Book, visit_id: str) -> str:
    """Return the name of the field the cursor was in when a draft was kept last, "" if that is not known."""
    return kept.beside(book, KIND, visit_id, kept.AT)


def quote_of(book: Book, visit_id: str) -> str:
    """Return the number of the quote a draft's lines came from, "" if they came from none."""
    return kept.beside(book, KIND, visit_id, kept.QUOTE)


def others_here(book: Book, document: Mapping[str, Any]) -> tuple[dict[str, Any], ...]:
    """Return works for the known appliances of a draft's premises that it does not hold yet."""
    visit, _ = peek_visit({**document, "works": []}, choices=choices_of(of_book(book)), today=dt.date.max)
    premises = register.find_premises(book.con, visit.premises.address, visit.premises.postcode)
    if premises is None or premises.id is None:
        return ()
    plates = [work.get("appliance", {}) for work in document.get("works", ())]
    there = {(plate.get("serial", ""), plate.get("kind"), plate.get("location", "")) for plate in plates}
    instrument = _usual_instrument(book)
    return tuple(
        _work(one, instrument)
        for one in register.appliances_of(book.con, premises.id)
        if (one.serial, one.kind, one.location) not in there
    )


def put_away(book: Book, visit_id: str) -> Changes:
    """Put a draft away; the change can be taken back until the next draft is put away."""
    return kept.put_away(book, KIND, visit_id)


def look_back(book: Book, document: Mapping[str, Any]) -> Past:
    """Return the earlier visits of a draft's appliances, as far as the book knows them."""
    tables = of_book(book)
    visit, _ = peek_visit(document, choices=choices_of(tables), today=dt.date.max)
    con, works = book.con, visit.works
    known = tuple(visits.known_appliance(con, visit, work) for work in works)
    return Past(
        tuple(visits.previous_visits(con, visit, work) for work in works),
        tuple(visits.last_answers(con, visit, work) for work in works),
        known,
        tuple(stored.last_heat(con, work.appliance.fuel, visit.date) for work in works),
        tuple(taken_before(con, appliance, visit.date) for appliance in known),
        tables=tables,
    )


def judge(
    document: Mapping[str, Any], past: Past, *, today: dt.date, before: Judgement | None = None
) -> Judgement:
    """Return what can be said of a draft; reads nothing from the book.

    Args:
        document: the draft.
        past: what the book knows of its appliances.
        today: no visit may be later.
        before: an earlier judgement of the draft; an appliance that nothing changed for keeps its verdict.
    """
    tables = past.tables
    visit, faults = peek_visit(document, choices=choices_of(tables), today=today)
    earlier = past.visits if len(past.visits) == len(visit.works) else ((),) * len(visit.works)
    kept = _kept_assessments(document, past, before)
    assessments = tuple(
        kept.get(n) or assessing.assess_work(visit, work, visits_before, tables)
        for n, (work, visits_before) in enumerate(zip(visit.works, earlier, strict=True))
    )
    blocks = tuple(visits.blocks(visit, assessments))
    return Judgement(visit, assessments, faults, blocks, document, past)


def _kept_assessments(
    document: Mapping[str, Any], past: Past, before: Judgement | None
) -> dict[int, Assessment]:
    """Return by number the verdicts of an earlier judgement that still hold.

    The documents are compared, not what was read of them: 4.8 and 4.80 are one number, and two resolutions.
    """
    if before is None or before.past is not past:
        return {}
    same_day = all(document.get(key) == before.document.get(key) for key in ("date", "purpose"))
    works, works_before = document.get("works", ()), before.document.get("works", ())
    if not same_day or len(works) != len(works_before):
        return {}
    pairs = zip(works, works_before, before.assessments, strict=True)
    return {n: found for n, (now, then, found) in enumerate(pairs) if now == then}


def sign_off(
    book: Book, document: Mapping[str, Any], *, issued_at: dt.datetime, today: dt.date, quote_number: str = ""
) -> visits.Signed:
    """Sign off a draft: strictly read, judged, sealed; the draft goes in the same transaction.

    Raises:
        Refused: naming what stands in the way, by path.
    """
    visit = read_visit(document, choices=choices_of(of_book(book)), today=today, typed=True)
    with book.writing() as tx:
        signed = visits.sign_off_in(tx, visit, issued_at=issued_at, quote_number=quote_number)
        kept.drop_in(tx, KIND, visit.visit_id)
    return signed


def stored_visit(book: Book, visit_id: str) -> stored.StoredVisit:
    """Return a signed-off visit with its frozen verdicts."""
    return stored.stored_visit(book.con, visit_id)
