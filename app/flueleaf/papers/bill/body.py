"""The body that quote and invoice share: lines, totals, VAT where there is any."""

from __future__ import annotations

from collections.abc import Sequence

from flueleaf.domain.words import sentence
from flueleaf.papers.band import content
from flueleaf.papers.bill.facts import Amount, Bill, Line, Vat
from flueleaf.papers.blocks import bullet, heading, paragraph
from flueleaf.papers.page import MEASURE, RIGHT, Sheet
from flueleaf.papers.table import GAP, Column, Row, draw_table
from flueleaf.papers.typeface import BODY, NAME, SMALL, STRONG, Type

_TOTALS_WIDTH = 262.0
_AMOUNT_WIDTH = 76.0
REVERSE_CHARGE = (
    "Reverse charge: the customer accounts for the VAT of £{amount} to HM Revenue and Customs. "
    "It is not part of the total of this paper."
)


def draw_lines(sheet: Sheet, bill: Bill) -> None:
    """Draw the lines. The column of rates is there only when the paper knows VAT."""
    rated = bill.vat is not None
    fixed = [
        Column("quantity", 44, "decimal"),
        Column("unit", 38),
        Column("price, £", 58, "decimal"),
        *([Column("VAT", 44, "right")] if rated else []),
        Column("amount, £", 62, "decimal"),
    ]
    room = MEASURE - sum(column.width + GAP for column in fixed)
    columns = [Column("work and materials", room), *fixed]
    draw_table(sheet, columns, [_line(line, rated) for line in bill.lines], title=sentence(bill.about))


def _line(line: Line, rated: bool) -> Row:
    rate = (line.vat,) if rated else ()
    said = content(line.text, BODY, *line.details)
    return Row((said, line.quantity, line.unit, line.unit_price, *rate, line.net))


def draw_totals(
    sheet: Sheet, bill: Bill, *, deductions: Sequence[Amount] = (), last: tuple[str, str]
) -> None:
    """Draw the sums at the right, ending in the one that counts.

    Args:
        deductions: what comes off the total.
        last: words and amount of the last line ("to pay", "1,882.44").
    """
    rows: list[tuple[str, str, Type]] = [(each.text, each.amount, BODY) for each in bill.adjustments]
    if bill.vat:
        rows.append(("net", bill.net, BODY))
        rows += _vat_rows(bill.vat)
    if deductions:
        rows.append(("total", bill.total, BODY))
        rows += [(each.text, each.amount, BODY) for each in deductions]
    rows.append((last[0], f"£{last[1]}", NAME))
    sheet.y += 6
    columns = (Column("", _TOTALS_WIDTH - _AMOUNT_WIDTH - GAP), Column("", _AMOUNT_WIDTH, "right"))
    draw_table(
        sheet,
        columns,
        [Row((content(text, type_), content(amount, type_))) for text, amount, type_ in rows],
        left=RIGHT - _TOTALS_WIDTH,
    )


def _vat_rows(vat: Vat) -> list[tuple[str, str, Type]]:
    if vat.reverse_charge:
        return [
            (f"VAT, reverse charge, of {row.net} at {row.rate}: {row.vat}", "—", BODY) for row in vat.rows
        ] + [("VAT charged here", vat.total, BODY)]
    rows = [(f"VAT {row.rate} of {row.net}", row.vat, BODY) for row in vat.rows]
    return rows if len(vat.rows) == 1 else [*rows, ("VAT together", vat.total, BODY)]


def draw_vat_note(sheet: Sheet, vat: Vat | None) -> None:
    """Draw the VAT numbers and the words of the reverse charge; nothing for a business that has no VAT."""
    if vat is None:
        return
    numbers = [f"VAT number {vat.number}"]
    if vat.customer_number:
        numbers.append(f"customer’s VAT number {vat.customer_number}")
    paragraph(sheet, ", ".join(numbers) + ".", SMALL)
    if vat.reverse_charge:
        paragraph(sheet, REVERSE_CHARGE.format(amount=vat.reverse_charge), STRONG)


def draw_list(sheet: Sheet, title: str, entries: Sequence[str]) -> None:
    """Draw a titled list, nothing when it is empty."""
    if not entries:
        return
    heading(sheet, title, keep=24)
    for entry in entries:
        bullet(sheet, entry)
