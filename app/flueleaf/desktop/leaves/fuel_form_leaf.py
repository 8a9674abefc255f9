"""The form of a fuel of the owner's: its composition, from which every constant follows."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QPushButton

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.fuel_words import ELEMENTS, GASES
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.domain.quantities import Quantity
from flueleaf.domain.words import marked
from flueleaf.operations import owned
from flueleaf.operations.changes import Changes
from flueleaf.operations.owned import FuelRow

CAUTION = _(
    "From the analysis of its supplier. Every figure of an appliance that burns it follows from this: a "
    "wrong composition makes wrong figures look right. Whether an appliance may burn it, its maker says."
)
STATES = (Word("gas", _("gas")), Word("liquid", _("liquid")))
# What a field takes while typing; the reader of the fuel has the last word. Common practice.
SHARE = Quantity("share", marked("share"), "%", Decimal(0), Decimal(100), 2, ("%",))
HEAT = Quantity("heat", marked("net heating value"), "MJ/kg", Decimal(20), Decimal(60), 2, ("MJ/kg",))
GAS, LIQUID = "mole_pct", "mass_pct"
LIQUID_HEAT = "net_mj_per_kg"


class FuelForm(FormLeaf):
    """Only the parts of the state chosen are asked; what they add up to stands at their head."""

    def __init__(self, desk: Desk, place: Place, row: FuelRow | None) -> None:
        self._row = row
        title = _("New fuel") if row is None else row.fuel.name
        heading = (title, _("by its composition"))
        super().__init__(desk, place, heading=heading, groups=_groups(new=row is None), keep=self._enter)
        if row is not None:
            self.fill_in(row.document)
        else:
            self.fill_in({"state": "gas"})
        self.changed.connect(self._follow)
        self._follow()

    def commands(self) -> tuple[Command, ...]:
        """Those of every form, and taking the fuel back."""
        back = (Command(_("Take the fuel back"), ("Ctrl+Shift+X",), self._take_back),)
        return (*super().commands(), *(back if self._offered else ()))

    def end_buttons(self) -> tuple[QPushButton, ...]:
        """Those of every form, and taking the fuel back while it is offered."""
        if not self._offered:
            return super().end_buttons()
        back = button(_("Take the fuel back"), "fuel.take_back", self._take_back)
        return (*super().end_buttons(), back)

    def showEvent(self, event: QShowEvent) -> None:
        """Ask for the parts of what was typed half and taken up again."""
        super().showEvent(event)
        self._follow()

    @property
    def _offered(self) -> bool:
        return self._row is not None and not self._row.withdrawn

    @property
    def _group(self) -> str:
        return LIQUID if self.fields["state"].text() == "liquid" else GAS

    def _follow(self) -> None:
        """Show the parts of the state chosen, and what they add up to."""
        for section in self.sections:
            name = section.objectName().removeprefix("section.")
            if name in (GAS, LIQUID):
                section.setVisible(name == self._group)
                section.set_state(self._sum(name))

    def _sum(self, group: str) -> str:
        parts = [self.fields[name] for name in self.fields if name.startswith(f"{group}.")]
        values = [field.value() for field in parts if isinstance(field, NumberField)]
        total = sum((value for value in values if value is not None), Decimal(0))
        return _("{sum} % so far", sum=f"{total:f}")

    def _enter(self, document: dict[str, Any]) -> Changes:
        other = {GAS: (LIQUID, LIQUID_HEAT), LIQUID: (GAS,)}[self._group]
        asked = {key: value for key, value in document.items() if key not in other}
        return owned.enter_fuel(self.desk.book, asked, at=self.desk.now())

    def _take_back(self) -> None:
        assert self._row is not None
        name, now = self._row.fuel.name, self.desk.now()
        self.carry_out(lambda: owned.withdraw_fuel(self.desk.book, name, at=now))


def _groups(*, new: bool) -> Sequence[Group]:
    name = (TextField("name", _("name")),) if new else ()  # a known one keeps its name: appliances go by it
    named: tuple[Field, ...] = (
        *name,
        TextField("source", _("whose analysis, of which day")),
        WordsField("state", _("it is a"), STATES),
    )
    gases = tuple(NumberField(f"{GAS}.{name}", SHARE, label=words) for name, words in GASES.items())
    heat = NumberField(LIQUID_HEAT, HEAT)
    elements = tuple(NumberField(f"{LIQUID}.{name}", SHARE, label=words) for name, words in ELEMENTS.items())
    return (
        Group(_("fuel"), named, CAUTION, "fuel"),
        Group(_("parts by mole"), gases, _("They add up to 100 %. What is left empty is none."), GAS),
        Group(
            _("parts by mass"),
            (*elements, heat),
            _("What is missing to 100 % counts as inert; the net heating value is that at 25 °C."),
            LIQUID,
        ),
    )


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of a new fuel, or of the one called ``place.key``.

    Raises:
        UserProblem: it is none of the owner's.
    """
    if not place.key:
        return FuelForm(desk, place, None)
    for row in owned.fuels(desk.book):
        if row.fuel.name == place.key:
            return FuelForm(desk, place, row)
    raise UserProblem(_("There is no fuel of yours called “{fuel}”.", fuel=place.key))
