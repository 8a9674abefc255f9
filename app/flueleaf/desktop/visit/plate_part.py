"""The plate of an appliance and its maker's limits; a known model brings both."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.offer_field import Offer, OfferField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.fold import Fold
from flueleaf.desktop.visit.form import Form, date_text, typed_date, typed_lines, typed_number
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.plate_words import plate_summary
from flueleaf.desktop.visit.typed_quantities import INPUT
from flueleaf.desktop.visit.window_field import WindowField, window_text
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import FLUES, Appliance
from flueleaf.operations import tables
from flueleaf.operations.intake.documents import appliance_document

POINTS = ("air inlet, flue", "flue", "air inlet")
OF_ONE = ("serial", "location", "installed")  # what a plate shares with no other of its model
NUMBER_PX = 92


class PlatePart(Part):
    """One appliance as its plate describes it."""

    kind_changed = Signal()

    def __init__(self, typing: Typing, prefix: str, models: Sequence[Appliance]) -> None:
        super().__init__("plate", typing)
        self._models = models
        self._prefix = f"{prefix}.appliance"
        self._form = Form()
        self.fold = Fold(f"{prefix}.plate", _("Change plate and limits"), self._made)
        self.fold.built.connect(self._on_built)
        self.add_widget(self.fold)

    def fields(self) -> Sequence[QWidget]:
        """Return the button of the fold and the fields."""
        return (self.fold.opener, *self._form.fields)

    def fill(self, appliance: Mapping[str, Any]) -> None:
        """Show a plate; one that is complete is folded."""
        if self.refill(appliance):
            self.fold.fold()

    def refill(self, appliance: Mapping[str, Any]) -> bool:
        """Show a plate; one that is not complete is opened. Returns whether it is."""
        self._show(appliance)
        complete = all(appliance.get(key) for key in ("kind", "fuel", "make"))
        if not complete:
            self.fold.open_up()
        return complete

    def read(self) -> dict[str, Any]:
        """Return the appliance."""
        return self._form.read()

    def locate(self, path: str) -> Field | None:
        """Return the field of a path inside the appliance."""
        if path == "limits_source":
            path = "limits.limits_source"
        self.fold.build()
        return self._form.locate(path) or self._kind

    def sum_up(self) -> None:
        """Bring the folded lines up to date."""
        self.fold.set_summary(plate_summary(self.read()))

    def _show(self, appliance: Mapping[str, Any]) -> None:
        piece = dict(appliance)
        if source := piece.pop("limits_source", ""):
            piece["limits"] = {"limits_source": source, **piece.get("limits", {})}
        self._form.fill(piece)
        self.sum_up()

    def _made(self) -> QWidget:
        body = Cells()
        self._add_plate(body)
        self._add_limits(body)
        return body

    def _on_built(self) -> None:
        self._form.complete()
        self.typing.ear.listen(self._form.fields)
        self.typing.ear.grown.emit()

    def _add_plate(self, body: Cells) -> None:
        shipped, own, today = tables.shipped(), self._prefix, self.typing.desk.today
        self._kind = ChoiceField(f"{own}.kind", "kind", tuple(shipped.kinds))
        self._kind.edited.connect(self._on_kind_edited)
        model = OfferField(f"{own}.model", "model", self._known)
        model.picked.connect(self._on_model_picked)
        self._make = TextField(f"{own}.make", "make")
        self._fuel = ChoiceField(f"{own}.fuel", "fuel", tuple(shipped.fuels))
        self._flue = WordsField(f"{own}.flue", "flue", FLUES)
        basis = WordsField(f"{own}.rated_input.basis", "stated as", ("net", "gross"))
        put, add = body.put, self._form.add
        put(add("kind", self._kind, _chosen), units=2)
        put(add("make", self._make))
        put(add("model", model))
        put(add("serial", TextField(f"{own}.serial", "serial")))
        put(add("location", TextField(f"{own}.location", "where it stands")))
        put(add("fuel", self._fuel, _chosen), units=2)
        put(add("flue", self._flue), units=2)
        for key, words in (("max_kw", "input, high rate"), ("min_kw", "input, low rate")):
            field = NumberField(f"{own}.rated_input.{key}", INPUT, label=words, width_px=NUMBER_PX)
            put(add(f"rated_input.{key}", field, typed_number))
        put(add("rated_input.basis", basis))
        points = ChoiceField(f"{own}.test_points", "test points", POINTS, others=True)
        put(add("test_points", points, typed_lines, _points_text), units=2)
        installed = DateField(f"{own}.installed", "installed", today=today, future=False)
        put(add("installed", installed, typed_date(today), date_text), units=2)

    def _add_limits(self, body: Cells) -> None:
        own = f"{self._prefix}.limits"
        for key, words in (("co_ppm", "maker’s CO, at most"), ("ratio", "maker’s ratio, at most")):
            field = NumberField(f"{own}.{key}", QUANTITIES[key], label=words, width_px=NUMBER_PX)
            body.put(self._form.add(f"limits.{key}", field, typed_number))
        for rate, words in (("max", "maker’s CO2, high rate"), ("min", "maker’s CO2, low rate")):
            window = WindowField(f"{own}.co2_pct.{rate}", words, QUANTITIES["co2_pct"])
            body.put(self._form.add(f"limits.co2_pct.{rate}", window, lambda f: f.ends(), window_text))
        source = TextField(f"{own}.limits_source", "document and page of the limits")
        body.put(self._form.add("limits.limits_source", source), units=3)

    def _known(self, text: str) -> Sequence[Offer]:
        make, wanted = self._make.text().strip().lower(), text.lower().split()
        return [
            Offer(f"{one.make} {one.model}  ·  {one.kind}, {one.fuel}", one.model, one)
            for one in self._models
            if make in one.make.lower() and all(word in f"{one.make} {one.model}".lower() for word in wanted)
        ]

    def _on_model_picked(self, model: Appliance) -> None:
        before = self.read()
        plate = {key: value for key, value in appliance_document(model).items() if key not in OF_ONE}
        self._show({**plate, **{key: before[key] for key in OF_ONE if key in before}})
        self.kind_changed.emit()

    def _on_kind_edited(self, _text: str) -> None:
        kind = tables.shipped().kinds.get(self._kind.value())
        if kind is None:
            return
        self._fuel.set_choices(kind.fuels)
        if len(kind.flues) == 1:  # the kind says it; where there is a choice the plate has to
            self._flue.set_text(kind.flues[0])
        self.kind_changed.emit()


def _chosen(field: ChoiceField) -> str:
    return field.value() or field.text().strip()


def _points_text(value: Any) -> str:
    return ", ".join(value) if isinstance(value, list) else str(value)
