"""One stage of the procedure at an appliance: help, caution, what is typed there, and its checks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.command import native
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.help.worded_label import worded
from flueleaf.desktop.visit.checks_block import CheckLine, ChecksBlock
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.notes_block import NotesBlock
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.premises_shared import PremisesLine, Shared, turn
from flueleaf.desktop.words import _
from flueleaf.domain.judging.kind import Kind, Stage
from flueleaf.domain.records.register import Flue
from flueleaf.domain.records.visits import Purpose
from flueleaf.domain.words import marked

TWINS = {"arrival": marked("before anything is lit"), "sign-off": marked("outcome")}


class StagePart(Part):
    """A stage with its checks; subclasses put their own fields before them by ``add_own``."""

    KEYS: tuple[str, ...] = ()  # of the work's document, what it adds beside its checks

    def __init__(
        self,
        typing: Typing,
        prefix: str,
        stage: Stage,
        kind: Kind,
        purpose: Purpose,
        *,
        flue: Flue | None = None,
    ) -> None:
        """Make the stage without answers.

        Args:
            typing: the desk and the ear.
            prefix: of the names of its fields, ``works.0``.
            stage: of the kind's procedure.
            kind: of the appliance.
            purpose: of the visit; it picks checks and wanted slips.
            flue: of the appliance, which picks too; None where it is not known.
        """
        super().__init__(stage_title(stage), typing, name=TWINS.get(stage.key, stage.key).replace(" ", "_"))
        self.prefix = prefix
        self.kind = kind
        self.purpose = purpose
        self.flue = flue
        self.stage = stage
        self.set_caution(_lines(stage))
        if stage.caution:
            self.add_widget(worded(_(stage.caution), role="small"))
        self.premises = PremisesLine(f"{prefix}.{stage.key.replace(' ', '_')}", self.turn)
        self.add_widget(self.premises)
        self.add_own()
        if stage.key == "safety checks" and kind.after_work is not None:
            reason = _(kind.after_work.reason)
            if kind.after_work.examined:  # it speaks of the points of the law by their letters
                law = _("(c) and (ca) are points of SI 1998/2451 reg. 26(9).")
                reason = f"{reason} {law}"
            self.add_widget(worded(reason, role="small", tone="soft"))
        checks = kind.checks_for(purpose, stage.key, flue)
        self.checks = ChecksBlock(typing, prefix, checks)
        if checks:
            self.add_widget(self.checks)
        self.notes = NotesBlock(typing, prefix, kind.notes_for(purpose, stage.key, flue))
        if self.notes.notes:
            self.add_widget(self.notes)

    @property
    def shared(self) -> list[Shared]:
        """The entries that belong to the premises."""
        return [*self.own_shared(), *(line.shared for line in self.checks.lines if line.shared is not None)]

    def own_shared(self) -> Sequence[Shared]:
        """Return the stage's own entries that belong to the premises."""
        return ()

    def turn(self) -> None:
        """Answer what belongs to the premises for this appliance alone, or as at the first one again."""
        if (field := turn(self)) is not None:
            field.control().setFocus()

    def add_own(self) -> None:
        """Put the stage's own fields on the page."""

    def own_fields(self) -> Sequence[QWidget]:
        """Return the stage's own fields."""
        return ()

    def fields(self) -> Sequence[QWidget]:
        """Return own fields, then answers, then what is written down."""
        return (*self.own_fields(), *self.checks.fields(), *self.notes.fields())

    def fill(self, work: Mapping[str, Any]) -> None:
        """Show a work's document."""
        self.checks.fill({str(answer["key"]): answer for answer in work.get("checks", ())})
        self.notes.fill({str(note["key"]): str(note["text"]) for note in work.get("notes", ())})

    def read(self) -> dict[str, Any]:
        """Return what the stage adds to the work's document, its checks and notes left out."""
        return {}

    def locate(self, path: str) -> Field | None:  # noqa: ARG002
        """Return the field of a path inside the work."""
        return None

    def unanswered(self) -> list[CheckLine]:
        """Return the checks without an answer."""
        return self.checks.unanswered()


def _lines(stage: Stage) -> str:
    """Return the lines of a stage; where it asks to write down, by which keys that is done."""
    lines = [_(line) for line in stage.lines]
    if stage.key == "work done":
        keys = {"key": native("Ctrl+."), "more": native("F7")}
        lines[-1] += " " + _("{key}: beside its check; {more}: below them all.", **keys)
    return "\n".join(lines)


def stage_title(stage: Stage) -> str:
    """Return the head of a stage; two of them have their twins at the top and the end of the leaf."""
    return _(TWINS.get(stage.key, stage.key))
