"""The work at one appliance: its plate, its analyser, and the stages of its kind's procedure."""

from __future__ import annotations

import copy
import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.visit.analyser_part import AnalyserPart
from flueleaf.desktop.visit.combustion_part import CombustionPart
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.outcome_part import OutcomePart
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.plate_part import PlatePart
from flueleaf.desktop.visit.plate_words import appliance_name
from flueleaf.desktop.visit.slip_column import typed_slip
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.supply_part import SupplyPart
from flueleaf.desktop.visit.work_pieces import Asking, carried, held, part_class
from flueleaf.desktop.words import _
from flueleaf.domain.judging.kind import Kind, Stage
from flueleaf.domain.records.register import FLUES, Flue
from flueleaf.domain.records.visits import Purpose
from flueleaf.operations import tables
from flueleaf.operations.drafting import LastHeat
from flueleaf.operations.pages import RegisterPage


class WorkPanel(QWidget):
    """One entry of the document's ``works``; its stages are made one by one, and read whole all the time."""

    built = Signal()  # its stages were made anew

    def __init__(self, typing: Typing, number: int, known: RegisterPage) -> None:
        super().__init__()
        self.setObjectName(f"works.{number}")
        self._typing = typing
        self._prefix = f"works.{number}"
        self._purpose: Purpose = "service"
        self._kind: Kind | None = None
        self._flue: Flue | None = None
        self._built: tuple[str, str, str | None] | None = None
        self._work: dict[str, Any] = {}
        self.stages: list[StagePart] = []  # those made so far
        self._coming: list[Stage] = []  # those that are still to be made, after them
        self._title = label("", role="lead", tone="strong", wrap=True)
        self.plate = PlatePart(typing, self._prefix, known.models)
        self.analyser = AnalyserPart(typing, self._prefix, known.instruments)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        set_gap(self._column, 6)
        for part in (self._title, self.plate, self.analyser):
            self._column.addWidget(part)
        self.plate.kind_changed.connect(self._on_kind_changed)
        self.analyser.order_changed.connect(self._set_order)

    @property
    def parts(self) -> tuple[Part, ...]:
        """The sections, from top to bottom."""
        return (self.plate, self.analyser, *self.stages)

    @property
    def name(self) -> str:
        """What the appliance is called."""
        return appliance_name(self.plate.read())

    @property
    def full_name(self) -> str:
        """What the appliance is called, and where it stands."""
        plate = self.plate.read()
        name, place = appliance_name(plate), plate.get("location", "")
        return _("{name}, {place}", name=name, place=place) if place else name

    @property
    def fresh(self) -> bool:
        """Whether no check was answered here, and nothing of the premises typed."""
        return not any(
            part.checks.read() or any(entry.read() for entry in part.shared) for part in self.stages
        )

    @property
    def combustion(self) -> CombustionPart | None:
        """The section with the slips, None while the kind is not known."""
        return next((part for part in self.stages if isinstance(part, CombustionPart)), None)

    @property
    def told_outcome(self) -> bool:
        """Whether it is said how the appliance is left."""
        told = [bool(part.outcome) for part in self.stages if isinstance(part, OutcomePart)]
        return any(told) if told else bool(self._work.get("outcome"))

    def fill(self, work: Mapping[str, Any], purpose: Purpose) -> None:
        """Show a work's document."""
        self._work, self._purpose, self._built = copy.deepcopy(dict(work)), purpose, None
        self.plate.fill(work.get("appliance", {}))
        self.analyser.fill(work.get("instrument", {}))
        self._build(first=False)

    def refill(self, work: Mapping[str, Any], purpose: Purpose) -> None:
        """Show another state of the work in the fields there are, as far as its kind is the same."""
        self._work, self._purpose = copy.deepcopy(dict(work)), purpose
        self.plate.refill(work.get("appliance", {}))
        self.analyser.refill(work.get("instrument", {}))
        if not self._build():
            for part in self.stages:
                part.fill(self._work)
            self._set_order()
            self.sum_up()

    def set_purpose(self, purpose: Purpose) -> None:
        """Show the stages of another purpose; what was typed stays."""
        if purpose != self._purpose:
            self._work = self._carried()
            self._purpose = purpose
            self._build()

    def read(self) -> dict[str, Any]:
        """Return the work as typed."""
        work: dict[str, Any] = {"appliance": self.plate.read()}
        if instrument := self.analyser.read():
            work["instrument"] = instrument
        for part in self.stages:
            work.update(part.read())
        answers = [answer for part in self.stages for answer in part.checks.read()]
        notes = [note for part in self.stages for note in part.notes.read()]
        if (asking := self._asking) is not None:
            coming = held(self._coming, asking, self._work)
            answers += coming.pop("checks", ())
            notes += coming.pop("notes", ())
            work.update(coming)
        if answers:
            work["checks"] = answers
        if notes:
            work["notes"] = notes
        if self._kind is None:  # the kind is not known yet: what a draft holds is kept
            work.update({key: value for key, value in self._work.items() if key not in work})
        return work

    def begun_slips(self) -> list[dict[str, Any]]:
        """Return the slips begun without a reading, as far as no kind asks for them anyway."""
        if self.combustion is not None:
            return self.combustion.begun()
        held_back = (typed_slip(entry) for entry in self._work.get("slips", ()))
        return [slip.document() for slip in held_back if not slip.texts]

    def make(self, name: str) -> None:
        """Make the field of a name inside the work, where it is folded away."""
        for head, part in (("appliance.", self.plate), ("instrument.", self.analyser)):
            if name.startswith(head):
                part.fold.build()
        if name.startswith("notes."):
            for stage in self.stages:
                stage.notes.field_of(name.removeprefix("notes."))
        key = name.removeprefix("checks.").removesuffix(".note")
        if name == f"checks.{key}.note":
            for line in (line for stage in self.stages for line in stage.checks.lines if line.key == key):
                line.note  # noqa: B018 - asked for, it is made

    def locate(self, path: str) -> Field | None:
        """Return the field of a path inside the work, or the one at another appliance that it follows."""
        field = self._own(path)
        for part in self.stages:
            for entry in part.shared:
                if field in entry.fields:
                    return entry.seen(field)
        return field

    def _own(self, path: str) -> Field | None:
        head, __, rest = path.partition(".")
        if head in ("appliance", "instrument"):
            return (self.plate if head == "appliance" else self.analyser).locate(rest)
        if head.startswith("checks["):
            return self._check(int(head.removeprefix("checks[").rstrip("]")), rest)
        if head.startswith("notes["):
            return self._note(int(head.removeprefix("notes[").rstrip("]")))
        found = (part.locate(path) for part in self.stages)
        return next((field for field in found if field is not None), None) or self.plate.locate("kind")

    @property
    def waits(self) -> bool:
        """Whether stages are still to come."""
        return bool(self._coming)

    def sum_up(self) -> None:
        """Bring title and folded lines up to date."""
        self._title.setText(self.full_name)
        self.plate.sum_up()
        self.analyser.sum_up()

    def show_input(self, heat: LastHeat | None, on: dt.date, known: tables.Tables) -> None:
        """Say which heat input the meter run shows, and which drop a tightness test may show.

        Args:
            heat: the calorific value known of last time.
            on: the day of the visit.
            known: the tables that count in the book, read before: nothing is read at a key.
        """
        fuel = str(self.plate.read().get("fuel", ""))
        for part in self.stages:
            if isinstance(part, SupplyPart):
                part.show_input(fuel, heat, known)
                part.show_drops(fuel, on, known)

    def _check(self, number: int, key: str) -> Field | None:
        lines = [line for part in self.stages for line in part.checks.lines if line.read()]
        if number >= len(lines):
            return None
        return lines[number].note if key == "note" else lines[number].field

    def _note(self, number: int) -> Field | None:
        read = [(part, note["key"]) for part in self.stages for note in part.notes.read()]
        if number >= len(read):
            return None
        part, key = read[number]
        return part.notes.field_of(key)

    @property
    def _asking(self) -> Asking | None:
        """What picked the questions that are shown, None while the kind is not known."""
        return None if self._kind is None else Asking(self._kind, self._purpose, self._flue)

    def _on_kind_changed(self) -> None:
        # Not in the middle of the key that changed it: the field that is being typed in stays as it is.
        QTimer.singleShot(0, self, self._rebuild)

    def _rebuild(self) -> None:
        self._work = self._carried()
        self._build()
        self._typing.ear.typed.emit()

    def _carried(self) -> dict[str, Any]:
        """Return the work's document for stages of another kind or purpose: what was taken out stays out."""
        if (asking := self._asking) is None:
            return {**self._work, **self.read()}
        stages = [*(part.stage for part in self.stages), *self._coming]
        return carried(self._work, self.read(), stages, asking)

    def _build(self, *, first: bool = True) -> bool:
        """Begin the stages of the kind and the purpose; returns whether they are others than before.

        Args:
            first: they are made before everything else that waits on the leaf.
        """
        plate = self.plate.read()
        kind = tables.shipped().kinds.get(str(plate.get("kind", "")))
        flue = next((one for one in FLUES if one == plate.get("flue")), None)
        wanted = (kind.name, self._purpose, flue) if kind else None
        if wanted == self._built and self._built is not None:
            return False
        self._built, self._kind, self._flue = wanted, kind, flue
        for part in self.stages:
            self._column.removeWidget(part)
            part.hide()
            part.setParent(None)
            part.deleteLater()
        self.stages = []
        self._coming = list(kind.stages_for(self._purpose, flue)) if kind else []
        self._typing.ear.later.put(self, [self._make_next] * len(self._coming), first=first)
        self.sum_up()
        if not self._coming:
            self.built.emit()
            self._typing.ear.grown.emit()
        return True

    def _make_next(self) -> bool:
        """Make the next stage, filled; its part of the document is read from its fields from now on."""
        assert self._kind is not None
        stage = self._coming[0]
        make = part_class(stage)
        part = make(self._typing, self._prefix, stage, self._kind, self._purpose, flue=self._flue)
        part.fill(self._work)
        del self._coming[0]
        self.stages.append(part)
        self._column.addWidget(part)
        self._set_order()
        if not self._coming:
            self.built.emit()
        self._typing.ear.grown.emit()
        return False

    def _set_order(self) -> None:
        if self.combustion is not None:
            self.combustion.set_order(self.analyser.order())


def parts_of(works: Sequence[WorkPanel]) -> list[Part]:
    """Return the sections of some works, in order."""
    return [part for work in works for part in work.parts]
