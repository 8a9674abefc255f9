"""Draws the invoice."""

from __future__ import annotations

from flueleaf.papers.bill.body import draw_lines, draw_totals, draw_vat_note
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
from flueleaf.papers.kinds.invoice.facts import Invoice
from flueleaf.papers.page import Sheet, new_paper
from flueleaf.papers.text import day
from flueleaf.papers.typeface import BODY, STRONG, Type

TITLE = "Invoice"


def draw(facts: Invoice, seals: Seals) -> bytes:
    """Return the PDF of an invoice.

    Raises:
        UserProblem: the logo is no readable PNG.
    """
    return new_paper(TITLE, facts.head, seals, lambda sheet: _draw(sheet, facts))


def _draw(sheet: Sheet, facts: Invoice) -> None:
    head, bill = facts.head, facts.bill
    letterhead(sheet, TITLE, head)
    places = place_lines(head.premises) if head.premises else []
    side_by_side(sheet, [("to", party_lines(head.customer)), ("work at", places), ("dates", _dates(facts))])
    sheet.y += 6 if bill.about else 14
    draw_lines(sheet, bill)
    draw_totals(sheet, bill, deductions=facts.deductions, last=("to pay", facts.payable))
    draw_vat_note(sheet, bill.vat)
    _draw_payment(sheet, facts)
    draw_texts(sheet, bill.texts)


def _dates(facts: Invoice) -> list[tuple[str, Type]]:
    said: list[tuple[str, Type]] = [(f"invoice date {day(facts.date)}", BODY)]
    if facts.bill.vat and facts.tax_point:
        said.append((f"tax point {day(facts.tax_point)}", BODY))
    if facts.performed:
        said.append((f"work done {day(facts.performed)}", BODY))
    if facts.quote_number:
        said.append((f"quote {facts.quote_number}", BODY))
    return [*said, (f"due {day(facts.due)}", STRONG)]


def _draw_payment(sheet: Sheet, facts: Invoice) -> None:
    heading(sheet, "Payment", keep=50)
    paragraph(sheet, f"Please pay £{facts.payable} by {day(facts.due)}.")
    bank: list[tuple[str, Type]] = []
    if facts.bank:
        bank = [
            (facts.bank.account_name, STRONG),
            (f"sort code {facts.bank.sort_code}", BODY),
            (f"account {facts.bank.account_number}", BODY),
        ]
    reference: list[tuple[str, Type]] = []
    if facts.payment_reference:
        reference = [(facts.payment_reference, STRONG)]
    side_by_side(sheet, [("to the account of", bank), ("with the reference", reference)])
