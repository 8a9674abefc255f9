"""The form of an appliance: what its plate and its maker say."""

from __future__ import annotations

import dataclasses
from typing import Any

from PySide6.QtGui import QShowEvent

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
from flueleaf.desktop.photo.looking import Looking
from flueleaf.desktop.photo.photo_line import PhotoLine
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import FLUES, ApplianceId, PremisesId
from flueleaf.operations import pages, photos, register, tables
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake import documents
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_appliance

CAUTION = _(
    "The maker’s instructions come first. A limit laxer than the rule table’s counts only with its source."
)
TEST_POINTS = (
    Word("air inlet, flue", _("air inlet and flue"), "b"),
    Word("flue", _("flue only"), "f"),
    Word("air inlet", _("air inlet only"), "a"),
)
# By the path of the value: the ends of the maker's windows.
WINDOWS = (
    ("limits.co2_pct.max.0", _("CO2 at high rate, from")),
    ("limits.co2_pct.max.1", _("CO2 at high rate, to")),
    ("limits.co2_pct.min.0", _("CO2 at low rate, from")),
    ("limits.co2_pct.min.1", _("CO2 at low rate, to")),
)


class _PlateForm(FormLeaf):
    """The form of an appliance, which offers the fuels its kind may burn.

    Photographs of its visits can stand beside it.
    """

    looking: Looking | None = None

    def look_at(self, looking: Looking) -> None:
        """Say above the plate how many photographs there are."""
        self.looking = looking
        self._column.insertWidget(1, PhotoLine(looking.shelf.note))

    def commands(self) -> tuple[Command, ...]:
        """Those of every form, and the photographs."""
        return (*super().commands(), *(self.looking.commands if self.looking is not None else ()))

    def showEvent(self, event: QShowEvent) -> None:
        """Offer the fuels of the kind that stands here, from the book or half typed."""
        super().showEvent(event)
        self.offer_fuels()

    def note_change(self, field: str = "") -> None:
        """Offer other fuels to another kind."""
        super().note_change(field)
        self.offer_fuels()

    def show_state(self, state: Any) -> None:
        """Offer the fuels of the kind brought back."""
        super().show_state(state)
        self.offer_fuels()

    def offer_fuels(self) -> None:
        """Offer the fuels of the kind typed, all of them while none is."""
        known = tables.of_book(self.desk.book)
        kind, fuel = self.fields["kind"], self.fields["fuel"]
        assert isinstance(kind, ChoiceField)
        assert isinstance(fuel, ChoiceField)
        if (fuels := fuels_of(kind.value(), known)) != fuel.choices:
            fuel.set_choices(fuels)
            fuel.check()


def fuels_of(kind: str, known: tables.Tables) -> tuple[str, ...]:
    """Return the fuels a kind of appliance may burn; all that are offered where the kind is not known."""
    found = known.kinds.get(kind)
    return tuple(found.fuels) if found is not None else known.offered


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of a new appliance at the premises ``place.within``, or of the one ``place.key``."""
    number = ApplianceId(int(place.key)) if place.key else None
    page = pages.appliance_page(desk.book, number) if number is not None else None
    home = page.premises.id if page is not None else PremisesId(int(place.within))

    def keep(document: dict[str, Any]) -> Changes:
        if points := document.get("test_points"):
            document["test_points"] = str(points).split(", ")
        reader = Reader.of(document, typed=True)
        now = tables.of_book(desk.book)
        burns = fuels_of(str(document.get("kind", "")), now)
        appliance = read_appliance(reader, kinds=tables.choices_of(now).flues, fuels=burns)
        reader.finish()
        record = dataclasses.replace(appliance, id=number, premises_id=home)
        return register.save_appliance(desk.book, record)

    title = _("New appliance") if number is None else _("Appliance")
    groups = (_plate(desk), _limits())
    leaf = _PlateForm(desk, place, heading=(title, _("as its plate says")), groups=groups, keep=keep)
    if number is not None:
        leaf.look_at(Looking(leaf, lambda: photos.of_appliance(desk.book, number)))
    if page is not None:
        document = dict(documents.appliance_document(page.appliance))
        document["test_points"] = ", ".join(page.appliance.test_points)
        leaf.fill_in(document)
        leaf.set_heading(name_of(page.appliance), _("as its plate says"))
    return leaf


def _plate(desk: Desk) -> Group:
    return Group(_("plate"), (
        ChoiceField("kind", _("kind"), tuple(tables.shipped().kinds)),
        TextField("make", _("make")),
        TextField("model", _("model")),
        TextField("serial", _("serial")),
        TextField("location", _("where it stands")),
        ChoiceField("fuel", _("fuel"), fuels_of("", tables.of_book(desk.book))),
        WordsField("flue", _("flue"), FLUES),
        NumberField("rated_input.max_kw", KW, label=_("heat input, highest")),
        NumberField("rated_input.min_kw", KW, label=_("heat input, lowest")),
        WordsField("rated_input.basis", _("stated as"), ("net", "gross")),
        WordsField("test_points", _("test points"), TEST_POINTS),
        DateField("installed", _("installed"), today=desk.today, future=False),
    ), name="plate")  # fmt: skip


def _limits() -> Group:
    fields: list[Field] = [
        NumberField("limits.co_ppm", QUANTITIES["co_ppm"], label=_("CO, at most")),
        NumberField("limits.ratio", QUANTITIES["ratio"], label=_("CO/CO2 ratio, at most")),
        NumberField("limits.smoke", QUANTITIES["smoke"], label=_("smoke number, at most")),
    ]
    fields += [NumberField(name, QUANTITIES["co2_pct"], label=words) for name, words in WINDOWS]
    fields.append(TextField("limits.limits_source", _("document and page")))
    return Group(_("maker’s limits"), fields, CAUTION, "limits")
