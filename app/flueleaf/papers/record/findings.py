"""What was found beside the readings: gaps, defects, checks, close-up, dates that follow, cautions."""

from __future__ import annotations

from collections.abc import Sequence

from flueleaf.domain.words import sentence
from flueleaf.papers.band import content
from flueleaf.papers.blocks import bullet, heading
from flueleaf.papers.page import Sheet
from flueleaf.papers.record.facts import Check, CloseUp, Defect, Due, Noted, Work
from flueleaf.papers.table import Column, Row, draw_table
from flueleaf.papers.text import chemical, day
from flueleaf.papers.typeface import BODY, STRONG, Type

_CLOSE_UP = {
    "refitted": "opened, and refitted after the reading",
    "not refitted": "opened and not refitted",
    "not sure": "opened; the engineer is not sure that it was refitted",
    "not opened": "not opened",
}


def draw_gaps(sheet: Sheet, work: Work) -> None:
    """Draw what could not be measured, with the reason, and what is missing without one."""
    if not work.not_measured and not work.missing:
        return
    heading(sheet, "Not measured", keep=24)
    for gap in work.not_measured:
        bullet(sheet, f"{sentence(gap.point)}, {gap.rate}: {chemical(gap.reason)}")
    for missing in work.missing:
        bullet(sheet, f"Missing: {chemical(missing)}")


def draw_gone_past(sheet: Sheet, work: Work) -> None:
    """Draw the steps that did not go well and were gone past, with the engineer's reason."""
    if not work.gone_past:
        return
    heading(sheet, "Gone on all the same", keep=24)
    for each in work.gone_past:
        bullet(sheet, f"{sentence(each.step)}: {chemical(each.reason)}")


def draw_defects(sheet: Sheet, defects: Sequence[Defect]) -> None:
    """Draw the defects with the class the engineer gave them."""
    if not defects:
        return
    columns = (Column("defect", 214), Column("class", 84), Column("what was done", 159))
    rows = [
        Row(
            (
                chemical(each.text),
                content(each.defect_class, STRONG),
                chemical(each.action) or "nothing entered",
            )
        )
        for each in defects
    ]
    draw_table(sheet, columns, rows, title="Defects")


def draw_checks(sheet: Sheet, title: str, checks: Sequence[Check]) -> None:
    """Draw questions and answers; "no" is set off by its weight."""
    if not checks:
        return
    columns = (Column("", 386), Column("answer", 80))
    rows = [
        Row(
            (
                content(chemical(check.question), BODY, chemical(check.note)),
                content(check.answer, _weight(check)),
            )
        )
        for check in checks
    ]
    draw_table(sheet, columns, rows, title=title)


def draw_noted(sheet: Sheet, noted: Sequence[Noted]) -> None:
    """Draw what was written down; the heading of a group stands at its first line."""
    if not noted:
        return
    columns = (Column("", 110), Column("", 160), Column("", 187))
    before = ["", *(each.group for each in noted)]
    rows = [
        Row(
            (
                content(sentence(each.group) if each.group != last else "", STRONG),
                sentence(chemical(each.label)),
                chemical(each.text),
            )
        )
        for last, each in zip(before, noted, strict=False)
    ]
    draw_table(sheet, columns, rows, title="Written down")


def _weight(check: Check) -> Type:
    return STRONG if check.answer == "no" else BODY


def draw_close_up(sheet: Sheet, points: Sequence[CloseUp]) -> None:
    """Draw what became of each test point."""
    if not points:
        return
    columns = (Column("", 150), Column("", 316))
    rows = []
    for each in points:
        type_ = BODY if each.state in ("refitted", "not opened") else STRONG
        rows.append(Row((sentence(each.point), content(_CLOSE_UP[each.state], type_))))
    draw_table(sheet, columns, rows, title="Test points closed up")


def draw_due(sheet: Sheet, due: Sequence[Due]) -> None:
    """Draw the dates that follow from the visit."""
    if not due:
        return
    columns = (Column("", 96), Column("", 120), Column("", 241))
    rows = [Row((content(day(each.date), STRONG), sentence(each.rule), each.why)) for each in due]
    draw_table(sheet, columns, rows, title="Next due")


def draw_cautions(sheet: Sheet, title: str, cautions: Sequence[str]) -> None:
    """Draw the cautions, as they were given."""
    if not cautions:
        return
    heading(sheet, title, keep=24)
    for caution in cautions:
        bullet(sheet, chemical(caution))
