"""The first leaf of an empty book: three questions, a paper that grows beside them, a door to the demo."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton, QWidget

from flueleaf.desktop import demo_door
from flueleaf.desktop.buttons import button
from flueleaf.desktop.change_hub import Changed
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.analyser_fields import named_fields, stated_document, tolerance_fields
from flueleaf.desktop.leaves.business_fields import (
    business_document,
    business_of,
    charging_fields,
    check_days,
    follow_registration,
    who_fields,
)
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.sample.sample_beside import SampleBeside
from flueleaf.desktop.sample.sample_panel import SamplePanel, Typed
from flueleaf.desktop.section import Section
from flueleaf.desktop.words import _
from flueleaf.domain.records.register import Instrument
from flueleaf.operations import book as books
from flueleaf.operations import register
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_instrument

LEAD = _("Three questions before the first visit. Leave out what is not at\N{NO-BREAK SPACE}hand.")
WHO = _(
    "It stands at the head of each paper; the sample shows how. Without a name no paper can be issued;"
    " everything else may wait."
)
CHARGING = _(
    "Your invoices say when to pay and to which account. Only the papers of a registered business"
    " speak of VAT."
)
ANALYSER = _(
    "Its tolerance decides how near to a limit a reading may come; its certificate has a last day. Left out,"
    " the usual tolerances count. In which order it prints is set in its own form."
)
SKIP = _("Skip, I will fill this in later")
NEXT = _("Next question")
FIRST = Place("first")
QUESTIONS = ("who", "charging", "analyser")


class FirstLeaf(FormLeaf):
    """Shown at opening until the business has a name."""

    def __init__(self, desk: Desk, place: Place) -> None:
        self._known = books.business(desk.book)
        self._analyser = next(iter(register.choices(desk.book).instruments), None)
        super().__init__(
            desk,
            place,
            heading=(_("A new book"), LEAD),
            groups=_questions(desk),
            keep=self._keep_answers,
            action=_("Keep and begin"),
        )
        document = business_document(self._known)
        if self._analyser is not None:
            document["analyser"] = stated_document(self._analyser)
        self.fill_in(document)
        follow_registration(self)
        self.panel = SamplePanel(self._typed, desk.today)
        self._sample = SampleBeside(self, self.panel)
        self.changed.connect(self.panel.touch)

    def commands(self) -> tuple[Command, ...]:
        """Keeping, skipping, the sample and the door to the demo."""
        return (
            Command(self.action, ("Ctrl+Return", "Ctrl+Enter"), self.keep_all),
            Command(NEXT, ("Ctrl+Down",), self.next_question),
            Command(SKIP, ("Ctrl+W",), self.skip),
            self._sample.command(),
            Command(demo_door.WORDS, (demo_door.KEY,), self._look_round),
        )

    def margin_widgets(self) -> Sequence[QWidget]:
        """The door to the demo."""
        door = MarginSection(_("look round first"), (demo_door.WHY,), name="look_round_first")
        door.add_widget(self._door("margin"))
        return (door,)

    def end_buttons(self) -> tuple[QPushButton, ...]:
        """Keeping, and skipping."""
        return (
            button(self.action, "form.keep", self.keep_all, primary=True),
            button(SKIP, "first.skip", self.skip),
            self._door("first"),
        )

    def leaving(self) -> bool:
        """Let the sample come to rest too."""
        self.panel.rest()
        return super().leaving()

    def skip(self) -> None:
        """Go on without answering; what is typed stays here as it is until it is kept."""
        if self.leaving():
            self.finished.emit()
            self.said.emit(
                _("What you typed stays as it is. “Your business” in the menu leads to all of it.")
            )

    def next_question(self) -> None:
        """Go to the first field of the next question, from the last one to the end."""
        here = self._question_here()
        if here + 1 < len(QUESTIONS):
            later = self._section(here + 1)
            target = next(f for f in self.fields.values() if later.isAncestorOf(f)).control()
        else:
            keep = self.findChild(QPushButton, "form.keep")
            assert keep is not None
            target = keep
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def _question_here(self) -> int:
        focused = QApplication.focusWidget()
        at = [
            n for n in range(len(QUESTIONS)) if focused is not None and self._section(n).isAncestorOf(focused)
        ]
        return at[0] if at else len(QUESTIONS)

    def _section(self, number: int) -> Section:
        return self.sections[number]

    def _door(self, where: str) -> QPushButton:
        return button(demo_door.WORDS, f"{where}.demo", self._look_round)

    def _look_round(self) -> None:
        self.said.emit(demo_door.open_demo(self.desk))

    def _typed(self) -> Typed:
        document = self.document()
        business = business_of(self.fields, document, self._known)
        due = self.fields["analyser.calibration_due"]
        instrument = Instrument(
            str(self.fields["analyser.name"].entry()),
            str(self.fields["analyser.serial"].entry()),
            due.value() if isinstance(due, DateField) else None,
        )
        return Typed(business, instrument)

    def _keep_answers(self, document: dict[str, Any]) -> Changed:
        check_days(self.fields)
        instrument = self._read_analyser(document)  # before anything is kept: it may be refused
        kept = books.save_business(self.desk.book, business_of(self.fields, document, self._known))
        if instrument is None:
            return kept
        also = register.save_instrument(self.desk.book, instrument)
        return Changes(kept.topics | also.topics, kept.summary)

    def _read_analyser(self, document: dict[str, Any]) -> Instrument | None:
        if "analyser" not in document:
            return None
        reader = Reader.of({"analyser": document["analyser"]}, typed=True)
        read = read_instrument(reader.child("analyser"))
        reader.finish()
        if self._analyser is None:
            return read
        known = self._analyser  # what is not asked here stays
        return dataclasses.replace(
            read,
            id=known.id,
            order=known.order,
            log_columns=known.log_columns,
            co2_calculated=known.co2_calculated,
        )


def _questions(desk: Desk) -> tuple[Group, ...]:
    analyser = (*named_fields(desk.today, "analyser."), *tolerance_fields("analyser."))
    return (
        Group(_("1 · who you are"), who_fields(), WHO, QUESTIONS[0]),
        Group(_("2 · how you charge"), charging_fields(), CHARGING, QUESTIONS[1]),
        Group(_("3 · which analyser"), analyser, ANALYSER, QUESTIONS[2]),
    )


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf."""
    return FirstLeaf(desk, place)
