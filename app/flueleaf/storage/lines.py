"""The lines of a visit, a quote or an invoice."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from flueleaf.domain.money.lines import Line
from flueleaf.storage.rows import decimal_of, decimal_text, insert

if TYPE_CHECKING:
    from sqlite_utils import Database

Owner = Literal["visit_ref", "quote_ref", "invoice_ref"]


def add_lines(tx: Database, owner: Owner, owner_id: int, lines: Sequence[Line]) -> None:
    """Add lines in their order."""
    for position, line in enumerate(lines):
        row = {
            owner: owner_id,
            "position": position,
            "text": line.text,
            "quantity": decimal_text(line.quantity),
            "unit": line.unit,
            "unit_price": decimal_text(line.unit_price),
            "base_quantity": decimal_text(line.base_quantity),
            "discount_pct": decimal_text(line.discount_pct),
            "discount_amount": decimal_text(line.discount_amount),
            "surcharge_amount": decimal_text(line.surcharge_amount),
            "vat_pct": decimal_text(line.vat_pct),
            "vat_category": line.vat_category,
            "labour": int(line.labour),
        }
        insert(tx, "work_line", row)


def lines_of_owner(con: sqlite3.Connection, owner: Owner, owner_id: int) -> tuple[Line, ...]:
    """Return the lines in their order."""
    found = con.execute(f"SELECT * FROM work_line WHERE {owner} = ? ORDER BY position", (owner_id,))
    return tuple(_line_of(row) for row in found)


def _line_of(row: sqlite3.Row) -> Line:
    return Line(
        text=row["text"],
        quantity=Decimal(row["quantity"]),
        unit=row["unit"],
        unit_price=Decimal(row["unit_price"]),
        base_quantity=Decimal(row["base_quantity"]),
        discount_pct=Decimal(row["discount_pct"]),
        discount_amount=Decimal(row["discount_amount"]),
        surcharge_amount=Decimal(row["surcharge_amount"]),
        vat_pct=decimal_of(row["vat_pct"]),
        vat_category=row["vat_category"],
        labour=bool(row["labour"]),
    )
