"""The analyser the slips come from: a known one is offered, a new one typed right here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal, InvalidOperation
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.offer_field import Offer, OfferField
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.fold import Fold
from flueleaf.desktop.visit.form import Form, date_text, text_of, typed_date, typed_number, typed_text
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.plate_words import analyser_summary
from flueleaf.desktop.visit.typed_quantities import PERCENT
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import Instrument
from flueleaf.operations.intake.documents import instrument_document

STATED = ("o2_pct", "co2_pct", "co_ppm", "flue_c", "air_c")
RELATIVE = ("co_ppm",)
RANGED = ("co_ppm",)
NUMBER_PX = 72


class AnalyserPart(Part):
    """One analyser."""

    order_changed = Signal()

    def __init__(self, typing: Typing, prefix: str, known: Sequence[Instrument]) -> None:
        super().__init__(_("analyser"), typing, name="analyser")
        self._known = known
        self._prefix = f"{prefix}.instrument"
        self._form = Form()
        self.fold = Fold(f"{prefix}.analyser", _("Change the analyser"), self._made)
        self.fold.built.connect(self._on_built)
        self.add_widget(self.fold)

    def _made(self) -> QWidget:
        own, today, add = self._prefix, self.typing.desk.today, self._form.add
        body = Cells()
        self._name = OfferField(f"{own}.name", _("analyser"), self._offers)
        self._name.picked.connect(self._on_picked)
        body.put(add("name", self._name))
        serial = TextField(f"{own}.serial", _("serial"))
        body.put(add("serial", serial))
        for typed_out in (self._name, serial):  # known all the same, it prints in its own order
            typed_out.left.connect(self.order_changed)
        due = DateField(f"{own}.calibration_due", _("calibration due"), today=today)
        body.put(add("calibration_due", due, typed_date(today), date_text), units=2)
        for key in STATED:
            quantity = QUANTITIES[key]
            field = NumberField(
                f"{own}.tolerance.{key}.abs",
                quantity,
                label=_("{quantity} ±", quantity=_(quantity.label)),
                width_px=NUMBER_PX,
            )
            body.put(add(f"tolerance.{key}.abs", field, typed_number, _unless_zero))
            if key in RELATIVE:
                share = NumberField(
                    f"{own}.tolerance.{key}.rel", PERCENT, label=_("CO ±, of reading"), width_px=NUMBER_PX
                )
                body.put(add(f"tolerance.{key}.rel", share, _share, _percent))
        for key in RANGED:
            quantity = QUANTITIES[key]
            words = _("{quantity}, highest it reads", quantity=_(quantity.label))
            highest = NumberField(f"{own}.range.{key}", quantity, label=words, width_px=NUMBER_PX)
            body.put(add(f"range.{key}", highest, typed_number))
        return body

    def _on_built(self) -> None:
        self._form.complete()
        self.typing.ear.listen(self._form.fields)
        self.typing.ear.grown.emit()

    def fields(self) -> Sequence[QWidget]:
        """Return the button of the fold and the fields."""
        return (self.fold.opener, *self._form.fields)

    def fill(self, instrument: Mapping[str, Any]) -> None:
        """Show an analyser; one with a name is folded, the fields of another come a little later."""
        self._form.fill(instrument)
        self.sum_up()
        if instrument.get("name"):
            self.fold.fold()
        else:
            self.open_later(self.fold)

    def refill(self, instrument: Mapping[str, Any]) -> None:
        """Show an analyser; the fields of a nameless one are opened."""
        self._form.fill(instrument)
        self.sum_up()
        if not instrument.get("name"):
            self.fold.open_up()

    def read(self) -> dict[str, Any]:
        """Return the analyser, {} where nothing was typed.

        A tolerance whose figures were taken out is left out whole: nothing stated is not the same as zero.
        """
        piece = self._form.read()
        stated = piece.get("tolerance", {})
        kept = {key: one for key, one in stated.items() if any(str(end) != "0" for end in one.values())}
        if "tolerance" in piece:
            piece["tolerance"] = kept
        return {key: value for key, value in piece.items() if value not in ({}, "")}

    def locate(self, path: str) -> Field | None:
        """Return the field of a path inside the analyser."""
        self.fold.build()
        return self._form.locate(path) or self._name

    def order(self) -> tuple[str, ...]:
        """Return the order in which this analyser prints, () where the book does not say."""
        known = self.known()
        return known.order if known is not None else ()

    def known(self) -> Instrument | None:
        """Return this analyser as the book has it, None where it does not."""
        piece = self._form.read()
        name, serial = (str(piece.get(key, "")).lower() for key in ("name", "serial"))
        for one in self._known:
            if (one.name.lower(), one.serial.lower()) == (name, serial):
                return one
        return None

    def sum_up(self) -> None:
        """Bring the folded line up to date."""
        self.fold.set_summary(analyser_summary(self.read()))

    def _offers(self, text: str) -> Sequence[Offer]:
        wanted = text.lower().split()
        return [
            Offer(analyser_summary(instrument_document(one)), one.name, one)
            for one in self._known
            if all(word in f"{one.name} {one.serial}".lower() for word in wanted)
        ]

    def _on_picked(self, instrument: Instrument) -> None:
        self._form.fill(instrument_document(instrument))
        self.sum_up()
        self.order_changed.emit()


def _share(field: NumberField) -> str:
    """Return a percentage typed as the share that the document holds."""
    value = field.value()
    return typed_text(field) if value is None else f"{(value / 100).normalize():f}"


def _percent(value: Any) -> str:
    try:
        percent = Decimal(str(value)) * 100
    except InvalidOperation:
        return text_of(value)
    return f"{percent.normalize():f}" if percent else ""


def _unless_zero(value: Any) -> str:
    text = text_of(value)
    return "" if text == "0" else text
