"""What can be done on the leaf of a visit, each with its key."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.command import Command
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.settling.settling_commands import settling_commands
from flueleaf.desktop.visit import walking
from flueleaf.desktop.visit.carry_commands import carry_commands
from flueleaf.desktop.visit.combustion_part import CombustionPart
from flueleaf.desktop.visit.photo_commands import photo_commands
from flueleaf.desktop.visit.putting_away import put_away
from flueleaf.desktop.visit.slip_column import SlipColumn
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.work_panel import WorkPanel
from flueleaf.desktop.visit.worked_out_commands import worked_out_commands
from flueleaf.desktop.words import _
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from collections.abc import Callable

    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


def visit_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:
    """Return the actions of a visit leaf; those about a slip or a check mean the one in focus."""
    do = VisitActions(leaf)
    commands = (
        Command(_("Next section"), ("PgDown",), lambda: do.step(1)),
        Command(_("Section before"), ("PgUp",), lambda: do.step(-1)),
        Command(_("To the readings"), ("Ctrl+G",), do.to_readings),
        Command(_("Add attempt"), ("Ctrl+R",), do.add_attempt),
        Command(_("Taken after adjusting, or not"), ("Ctrl+Shift+U",), do.adjusted),
        Command(_("Add slip"), ("Ctrl+Shift+R",), do.add_slip),
        Command(_("Could not be measured"), ("Ctrl+U",), do.ask_reason),
        *settling_commands(leaf),
        Command(_("Doubt checked, reading stands"), ("Ctrl+Shift+K",), do.confirm_doubt),
        Command(_("Write down what was found at this check"), ("Ctrl+.",), do.note),
        Command(_("Write down more of this section"), ("F7",), do.write_down),
        Command(_("To the work lines"), ("Ctrl+L",), do.to_lines),
        Command(_("Bring in the quote, or leave it out"), ("Ctrl+Shift+Q",), do.quote),
        Command(_("Add appliance"), ("Ctrl+B",), do.add_appliance),
        Command(_("Leave this appliance out"), ("Ctrl+Shift+B",), do.leave_out),
        *carry_commands(leaf),
        *photo_commands(leaf),
        *worked_out_commands(leaf),
        Command(_("Next thing left"), ("F8",), do.next_left),
        Command(_("First thing left, others by their number"), ("Ctrl+1",), lambda: do.go_to_left(0)),
        Command(_("Sign off and seal"), ("Ctrl+Return", "Ctrl+Enter"), leaf.sign_off),
    )
    return (
        *(replace(command, run=partial(_whole, leaf, command.run)) for command in commands),
        Command(_("Put this draft away"), ("Ctrl+Shift+D",), do.put_away),
    )


def _whole(leaf: TypedVisitLeaf, run: Callable[[], None]) -> None:
    """Run an action on the whole leaf, whatever of it is still to be made."""
    leaf.complete()
    run()


def _first_of(work: WorkPanel) -> QWidget | None:
    """Return where the typing of a known appliance begins, None while its stages are still to be made."""
    if work.waits:
        return None
    return work.stages[0].first() if work.stages else work.plate.locate("kind")


class VisitActions:
    """The actions, on one leaf."""

    def __init__(self, leaf: TypedVisitLeaf) -> None:
        self._leaf = leaf

    def step(self, by: int) -> None:
        """Go to the next section, or the one before."""
        self._go(walking.step(self._leaf.parts, by))

    def to_readings(self) -> None:
        """Go to the first reading that is still empty, of the appliance in focus."""
        combustion = self._combustion()
        if combustion is not None:
            fields = combustion.slips.fields()
            self._go(next((one for one in fields if not one.text().strip()), fields[0] if fields else None))

    def add_attempt(self) -> None:
        """Begin another attempt of the slip in focus."""
        combustion = self._combustion()
        if combustion is not None and combustion.slips.columns:
            cursor = self._leaf.cursor_at()
            combustion.add_attempt(self._column(combustion))
            self._note_begun(cursor)

    def adjusted(self) -> None:
        """Say that the slip in focus was taken after an adjustment, or take that back."""
        combustion = self._combustion()
        if combustion is None:
            return
        column = self._column(combustion)
        if column is None:
            self._leaf.said.emit(_("Go to the slip first that was taken after adjusting."))
            return
        cursor = self._leaf.cursor_at()
        after = column.turn_adjusted()
        self._leaf.note_step(cursor)
        self._leaf.typing.ear.typed.emit()
        words = {"slip": column.spot.words}
        self._leaf.said.emit(
            _("{slip}: taken after adjusting.", **words)
            if after
            else _("{slip}: not after an adjustment.", **words)
        )

    def add_slip(self) -> None:
        """Begin a slip the procedure does not ask for."""
        combustion = self._combustion()
        if combustion is None:
            return
        cursor = self._leaf.cursor_at()
        if combustion.add_slip():
            self._note_begun(cursor)
        else:
            self._leaf.said.emit(_("Every point and rate of this kind has its slip already."))

    def _note_begun(self, cursor: str) -> None:
        """Take note of a slip begun from a field: a step of its own, and kept though it is empty."""
        self._leaf.note_step(cursor)
        self._leaf.keeper.touch()

    def ask_reason(self) -> None:
        """Ask why the slip in focus, or the first empty one, could not be measured."""
        combustion = self._combustion()
        if combustion is None:
            return
        empty = (column for column in combustion.slips.columns if column.empty)
        column = self._column(combustion) or next(empty, None)
        if column is not None:
            self._go(column.ask_reason())

    def confirm_doubt(self) -> None:
        """Stand by the reading in doubt, after checking it."""
        combustion = self._combustion()
        if combustion is not None and not combustion.confirm(self._column(combustion)):
            self._leaf.said.emit(_("There is no open doubt here."))

    def note(self) -> None:
        """Write a note beside the check in focus."""
        field = self._field()
        for work in self._leaf.works:
            for part in work.stages:
                if (line := part.checks.line_of(field)) is not None:
                    line.show_note(on=True)
                    self._go(line.note)
                    return
        self._leaf.said.emit(_("Go to the check it is about first; the line for it opens there."))

    def write_down(self) -> None:
        """Open what is written down in the section in focus, or in the next one with room for it."""
        parts = list(self._leaf.parts)
        here = walking.part_of(parts, QApplication.focusWidget())
        at = parts.index(here) if here is not None else 0
        for part in parts[at:]:
            if isinstance(part, StagePart) and part.notes.notes:
                self._go(part.notes.open_up())
                return
        self._leaf.said.emit(_("Nothing more is written down from here on."))

    def to_lines(self) -> None:
        """Go to the empty work line."""
        self._go(self._leaf.pieces.lines.charged.rows[-1].form.fields[0])

    def quote(self) -> None:
        """Bring in the newest open quote for the premises, or leave out the one brought in."""
        pieces = self._leaf.pieces
        if pieces.quote.number:
            pieces.leave_quote()
            self._leaf.said.emit(_("The quote is left out; its lines stay until you take them out."))
        elif pieces.quote.newest is not None:
            pieces.bring_in(pieces.quote.newest)
            self._leaf.said.emit(_("The lines of quote {number} are brought in.", number=pieces.quote.number))
        else:
            self._leaf.said.emit(_("There is no open quote for these premises."))

    def add_appliance(self) -> None:
        """Add an appliance: one known here, else a new one with the same analyser."""
        leaf = self._leaf
        document = leaf.document()
        known = drafting.others_here(leaf.desk.book, document)
        instrument = next((work["instrument"] for work in document["works"] if "instrument" in work), None)
        new = known[0] if known else {"instrument": instrument} if instrument else {}
        leaf.change_works([*document["works"], new])
        work = leaf.works[-1]
        leaf.go_when_made(partial(_first_of, work) if known else partial(work.plate.locate, "kind"))

    def leave_out(self) -> None:
        """Take the appliance in focus off the visit; it stays in the book."""
        leaf, work = self._leaf, self._work()
        if len(leaf.works) < 2:
            leaf.said.emit(_("A visit is to at least one appliance."))
            return
        works = leaf.document()["works"]
        at, name = leaf.works.index(work), work.name
        leaf.change_works([*works[:at], *works[at + 1 :]])
        leaf.said.emit(
            _("{name} is left out of this visit; it stays in the book. Ctrl+Z brings it back.", name=name)
        )
        self._go(leaf.works[0].parts[0].first())

    def next_left(self) -> None:
        """Go to the next thing left after the cursor, and round again."""
        leaf = self._leaf
        leaf.catch_up()
        fields = [field for part in leaf.parts for field in part.fields()]
        here = self._field()
        at = fields.index(here) if here in fields else -1
        ahead = [one for one in leaf.left if one.field in fields and fields.index(one.field) > at]
        for one in (*ahead, *leaf.left):
            leaf.go_to_left(one)
            return

    def go_to_left(self, number: int) -> None:
        """Go to one thing of the list in the margin."""
        self._leaf.catch_up()
        if number < len(self._leaf.left):
            self._leaf.go_to_left(self._leaf.left[number])

    def put_away(self) -> None:
        """Put the draft away; the notice takes it back."""
        leaf = self._leaf
        put_away(leaf, leaf.keeper, partial(drafting.put_away, leaf.desk.book, leaf.place.key))

    def _go(self, widget: QWidget | None) -> None:
        if widget is not None:
            walking.go_to(widget, self._leaf.scroll_area)

    def _field(self) -> Field | None:
        return walking.field_of(QApplication.focusWidget())

    def _work(self) -> WorkPanel:
        focused = QApplication.focusWidget()
        works = self._leaf.works
        return next((work for work in works if focused is not None and work.isAncestorOf(focused)), works[0])

    def _combustion(self) -> CombustionPart | None:
        """Return the readings of the appliance in focus; without a kind there are none, and that is said."""
        combustion = self._work().combustion
        if combustion is None:
            self._leaf.said.emit(_("Choose the kind of appliance first: the readings follow from it."))
        return combustion

    def _column(self, combustion: CombustionPart) -> SlipColumn | None:
        return combustion.slips.column_of(self._field())
