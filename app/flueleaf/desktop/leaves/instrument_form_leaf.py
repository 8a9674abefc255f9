"""The form of an analyser: its calibration and what it can tell."""

from __future__ import annotations

import dataclasses
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.order_field import BETWEEN, OrderField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.analyser_fields import named_fields, stated_document, tolerance_fields
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.slips_panel import USUAL_ORDER
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import ON_SLIP, QUANTITIES
from flueleaf.domain.records.register import InstrumentId
from flueleaf.operations import register
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_instrument

CAUTION = _("As its data sheet says. Without them the usual tolerances count, and the papers say so.")
ORDER_CAUTION = _(
    "As its slip prints them, from top to bottom: Ctrl with an arrow moves a line, Space leaves out what it "
    "does not print. The readings of a visit are typed in this order."
)
CO2_CAUTION = _(
    "Its data sheet says which cells it has. A CO2 worked out from O2 bears the O2 out whatever that is: it "
    "is no second witness, and it is not fit for the air of a room."
)
CO2 = "co2_calculated"
MEASURED, CALCULATED = "false", "true"  # whether it is
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
        calculated = document.pop(CO2, "") == CALCULATED
        reader = Reader.of({**document, CO2: calculated}, typed=True)
        read = read_instrument(reader)
        reader.finish()
        columns = known.log_columns if known is not None else {}  # which no field asks for
        kept = dataclasses.replace(read, id=number, order=order, log_columns=columns)
        return register.save_instrument(desk.book, kept)

    title = _("New analyser") if known is None else known.name
    heading = (title, _("whose slips you type"))
    leaf = InstrumentForm(desk, place, heading=heading, groups=_groups(desk), keep=keep)
    if known is not None:
        co2 = CALCULATED if known.co2_calculated else MEASURED
        leaf.fill_in({**stated_document(known), ORDER: BETWEEN.join(known.order), CO2: co2})
    return leaf


def _groups(desk: Desk) -> tuple[Group, ...]:
    highest = NumberField("range.co_ppm", QUANTITIES["co_ppm"], label=_("CO, highest it reads"))
    words = {key: _(quantity.label) for key, quantity in ON_SLIP.items()}
    order = OrderField(ORDER, _("printed in this order"), words, USUAL_ORDER)
    cell = WordsField(
        CO2,
        _("CO2 comes"),
        (
            Word(MEASURED, _("from a cell of its own, or nobody knows")),
            Word(CALCULATED, _("worked out from O2")),
        ),
    )
    return (
        Group(_("analyser"), named_fields(desk.today), name="analyser"),
        Group(_("tolerance"), (*tolerance_fields(), highest), CAUTION, name="tolerance"),
        Group(_("CO2 of the analyser"), (cell,), CO2_CAUTION, name="co2_cell"),
        Group(_("order of the slip"), (order,), ORDER_CAUTION, name="order"),
    )
