"""Showing on the leaf what the judgement says: verdicts, state words, messages at the fields."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import shiboken6
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.visit.left import Left, fault_message
from flueleaf.desktop.visit.outcome_part import OutcomePart
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.premises_shared import share
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.work_panel import WorkPanel
from flueleaf.domain.money.document import Tally
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.records.business import Business
from flueleaf.operations import bills
from flueleaf.operations.drafting import Judgement, Past


class Messages:
    """The messages that come from the judgement, not from a field's own check."""

    def __init__(self, find: Callable[[str], Field | None]) -> None:
        self._find = find
        self._told: dict[Field, str] = {}
        self._asked: dict[Field, str] = {}  # told when sign-off was tried

    def show(self, faults: Iterable[Fault], focused: Field | None, holding: Iterable[Left]) -> None:
        """Tell faults at their fields; the field being typed in is left in peace, and what is still empty.

        Args:
            faults: of the document as typed.
            focused: the field that has the cursor.
            holding: what sign-off waits for; what was told of it at a try stays until it is put right.
        """
        open_fields = {one.field for one in holding}
        self._asked = {field: text for field, text in self._asked.items() if field in open_fields}
        wanted = dict(self._asked)
        for fault in faults:
            field = self._find(fault.where) if not fault.missing else None
            if field is not None and field is not focused and field.text().strip() and not _own(field):
                wanted[field] = fault_message(fault)
        for field in [field for field in self._told if field not in wanted and shiboken6.isValid(field)]:
            field.set_fault(_own(field))
        self._told = wanted
        for field, message in wanted.items():
            field.set_fault(message)

    def tell(self, left: Iterable[Left]) -> None:
        """Tell at each field why the sign-off waits for it."""
        for one in left:
            if one.field is not None and one.message and not one.field.fault():
                self._asked[one.field] = self._told[one.field] = one.message
                one.field.set_fault(one.message)


def show_works(works: Sequence[WorkPanel], judgement: Judgement, past: Past) -> None:
    """Show verdicts, doubts and last time's values at each appliance."""
    share(works)
    for n, (work, assessment) in enumerate(zip(works, judgement.assessments, strict=False)):
        work.sum_up()
        heat = past.heats[n] if n < len(past.heats) else None
        work.show_input(heat, judgement.visit.date, past.tables)
        if work.combustion is not None:
            work.combustion.show_past(past.visits[n] if n < len(past.visits) else ())
            work.combustion.show_assessment(assessment)
        for part in work.stages:
            if isinstance(part, OutcomePart):
                part.show_assessment(assessment)


def show_states(parts: Sequence[Part], left: Sequence[Left]) -> None:
    """Set the state word of each section."""
    for part in parts:
        held = sum(1 for one in left if one.field is not None and _within(part, one.field))
        asked = len(part.unanswered()) if isinstance(part, StagePart) else 0
        part.show_left(held + asked)


class Sums:
    """What the lines come to, added up again only where they differ: most keys change no line."""

    def __init__(self) -> None:
        self._told: object = None
        self._found: tuple[Tally | None, tuple[Fault, ...]] = (None, ())

    def of(self, judgement: Judgement, business: Business) -> tuple[Tally | None, tuple[Fault, ...]]:
        """Return what the lines come to, the same object while they are the same; see ``tally_of``."""
        visit = judgement.visit
        faulty = [fault for fault in judgement.faults if fault.where.startswith("lines")]
        told = (visit.lines, faulty, visit.customer, visit.date, business)
        if told != self._told:
            self._told, self._found = told, tally_of(judgement, business)
        return self._found


def tally_of(judgement: Judgement, business: Business) -> tuple[Tally | None, tuple[Fault, ...]]:
    """Return what the lines come to, or the faults in the way of saying it."""
    if any(fault.where.startswith("lines") for fault in judgement.faults) or not judgement.visit.lines:
        return None, ()
    visit = judgement.visit
    try:
        return bills.tally_lines("invoice", visit.lines, business, visit.customer, visit.date), ()
    except Refused as refused:
        return None, refused.faults


def _own(field: Field) -> str:
    return field.problem() if isinstance(field, LineField) else ""


def _within(part: QWidget, field: QWidget) -> bool:
    return shiboken6.isValid(field) and part.isAncestorOf(field)
