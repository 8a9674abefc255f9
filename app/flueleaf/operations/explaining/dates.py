"""How a due date, and the days a bill is late, were counted."""

from __future__ import annotations

import datetime as dt

from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import as_kept, lines, said
from flueleaf.operations.explaining.explanation import Explanation, Given
from flueleaf.operations.page_records import DueRow, InvoicePage
from flueleaf.storage.tables.schedule import due_rules

DUE_CAUTION = said(
    "The date follows a rule, not the state of the appliance. An earlier check is never wrong."
)
LATE_CAUTION = said(
    "Counted to today. Payments noted after the day they came in still count from their own day."
)
FACTS = {
    "checked": said("checked"),
    "installed": said("installed"),
    "known": said("known"),
    "completed": said("completed"),
}


def explain_due(row: DueRow) -> Explanation:
    """Return how a due date came about: its rule, and the day it was counted from."""
    rule = due_rules().get(row.rule)
    formula: list[str] = [
        said("The day the rule counts from, plus its interval; a month too short ends on its last day.")
    ]
    source = ""
    inputs = [Given(said("what"), row.what, row.premises), Given(said("rule"), as_kept(row.rule))]
    if rule is not None:
        parts = [said("{n} months", n=rule.months)] if rule.months else []
        parts += [said("{n} days", n=rule.days)] if rule.days else []
        interval = lines(parts, between=" + ")
        formula.append(said("due = day {fact} + {interval}", fact=FACTS[rule.counts_from], interval=interval))
        if rule.window_months:
            formula.append(
                said(
                    "done within {n} months before the deadline, the anniversary stays", n=rule.window_months
                )
            )
        inputs.append(Given(said("interval"), interval))
        source = said("{source}; {checked}.", source=rule.source, checked=said(rule.checked))
    return Explanation(
        key=f"due.{row.rule}.{row.appliance_id or row.premises_id or 0}",
        title=said("{rule}, {what}", rule=as_kept(row.rule), what=row.what),
        formula=tuple(formula),
        inputs=tuple(inputs),
        steps=(row.why,) if row.why else (),
        result=in_words(row.date),
        source=source,
        caution=DUE_CAUTION,
    )


def _late_by(due: dt.date, today: dt.date) -> str:
    words = {"today": in_words(today), "due": in_words(due)}
    if today <= due:
        return said("{today} is not after {due}: none", **words)
    return said("{today} − {due} = {days}, in days", **words, days=(today - due).days)


def explain_late(bill: InvoicePage, today: dt.date) -> Explanation:
    """Return how many days a bill is late, as the page says."""
    return Explanation(
        key="bill.overdue",
        title=said("days overdue"),
        formula=(
            said("Days since the last day of payment in time; none up to it, none once all is paid."),
            said("late = today − due"),
        ),
        inputs=(
            Given(said("due"), in_words(bill.due)),
            Given(said("today"), in_words(today)),
            Given(said("owing"), bill.owing.with_sign()),
        ),
        steps=(_late_by(bill.due, today),),
        result=str(bill.overdue_days),
        source=said("The last day of payment is the day of issue plus the days your business gives."),
        caution=LATE_CAUTION,
    )
