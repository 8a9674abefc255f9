"""What can be taken over: from the first appliance of the visit, and from last time; never readings."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from flueleaf.desktop.command import Command
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.plate_part import PlatePart
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.supply_part import SupplyPart
from flueleaf.desktop.visit.walking import part_of
from flueleaf.desktop.words import _, _n
from flueleaf.operations.drafting import LastHeat
from flueleaf.operations.intake.documents import appliance_document

if TYPE_CHECKING:
    from flueleaf.desktop.visit.part import Part
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


def carry_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:
    """Return the actions."""
    do = CarryActions(leaf)
    return (
        Command(_("Same as last visit, in this section"), ("Ctrl+J",), do.take_over),
        Command(_("Answer for this appliance alone, or as at the first"), ("Ctrl+Shift+A",), do.turn),
        Command(_("Order of the slip"), ("Ctrl+Shift+E",), do.order),
    )


class CarryActions:
    """The actions, on one leaf."""

    def __init__(self, leaf: TypedVisitLeaf) -> None:
        self._leaf = leaf

    def turn(self) -> None:
        """Open what belongs to the premises in the section in focus, or let it follow again."""
        part = self._part()
        if isinstance(part, StagePart) and any(entry.leader is not None for entry in part.shared):
            part.turn()
        else:
            self._leaf.said.emit(_("Nothing in this section is answered at another appliance."))

    def take_over(self) -> None:
        """Take over the checks of the stage in focus, the plate, the calorific value; never readings."""
        part = self._part()
        number = next((n for n, work in enumerate(self._leaf.works) if part in work.parts), None)
        at = QApplication.focusWidget()
        if isinstance(part, SupplyPart) and (heat := part.take_over_heat(at)) is not None:
            said = self._took_heat(heat)
        elif number is not None and isinstance(part, StagePart):
            said = self._take_checks(part, number)
        elif number is not None and isinstance(part, PlatePart):
            said = self._take_plate(part, number)
        else:
            said = _("Go to the plate or to the checks of an appliance first.")
        self._leaf.said.emit(said)

    def order(self) -> None:
        """Go to the order in which the analyser in focus prints; from there one comes back."""
        part, leaf = self._part(), self._leaf
        work = next((work for work in leaf.works if part in work.parts), leaf.works[0])
        known = work.analyser.known()
        if known is None or known.id is None:
            leaf.said.emit(_("The book knows this analyser once the visit is signed off, not before."))
            return
        leaf.keeper.touch()  # even when nothing was typed yet: from there one comes back to this visit
        leaf.place_wanted.emit(Place("instrument_form", str(known.id), within="order"))

    def _take_checks(self, part: StagePart, number: int) -> str:
        last = self._leaf.past.answers[number] if number < len(self._leaf.past.answers) else None
        if last is None:
            return _("The book knows no answers of an earlier day for this appliance.")
        answers = {answer.key: answer for answer in last.answers}
        ear = self._leaf.typing.ear
        ear.left.emit()  # a step of its own, whatever was typed before it
        lines = [line for line in part.checks.lines if line.key in answers]
        count = sum(line.take_over(answers[line.key], last.date) for line in lines)
        noted = part.notes.take_over(last.notes)
        if count or noted:
            ear.typed.emit()
        told = _told(count, last.date) if count or not noted else ""
        if noted:
            words = _n("{count} note is as it was then.", "{count} notes are as they were then.", noted)
            told = f"{told} {words}".strip()
        if left := sum(line.check.anew and not line.field.text() and line.here for line in part.checks.lines):
            anew = _n(
                "{count} is answered anew at every visit.", "{count} are answered anew at every visit.", left
            )
            return f"{told} {anew}"
        return told

    def _took_heat(self, heat: LastHeat) -> str:
        """Note a calorific value taken over; returns what is said of it."""
        ear = self._leaf.typing.ear
        ear.left.emit()  # a step of its own, whatever was typed before it
        ear.typed.emit()
        return _(
            "Calorific value of {date} taken over: {value} MJ/m³.",
            date=long_date(heat.date),
            value=heat.mj_per_m3,
        )

    def _take_plate(self, part: PlatePart, number: int) -> str:
        past = self._leaf.past
        known = past.known[number] if number < len(past.known) else None
        if known is None:
            return _("The book does not know this appliance yet.")
        self._leaf.typing.ear.left.emit()
        count = part.take_over(appliance_document(known))
        if count:
            self._leaf.typing.ear.typed.emit()
        before = past.visits[number]
        if before:
            return _told(count, before[0].date)
        return _n(
            "{count} field is taken over from the book.",
            "{count} fields are taken over from the book.",
            count,
        )

    def _part(self) -> Part | None:
        return part_of(self._leaf.parts, QApplication.focusWidget())


def _told(count: int, date: dt.date) -> str:
    if not count:
        return _("Nothing is taken over from the visit of {date}.", date=long_date(date))
    return _n(
        "{count} answer is taken over from the visit of {date}.",
        "{count} answers are taken over from the visit of {date}.",
        count,
        date=long_date(date),
    )
