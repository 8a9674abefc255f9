"""What only Tonight lists: what is due in the next weeks, and who owes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.leaves.lists import due_place, joined
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_table_model import Column, Row
from flueleaf.desktop.words import _, _n
from flueleaf.operations.pages import DueRow, OwingRow

COMING_COLUMNS = (
    Column(_("when"), "group"),
    Column(_("by"), "date"),
    Column(_("what"), stretch=True),
    Column(_("rule"), "soft"),
)
OWING_COLUMNS = (
    Column(_("due"), "date"),
    Column(_("customer"), stretch=True),
    Column(_("invoice"), "soft"),
    Column(_("late"), "soft"),
    Column(_("owing"), "figure"),
)


def coming_rows(due: Sequence[DueRow], today: dt.date) -> list[Row]:
    """Return what is due, with its week, as rows that open the appliance."""
    return [
        Row(
            (
                week_words(one.date, today),
                long_date(one.date),
                joined(_(one.what), one.premises),
                _(one.rule),
            ),
            due_place(one),
        )
        for one in due
    ]


def week_words(date: dt.date, today: dt.date) -> str:
    """Return the week a date falls into, counted from Monday; what is over is overdue."""
    if date < today:
        return _("overdue")
    monday = today - dt.timedelta(days=today.weekday())
    weeks = (date - monday).days // 7
    if weeks == 0:
        return _("this week")
    if weeks == 1:
        return _("next week")
    return _n("in {count} week", "in {count} weeks", weeks)


def owing_rows(owing: Sequence[OwingRow]) -> list[Row]:
    """Return the invoices not paid in full, as rows that note a payment."""
    return [
        Row(
            (
                long_date(row.due),
                row.customer,
                row.number,
                _n("{count} day late", "{count} days late", row.overdue_days) if row.overdue_days > 0 else "",
                row.owing,
            ),
            Place("payment", row.number),
        )
        for row in owing
    ]
