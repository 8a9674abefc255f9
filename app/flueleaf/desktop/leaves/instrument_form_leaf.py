"""The form of an analyser: its calibration and what it can tell."""

from __future__ import annotations

import dataclasses
from decimal import Decimal
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.order_field import BETWEEN, OrderField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.form_fields import SHARE
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.slips_panel import USUAL_ORDER
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import Instrument, InstrumentId
from flueleaf.operations import register
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake import documents
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_instrument

CAUTION = _("As its data sheet says. Without them the usual tolerances count, and the papers say so.")
ORDER_CAUTION = _(
    "As its slip prints them, from top to bottom: Ctrl with an arrow moves a line, Space leaves out what it "
    "does not print. The readings of a visit are typed in this order."
)
ORDER = "order"  # the place's ``within`` that leads straight to it


class InstrumentForm(FormLeaf):
    """The form; from a visit one comes for the order."""

    def first_focus(self) -> QWidget | None:
        """Begin at the order where that is what one comes for."""
        return self.fields[ORDER].control() if self.place.within == ORDER else super().first_focus()


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of a new analyser, or of the one with the id ``place.key``."""
    number = InstrumentId(int(place.key)) if place.key else None
    known = register.instrument(desk.book, number) if number is not None else None

    def keep(document: dict[str, Any]) -> Changes:
        order = tuple(key for key in str(document.pop(ORDER, "")).split(BETWEEN) if key)
        reader = Reader.of(document, typed=True)
        read = read_instrument(reader)
        reader.finish()
        return register.save_instrument(desk.book, dataclasses.replace(read, id=number, order=order))

    title = _("New analyser") if known is None else known.name
    heading = (title, _("whose slips you type"))
    leaf = InstrumentForm(desk, place, heading=heading, groups=_groups(desk), keep=keep)
    if known is not None:
        leaf.fill_in(_told(known))
    return leaf


def _groups(desk: Desk) -> tuple[Group, ...]:
    own = (
        TextField("name", _("name")),
        TextField("serial", _("serial"), width_px=240),
        DateField("calibration_due", _("calibration due"), today=desk.today),
    )
    stated = (
        NumberField("tolerance.co_ppm.abs", QUANTITIES["co_ppm"], label=_("CO, ±")),
        NumberField("tolerance.co_ppm.rel", SHARE, label=_("CO, ± share of the reading")),
        NumberField("tolerance.o2_pct.abs", QUANTITIES["o2_pct"], label=_("O2, ±")),
        NumberField("tolerance.co2_pct.abs", QUANTITIES["co2_pct"], label=_("CO2, ±")),
        NumberField("range.co_ppm", QUANTITIES["co_ppm"], label=_("CO, highest it reads")),
    )
    words = {key: _(quantity.label) for key, quantity in QUANTITIES.items()}
    order = OrderField(ORDER, _("printed in this order"), words, USUAL_ORDER)
    return (
        Group(_("analyser"), own, name="analyser"),
        Group(_("tolerance"), stated, CAUTION, name="tolerance"),
        Group(_("order of the slip"), (order,), ORDER_CAUTION, name="order"),
    )


def _told(instrument: Instrument) -> dict[str, Any]:
    """Return an analyser as a document, without the zeros that stand for what its data sheet does not say."""
    document = documents.instrument_document(instrument)
    tolerance = document.get("tolerance", {})
    document["tolerance"] = {
        key: {part: text for part, text in parts.items() if Decimal(text)} for key, parts in tolerance.items()
    }
    return {**document, ORDER: BETWEEN.join(instrument.order)}
