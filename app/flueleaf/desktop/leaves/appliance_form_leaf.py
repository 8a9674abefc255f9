"""The form of an appliance: what its plate and its maker say."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.appliance_leaf import name_of
from flueleaf.desktop.leaves.form_fields import KW
from flueleaf.desktop.photo.looking import looking_commands
from flueleaf.desktop.place import Place
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import FLUES, ApplianceId, PremisesId
from flueleaf.operations import pages, photos, register, tables
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake import documents
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_appliance

CAUTION = (
    "The maker’s instructions come first. A limit laxer than the rule table’s counts only with its source."
)
TEST_POINTS = (
    Word("air inlet, flue", "air inlet and flue", "b"),
    Word("flue", "flue only"),
    Word("air inlet", "air inlet only", "a"),
)
WINDOWS = (("max", "at max rate"), ("min", "at min rate"))


class _PlateForm(FormLeaf):
    """The form of an appliance; photographs of its visits can stand beside it."""

    looking: tuple[Command, ...] = ()

    def commands(self) -> tuple[Command, ...]:
        """Those of every form, and the photographs."""
        return (*super().commands(), *self.looking)


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of a new appliance at the premises ``place.within``, or of the one ``place.key``."""
    number = ApplianceId(int(place.key)) if place.key else None
    page = pages.appliance_page(desk.book, number) if number is not None else None
    home = page.premises.id if page is not None else PremisesId(int(place.within))
    kinds, fuels = tuple(tables.shipped().kinds), tuple(tables.shipped().fuels)

    def keep(document: dict[str, Any]) -> Changes:
        if points := document.get("test_points"):
            document["test_points"] = str(points).split(", ")
        reader = Reader.of(document, typed=True)
        appliance = read_appliance(reader, kinds=tables.choices().flues, fuels=fuels)
        reader.finish()
        record = dataclasses.replace(appliance, id=number, premises_id=home)
        return register.save_appliance(desk.book, record)

    title = "New appliance" if number is None else "Appliance"
    groups = (_plate(desk, kinds, fuels), _limits())
    leaf = _PlateForm(desk, place, heading=(title, "as its plate says"), groups=groups, keep=keep)
    if number is not None:
        leaf.looking = looking_commands(leaf, lambda: photos.of_appliance(desk.book, number))
    if page is not None:
        document = dict(documents.appliance_document(page.appliance))
        document["test_points"] = ", ".join(page.appliance.test_points)
        leaf.fill_in(document)
        leaf.set_heading(name_of(page.appliance), "as its plate says")
    return leaf


def _plate(desk: Desk, kinds: Sequence[str], fuels: Sequence[str]) -> Group:
    return Group("plate", (
        ChoiceField("kind", "kind", kinds),
        TextField("make", "make"),
        TextField("model", "model"),
        TextField("serial", "serial"),
        TextField("location", "where it stands"),
        ChoiceField("fuel", "fuel", fuels),
        WordsField("flue", "flue", FLUES),
        NumberField("rated_input.max_kw", KW, label="heat input, highest"),
        NumberField("rated_input.min_kw", KW, label="heat input, lowest"),
        WordsField("rated_input.basis", "stated as", ("net", "gross")),
        WordsField("test_points", "test points", TEST_POINTS),
        DateField("installed", "installed", today=desk.today, future=False),
    ))  # fmt: skip


def _limits() -> Group:
    fields: list[Field] = [
        NumberField("limits.co_ppm", QUANTITIES["co_ppm"], label="CO, at most"),
        NumberField("limits.ratio", QUANTITIES["ratio"], label="CO/CO2 ratio, at most"),
        NumberField("limits.smoke", QUANTITIES["smoke"], label="smoke number, at most"),
    ]
    for rate, words in WINDOWS:
        for at, end in enumerate(("from", "to")):
            name = f"limits.co2_pct.{rate}.{at}"
            fields.append(NumberField(name, QUANTITIES["co2_pct"], label=f"CO2 {words}, {end}"))
    fields.append(TextField("limits.limits_source", "document and page"))
    return Group("maker’s limits", fields, CAUTION)
