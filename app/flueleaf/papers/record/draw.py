"""Draws a record: the visit, appliance by appliance, and who stands for it."""

from __future__ import annotations

from collections.abc import Sequence

from flueleaf.domain.words import sentence
from flueleaf.papers.band import Cell, Content, draw_band
from flueleaf.papers.blocks import (
    bullet,
    draw_texts,
    heading,
    letterhead,
    party_lines,
    place_lines,
    side_by_side,
)
from flueleaf.papers.facts import Seals
from flueleaf.papers.page import LEFT, MEASURE, RIGHT, Sheet, new_paper
from flueleaf.papers.record.appliance import draw_appliance, draw_supply
from flueleaf.papers.record.facts import Record, SignOff, Work
from flueleaf.papers.record.findings import (
    draw_cautions,
    draw_checks,
    draw_close_up,
    draw_defects,
    draw_due,
    draw_gaps,
    draw_gone_past,
    draw_noted,
)
from flueleaf.papers.record.readings import draw_readings
from flueleaf.papers.record.verdicts import draw_doubts, draw_verdicts
from flueleaf.papers.text import day
from flueleaf.papers.typeface import BODY, LABEL, STRONG, Type

DEFERENCE = (
    "It says what was measured and against which limit. It does not certify that an appliance is safe: that "
    "judgement is the registered engineer’s, and the maker’s instructions, the current standard and the law "
    "of the place come before anything printed here."
)
_SIGNATURE_BOX = (130.0, 34.0)
_SIGNED = {
    "signed": "has signed.",
    "signed on paper": "has signed, on paper.",
    "not present": "was not present; nobody signed for the customer.",
    "refused": "was asked to sign and refused.",
}


def draw_record(facts: Record, seals: Seals, *, title: str, opening: str) -> bytes:
    """Return the PDF of a record.

    Args:
        title: the kind's title; opening: the kind's sentence on what the paper is.

    Raises:
        UserProblem: logo or signature is no readable PNG.
    """

    def body(sheet: Sheet) -> None:
        letterhead(sheet, title, facts.head, intro=f"{opening} {DEFERENCE}")
        _draw_visit(sheet, facts)
        shared = _shared_cautions(facts.works)
        for number, work in enumerate(facts.works, start=1):
            _draw_work(sheet, work, number if len(facts.works) > 1 else None)
            draw_cautions(sheet, "Cautions", [each for each in work.cautions if each not in shared])
        _draw_end(sheet, facts, shared)

    return new_paper(title, facts.head, seals, body)


def _draw_visit(sheet: Sheet, facts: Record) -> None:
    head = facts.head
    visit: list[tuple[str, Type]] = [(sentence(facts.purpose), STRONG), (day(facts.date), BODY)]
    if facts.arrived or facts.left:
        times = [f"arrived {facts.arrived}"] if facts.arrived else []
        times += [f"left {facts.left}"] if facts.left else []
        visit.append((", ".join(times), BODY))
    places = place_lines(head.premises) if head.premises else []
    side_by_side(sheet, [("premises", places), ("customer", party_lines(head.customer)), ("visit", visit)])


def _draw_work(sheet: Sheet, work: Work, number: int | None) -> None:
    draw_appliance(sheet, work, number)
    draw_defects(sheet, work.defects)
    draw_supply(sheet, work)
    draw_readings(sheet, work)
    draw_verdicts(sheet, work)
    draw_doubts(sheet, work)
    draw_gaps(sheet, work)
    draw_gone_past(sheet, work)
    draw_checks(sheet, "Checks", work.checks)
    draw_noted(sheet, work.noted)
    draw_checks(sheet, "Examined after the work", work.examined)
    draw_close_up(sheet, work.close_up)
    draw_due(sheet, work.due)


def _shared_cautions(works: Sequence[Work]) -> list[str]:
    """Return the cautions that hold for every one of several appliances: they are printed once."""
    if len(works) < 2:
        return []
    return [each for each in works[0].cautions if all(each in work.cautions for work in works)]


def _draw_end(sheet: Sheet, facts: Record, shared: Sequence[str]) -> None:
    if facts.notes:
        heading(sheet, "Notes", keep=16)
        for note in facts.notes:
            bullet(sheet, note)
    draw_cautions(sheet, "Cautions for the whole visit", list(dict.fromkeys([*shared, *facts.cautions])))
    if facts.sign_off:
        _draw_sign_off(sheet, facts.sign_off, facts.head.business.signature_png)
    draw_texts(sheet, facts.texts)


def _draw_sign_off(sheet: Sheet, sign_off: SignOff, signature_png: str) -> None:
    heading(sheet, "Sign-off", keep=_SIGNATURE_BOX[1] + 40)
    half = (MEASURE - 24) / 2
    engineer: list[tuple[str, Type]] = [("engineer", LABEL)]
    if sign_off.engineer:
        engineer.append((sign_off.engineer, STRONG))
    if sign_off.registration:
        engineer.append((f"registration number {sign_off.registration}", BODY))
    customer: list[tuple[str, Type]] = [("for the customer", LABEL)]
    if sign_off.customer_name:
        customer.append((sign_off.customer_name, STRONG))
    if sign_off.customer:
        customer.append((_SIGNED.get(sign_off.customer, sign_off.customer), BODY))
    top = sheet.y
    if signature_png:
        sheet.image(signature_png, "signature", x=LEFT, y=top, box=_SIGNATURE_BOX)
    sheet.y = top + _SIGNATURE_BOX[1] + 3
    sheet.rule(sheet.y, x2=LEFT + half)
    sheet.rule(sheet.y, x1=RIGHT - half)
    sheet.y += 2
    cells = [Cell(LEFT, half, Content(tuple(engineer))), Cell(RIGHT - half, half, Content(tuple(customer)))]
    draw_band(sheet, cells)
