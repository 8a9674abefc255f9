"""The lists several leaves show: visits, papers, what is due."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.rows_table_model import Column, Row
from flueleaf.desktop.section import Section, label
from flueleaf.operations.pages import DraftRow, DueRow, PaperRow, VisitRow

VISIT_COLUMNS = (
    Column("date", "date"),
    Column("purpose", stretch=True),
    Column("papers", "soft"),
    Column("verdict", "verdict"),
)
PAPER_COLUMNS = (Column("date", "date"), Column("paper", stretch=True), Column("number", "soft"),
                 Column("total", "figure"))  # fmt: skip
DUE_COLUMNS = (Column("by", "date"), Column("what", stretch=True), Column("rule", "soft"))
DRAFT_COLUMNS = (Column("date", "date"), Column("what", stretch=True), Column("left", "soft"))
PAYMENT_KEY, INVOICE_KEY = "Ctrl+Shift+M", "Ctrl+I"
READY = {"visit": "ready to sign off", "quote": "ready to seal"}


def add_list(
    leaf: Leaf,
    title: str,
    columns: Sequence[Column],
    rows: Sequence[Row],
    *,
    empty: str = "",
    state: str = "",
) -> Section:
    """Add a section that holds one list, or the line that is said where there is nothing to list."""
    section = leaf.add_section(Section(title, state or (str(len(rows)) if rows else "")))
    if not rows:
        section.add_widget(label(empty or "none yet", tone="soft", wrap=True))
        return section
    panel = RowsPanel(f"{leaf.objectName()}.{title.replace(' ', '_')}", title, columns, rows)
    panel.opened.connect(leaf.place_wanted)
    section.add_widget(panel)
    return section


def visit_rows(visits: Sequence[VisitRow]) -> list[Row]:
    """Return signed-off visits as rows that open them."""
    return [
        Row((long_date(v.date), _joined(v.purpose, v.outcome), ", ".join(v.papers), v.verdict),
            Place("visit", v.visit_id))
        for v in visits
    ]  # fmt: skip


def paper_rows(papers: Sequence[PaperRow], *, where: bool = False) -> list[Row]:
    """Return papers as rows that open them; ``where`` adds the customer."""
    return [
        Row((long_date(p.date), _joined(p.kind, p.customer if where else ""), p.number, p.total),
            Place("paper", p.number))
        for p in papers
    ]  # fmt: skip


def due_rows(due: Sequence[DueRow], today: dt.date, *, where: bool = False) -> list[Row]:
    """Return due items as rows that open the appliance, else the premises; ``where`` adds the premises."""
    return [
        Row((long_date(d.date), _joined(d.what, d.premises if where else ""), _rule(d, today)), due_place(d))
        for d in due
    ]


def draft_rows(drafts: Sequence[DraftRow]) -> list[Row]:
    """Return what is unfinished as rows that open it where it was left."""
    return [
        Row((long_date(d.date) if d.date else "no date", d.title, left_words(d)), Place(d.kind, d.key))
        for d in drafts
    ]


def left_words(draft: DraftRow) -> str:
    """Return how far a draft is from being sealed."""
    if draft.missing:
        return f"{len(draft.missing)} left"
    return READY[draft.kind]


def _rule(due: DueRow, today: dt.date) -> str:
    return f"{due.rule}, overdue" if due.date < today else due.rule


def _joined(*parts: str) -> str:
    return " · ".join(part for part in parts if part)


def due_place(due: DueRow) -> Place | None:
    """Return where a due item leads: the appliance, else the premises."""
    if due.appliance_id is not None:
        return Place("appliance", str(due.appliance_id))
    return Place("premises", str(due.premises_id)) if due.premises_id is not None else None
