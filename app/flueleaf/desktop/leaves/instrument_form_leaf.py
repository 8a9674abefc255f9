"""The form of an analyser: its calibration and what it can tell."""

from __future__ import annotations

import dataclasses
from decimal import Decimal
from typing import Any

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.form_fields import SHARE
from flueleaf.desktop.place import Place
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import Instrument, InstrumentId
from flueleaf.operations import register
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake import documents
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_instrument

CAUTION = "As its data sheet says. Without them the usual tolerances count, and the papers say so."


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of a new analyser, or of the one with the id ``place.key``."""
    number = InstrumentId(int(place.key)) if place.key else None
    known = register.instrument(desk.book, number) if number is not None else None

    def keep(document: dict[str, Any]) -> Changes:
        reader = Reader.of(document, typed=True)
        read = read_instrument(reader)
        reader.finish()
        order = known.order if known is not None else ()
        return register.save_instrument(desk.book, dataclasses.replace(read, id=number, order=order))

    groups = (
        Group("analyser", (TextField("name", "name"), TextField("serial", "serial", width_px=240),
            DateField("calibration_due", "calibration due", today=desk.today))),
        Group("tolerance", (
            NumberField("tolerance.co_ppm.abs", QUANTITIES["co_ppm"], label="CO, ±"),
            NumberField("tolerance.co_ppm.rel", SHARE, label="CO, ± share of the reading"),
            NumberField("tolerance.o2_pct.abs", QUANTITIES["o2_pct"], label="O2, ±"),
            NumberField("tolerance.co2_pct.abs", QUANTITIES["co2_pct"], label="CO2, ±"),
            NumberField("range.co_ppm", QUANTITIES["co_ppm"], label="CO, highest it reads"),
        ), CAUTION),
    )  # fmt: skip
    title = "New analyser" if known is None else known.name
    leaf = FormLeaf(desk, place, heading=(title, "whose slips you type"), groups=groups, keep=keep)
    if known is not None:
        leaf.fill_in(_told(known))
    return leaf


def _told(instrument: Instrument) -> dict[str, Any]:
    """Return an analyser as a document, without the zeros that stand for what its data sheet does not say."""
    document = documents.instrument_document(instrument)
    tolerance = document.get("tolerance", {})
    document["tolerance"] = {
        key: {part: text for part, text in parts.items() if Decimal(text)} for key, parts in tolerance.items()
    }
    return document
