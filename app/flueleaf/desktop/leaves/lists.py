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
from flueleaf.desktop.words import _, _n
from flueleaf.operations.pages import DraftRow, DueRow, PaperRow, VisitRow

VISIT_COLUMNS = (
    Column(_("date"), "date"),
    Column(_("purpose"), stretch=True),
    Column(_("papers"), "soft"),
    Column(_("verdict"), "verdict"),
)
PAPER_COLUMNS = (
    Column(_("date"), "date"),
    Column(_("paper"), stretch=True),
    Column(_("number"), "soft"),
    Column(_("total"), "figure"),
)
DUE_COLUMNS = (Column(_("by"), "date"), Column(_("what"), stretch=True), Column(_("rule"), "soft"))
DRAFT_COLUMNS = (Column(_("date"), "date"), Column(_("what"), stretch=True), Column(_("missing"), "soft"))
PAYMENT_KEY, INVOICE_KEY, SENT_KEY = "Ctrl+Shift+M", "Ctrl+I", "Ctrl+Shift+T"
READY = {"visit": _("ready to sign off"), "quote": _("ready to seal")}
NAMED = 2  # things missing that a row names; the margin lists them all


def add_list(
    leaf: Leaf,
    name: str,
    columns: Sequence[Column],
    rows: Sequence[Row],
    *,
    title: str = "",
    empty: str = "",
    state: str = "",
    heads: bool = True,
) -> Section:
    """Add a section that holds one list, or the line that is said where there is nothing to list.

    Args:
        leaf: where it is added.
        name: the end of the object names, the same in every language.
        columns: what is shown of each row.
        rows: what is listed.
        title: the head, in the window's language; the name where none is given.
        empty: what is said without rows.
        state: the word at the end of the head; the count of the rows where none is given.
        heads: whether the columns have heads that are seen.
    """
    title, name = title or name, name.replace(" ", "_")
    section = leaf.add_section(Section(title, state or (str(len(rows)) if rows else ""), name=name))
    if not rows:
        section.add_widget(label(empty or _("none yet"), tone="soft", wrap=True))
        return section
    panel = RowsPanel(f"{leaf.objectName()}.{name}", title, columns, rows, heads=heads)
    panel.opened.connect(leaf.place_wanted)
    section.add_widget(panel)
    return section


def visit_rows(visits: Sequence[VisitRow]) -> list[Row]:
    """Return signed-off visits as rows that open them."""
    return [
        Row((long_date(v.date), joined(_(v.purpose), _(v.outcome)), ", ".join(v.papers), v.verdict),
            Place("visit", v.visit_id))
        for v in visits
    ]  # fmt: skip


def paper_rows(papers: Sequence[PaperRow], *, where: bool = False) -> list[Row]:
    """Return papers as rows that open them; ``where`` adds the customer."""
    return [
        Row((long_date(p.date), joined(_(p.kind), p.customer if where else ""), p.number, p.total),
            Place("paper", p.number))
        for p in papers
    ]  # fmt: skip


def due_rows(due: Sequence[DueRow], today: dt.date, *, where: bool = False) -> list[Row]:
    """Return due items as rows that open the appliance, else the premises; ``where`` adds the premises."""
    return [
        Row(
            (long_date(d.date), joined(_(d.what), d.premises if where else ""), _rule(d, today)), due_place(d)
        )
        for d in due
    ]


def draft_rows(drafts: Sequence[DraftRow]) -> list[Row]:
    """Return what is unfinished as rows that open it at what is missing."""
    return [
        Row(
            (long_date(d.date) if d.date else _("no date"), _(d.title), left_words(d)),
            Place(d.kind, d.key, at_missing=True),
        )
        for d in drafts
    ]


def left_words(draft: DraftRow) -> str:
    """Return what a draft lacks: the first things by name, then how many more."""
    if not draft.missing:
        return READY[draft.kind]
    named = ", ".join(_(one) for one in draft.missing[:NAMED])
    more = len(draft.missing) - NAMED
    return (
        _n("{named} and {count} more", "{named} and {count} more", more, named=named) if more > 0 else named
    )


def _rule(due: DueRow, today: dt.date) -> str:
    return _("{rule}, overdue", rule=_(due.rule)) if due.date < today else _(due.rule)


def joined(*parts: str) -> str:
    """Return what is known of several parts in one line."""
    return " · ".join(part for part in parts if part)


def due_place(due: DueRow) -> Place | None:
    """Return where a due item leads: the appliance, else the premises."""
    if due.appliance_id is not None:
        return Place("appliance", str(due.appliance_id))
    return Place("premises", str(due.premises_id)) if due.premises_id is not None else None
