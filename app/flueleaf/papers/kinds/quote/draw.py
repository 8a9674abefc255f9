"""Draws the quote."""

from __future__ import annotations

from flueleaf.papers.bill.body import draw_lines, draw_list, draw_totals, draw_vat_note
from flueleaf.papers.blocks import (
    draw_texts,
    heading,
    letterhead,
    paragraph,
    party_lines,
    place_lines,
    side_by_side,
)
from flueleaf.papers.facts import Seals
from flueleaf.papers.kinds.quote.facts import Quote
from flueleaf.papers.page import Sheet, new_paper
from flueleaf.papers.text import day
from flueleaf.papers.typeface import BODY, STRONG, Type

TITLE = "Quote"
BINDING = (
    "This is an offer at a fixed price. Once you accept it, on or before {last}, it binds both sides: "
    "the work named here for the amount named here. After that day it lapses unless it is renewed in writing."
)


def draw(facts: Quote, seals: Seals) -> bytes:
    """Return the PDF of a quote.

    Raises:
        UserProblem: the logo is no readable PNG.
    """
    return new_paper(TITLE, facts.head, seals, lambda sheet: _draw(sheet, facts))


def _draw(sheet: Sheet, facts: Quote) -> None:
    head, bill = facts.head, facts.bill
    letterhead(sheet, TITLE, head)
    dates: list[tuple[str, Type]] = [
        (f"date {day(facts.date)}", BODY),
        (f"valid until {day(facts.valid_until)}", STRONG),
    ]
    places = place_lines(head.premises) if head.premises else []
    side_by_side(sheet, [("for", party_lines(head.customer)), ("premises", places), ("dates", dates)])
    sheet.y += 6 if bill.about else 14
    draw_lines(sheet, bill)
    draw_totals(sheet, bill, last=("total", bill.total))
    draw_vat_note(sheet, bill.vat)
    draw_list(sheet, "What this quote covers", facts.scope)
    draw_list(sheet, "What it does not cover", facts.not_in_scope)
    heading(sheet, "Accepting it", keep=36)
    paragraph(sheet, BINDING.format(last=day(facts.valid_until)))
    draw_texts(sheet, bill.texts)
