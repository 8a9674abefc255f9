"""What papers are put together from: letterhead, headings, paragraphs, columns of facts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from flueleaf.papers.band import Cell, Content, draw_band
from flueleaf.papers.facts import Business, Head, Party, Place
from flueleaf.papers.page import HAIRLINE, LEFT, MEASURE, RIGHT, Sheet
from flueleaf.papers.text import moment, wrap
from flueleaf.papers.typeface import ASIDE, BODY, HEADING, LABEL, NAME, SMALL, STRONG, TITLE, Type

_LOGO_BOX = (150.0, 46.0)
_SENDER_WIDTH = 230.0
_COLUMN_GAP = 20.0


def letterhead(sheet: Sheet, title: str, head: Head, *, intro: str = "") -> None:
    """Draw who issues the paper, its title and number, and a sentence on what it is.

    Raises:
        UserProblem: the logo is no readable PNG.
    """
    business = head.business
    top = sheet.y
    logo = 0.0
    if business.logo_png:
        logo = sheet.image(business.logo_png, "logo", x=LEFT, y=top, box=_LOGO_BOX)
    left = RIGHT - _SENDER_WIDTH
    _right_block(sheet, left, _sender(business))
    sheet.y = max(sheet.y, top + logo) + 16
    _title(sheet, title, head)
    if intro:
        paragraph(sheet, intro, ASIDE)
    sheet.y += 6


def _sender(business: Business) -> list[tuple[str, Type]]:
    said = [(business.trading_name or business.name, NAME)]
    if business.trading_name and business.trading_name != business.name:
        said.append((business.name, BODY))
    said.append((address_line(business.address, business.postcode), SMALL))
    said.append(("  ·  ".join(part for part in (business.telephone, business.email) if part), SMALL))
    if business.registration:
        said.append((f"registration number {business.registration}", SMALL))
    return said


def _right_block(sheet: Sheet, left: float, said: Iterable[tuple[str, Type]]) -> None:
    draw_band(sheet, [Cell(left, RIGHT - left, Content(tuple(said)), "right")])


def _title(sheet: Sheet, title: str, head: Head) -> None:
    start = sheet.y
    notes: list[tuple[str, Type]] = [(head.number, NAME), (f"issued {moment(head.issued_at)}", SMALL)]
    if head.replaces:
        notes.append((f"replaces {head.replaces}, which no longer counts", SMALL))
    sheet.write(LEFT, start + 21, title, TITLE)
    sheet.y = start + 8
    _right_block(sheet, LEFT + 250, notes)
    sheet.y = max(sheet.y, start + 30) + 4
    sheet.rule(sheet.y, weight=HAIRLINE)
    sheet.y += 7


def address_line(address: Sequence[str], postcode: str) -> str:
    """Return an address on one line."""
    return ", ".join(part for part in (*address, postcode) if part)


def party_lines(party: Party) -> list[tuple[str, Type]]:
    """Return the customer's name, address and ways to reach them."""
    lines: list[tuple[str, Type]] = [(party.name, STRONG)]
    lines += [(line, BODY) for line in (*party.address, party.postcode) if line]
    lines += [(line, SMALL) for line in (party.telephone, party.email) if line]
    return lines


def place_lines(place: Place) -> list[tuple[str, Type]]:
    """Return the premises' address and the responsible person."""
    lines: list[tuple[str, Type]] = [(line, BODY) for line in (*place.address, place.postcode) if line]
    if place.responsible:
        lines.append((f"responsible person: {place.responsible}", SMALL))
    return lines


def side_by_side(sheet: Sheet, blocks: Sequence[tuple[str, Sequence[tuple[str, Type]]]]) -> None:
    """Draw titled blocks of text beside each other; one without text is left out, the rest close up."""
    filled = [(title, texts) for title, texts in blocks if texts]
    if not filled:
        return
    room = (MEASURE - _COLUMN_GAP * (len(filled) - 1)) / len(filled)
    cells = [
        Cell(LEFT + at * (room + _COLUMN_GAP), room, Content(((title, LABEL), *texts)))
        for at, (title, texts) in enumerate(filled)
    ]
    draw_band(sheet, cells)


def heading(sheet: Sheet, text: str, *, keep: float = 44) -> None:
    """Draw a heading; ``keep`` is the height that must follow on the same page."""
    sheet.need(10 + HEADING.leading + keep)
    if not sheet.at_top:
        sheet.y += 9
    draw_band(sheet, [Cell(LEFT, MEASURE, Content(((text, HEADING),)))], below=2.5)


def paragraph(
    sheet: Sheet, text: str, type_: Type = BODY, *, width: float = MEASURE, below: float = 3
) -> None:
    """Draw a paragraph, split over pages where it must be."""
    draw_band(sheet, [Cell(LEFT, width, Content(((text, type_),)))], below=below)


def bullet(sheet: Sheet, text: str, *, note: str = "") -> None:
    """Draw an entry of a list behind a dash."""
    parts = ((text, BODY),) + (((note, SMALL),) if note else ())
    draw_band(
        sheet,
        [Cell(LEFT, 10, Content((("–", BODY),))), Cell(LEFT + 11, MEASURE - 11, Content(parts))],
        below=1.5,
    )


def draw_texts(sheet: Sheet, texts: Sequence[str]) -> None:
    """Draw the owner's blocks of text."""
    if texts:
        sheet.y += 8
    for text in texts:
        paragraph(sheet, text, BODY, width=MEASURE * 0.86, below=6)


def text_height(text: str, type_: Type, width: float = MEASURE) -> float:
    """Return the height a text will take."""
    return len(wrap(text, width, type_)) * type_.leading
