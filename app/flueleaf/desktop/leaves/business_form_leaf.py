"""The form of the business whose book it is: what the papers print of it, and how they are numbered."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.picture_field import PictureField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.half_form import waits
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.business_fields import (
    business_document,
    business_of,
    charging_fields,
    check_days,
    follow_registration,
    who_fields,
)
from flueleaf.desktop.leaves.first_leaf import FIRST, FirstLeaf
from flueleaf.desktop.leaves.form_fields import FIRST_NUMBER
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.sample.sample_beside import SampleBeside
from flueleaf.desktop.sample.sample_panel import INVOICE, QUOTE, RECORD, SamplePanel, Typed
from flueleaf.desktop.section import Section
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.records.business import Business
from flueleaf.domain.words import marked
from flueleaf.operations import book as books
from flueleaf.operations import numbering
from flueleaf.operations.changes import Changes

PICTURES = _("Printed at the head of each paper, and where you sign. PNG or JPEG, from a file or pasted.")
NUMBERING = _(
    "Letters and year stand before each number. One who moves from a pad may go on with its numbers until the"
    " first paper of the year is issued."
)
COUNTS = _("Papers already issued stay as they are. What you keep here counts from the next one on.")
TEXTS = _("Printed at the foot of each such paper: how else to pay, what you guarantee, what you remind of.")

LIMITS = _("What readings are judged by: fill it from your own copy of a standard. Fuels of your own.")

PAPER_OF = {"invoice_text": INVOICE, "quote_text": QUOTE, "record_text": RECORD}  # the sample turns to it


class BusinessForm(FormLeaf):
    """The whole business on one leaf, with a sample paper beside it."""

    def __init__(self, desk: Desk, place: Place) -> None:
        self._known = books.business(desk.book)
        self._series = numbering.series(desk.book, today=desk.today())
        heading = (_("Your business"), _("as your papers show it"))
        super().__init__(desk, place, heading=heading, groups=self._groups(desk), keep=self._keep_business)
        known = business_document(self._known)
        known["numbering"] = {
            one.key: {"letters": one.letters, "first": str(one.first)} for one in self._series
        }
        self.fill_in(known)
        follow_registration(self)
        self.panel = SamplePanel(lambda: Typed(self._typed()), desk.today)
        self._sample = SampleBeside(self, self.panel)
        self.changed.connect(self.panel.touch)
        for name, paper in PAPER_OF.items():
            self.fields[name].edited.connect(lambda _text, paper=paper: self.panel.turn_to(paper))

    def commands(self) -> tuple[Command, ...]:
        """Those of every form, and the sample."""
        return (*super().commands(), self._sample.command())

    def margin_widgets(self) -> Sequence[QWidget]:
        """From when on it counts."""
        return (MarginSection(_("from the next paper on"), (COUNTS,), name="from_the_next_paper_on"),)

    def add_more(self) -> None:
        """The way to the limits and fuels."""
        section = self.add_section(Section(_("limits and fuels"), name="limits_and_fuels"))
        section.set_caution(LIMITS)
        section.add_buttons(button(_("Limits and fuels"), "business.limits", self._go_to_limits))

    def leaving(self) -> bool:
        """Let the sample come to rest too."""
        self.panel.rest()
        return super().leaving()

    def _go_to_limits(self) -> None:
        self.place_wanted.emit(Place("limits", "own"))

    def _typed(self) -> Business:
        return business_of(self.fields, self.document(), self._known)

    def _keep_business(self, document: dict[str, Any]) -> Changes:
        if not document.get("name"):
            raise Refused([Fault("name", "", marked("the name your papers are signed with"))])
        check_days(self.fields)
        for one in self._series:  # before the rest: numbers may be refused, what follows may not
            typed = document["numbering"].get(one.key, {}) if "numbering" in document else {}
            letters = str(typed.get("letters", "")).upper()
            first = _first(one, self.fields, str(typed.get("first", "")))
            if (letters, first) != (one.letters, one.first):
                numbering.save_series(
                    self.desk.book, one.key, letters=letters, first=first, today=self.desk.today()
                )
        return books.save_business(self.desk.book, business_of(self.fields, document, self._known))

    def _groups(self, desk: Desk) -> tuple[Group, ...]:
        return (
            Group(_("who you are"), who_fields(), name="who"),
            Group(
                _("pictures"),
                (
                    PictureField("logo_png", _("logo"), desk.ask),
                    PictureField("signature_png", _("signature"), desk.ask),
                ),
                PICTURES,
                "pictures",
            ),
            Group(_("how you charge"), charging_fields(), name="charging"),
            Group(_("numbering"), _numbering_fields(self._series), NUMBERING, "numbering"),
            Group(_("texts"), _text_fields(), TEXTS, "texts"),
        )


def _numbering_fields(series: tuple[numbering.Series, ...]) -> tuple[Field, ...]:
    fields: list[Field] = []
    for one in series:
        name = f"numbering.{one.key}"
        letters = TextField(f"{name}.letters", _("{series}: letters", series=_(one.name)), width_px=80)
        letters.set_note(_("next: {number}", number=one.next_number))
        fields.append(letters)
        if one.open:
            label = _("{series}: first number", series=_(one.name))
            fields.append(NumberField(f"{name}.first", FIRST_NUMBER, label=label))
    return tuple(fields)


def _text_fields() -> tuple[Field, ...]:
    return (
        TextField("invoice_text", _("line under invoices")),
        TextField("quote_text", _("line under quotes")),
        TextField("record_text", _("line under records")),
    )


def _first(one: numbering.Series, fields: dict[str, Field], typed: str) -> int:
    """Return the first number typed of a series, the one there is where it cannot be set any more."""
    field = fields.get(f"numbering.{one.key}.first")
    value = field.value() if isinstance(field, NumberField) else None
    if field is None:
        return one.first
    if value is None or value != int(value):
        accepted = marked("a whole number from 1 to 9999")
        raise Refused([Fault(f"numbering.{one.key}.first", typed, accepted)])
    return int(value)


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of the business; answers of a new book left half typed are finished there first."""
    if not books.business(desk.book).name.strip() and waits(desk, FIRST):
        return FirstLeaf(desk, FIRST)
    return BusinessForm(desk, place)
