"""The plate of an appliance and its maker's limits; a known model brings both."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.offer_field import Offer, OfferField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.desktop.photo.photo_line import PhotoLine
from flueleaf.desktop.spacing import set_gap
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
BASES = ("net", "gross")
NUMBER_PX = 92


class PlatePart(Part):
    """One appliance as its plate describes it."""

    kind_changed = Signal()

    def __init__(self, typing: Typing, prefix: str, models: Sequence[Appliance]) -> None:
        super().__init__(_("plate"), typing, name="plate")
        self._models = models
        self._smoke: NumberField | None = None
        self._prefix = f"{prefix}.appliance"
        self._form = Form()
        self.fold = Fold(f"{prefix}.plate", _("Change plate and limits"), self._made)
        self.fold.built.connect(self._on_built)
        self.add_widget(self.fold)

    def fields(self) -> Sequence[QWidget]:
        """Return the button of the fold and the fields."""
        return (self.fold.opener, *self._form.fields)

    def fill(self, appliance: Mapping[str, Any]) -> None:
        """Show a plate; one that is complete is folded, the fields of another come a little later."""
        self._show(appliance)
        if _whole(appliance):
            self.fold.fold()
        else:
            self.open_later(self.fold)

    def refill(self, appliance: Mapping[str, Any]) -> None:
        """Show a plate; one that is not complete is opened."""
        self._show(appliance)
        if not _whole(appliance):
            self.fold.open_up()

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
        self._form.fill(_limits_inside(appliance))
        self._want_smoke()
        self.sum_up()

    def _made(self) -> QWidget:
        cells = Cells()
        self._add_plate(cells)
        self._add_limits(cells)
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, 0, 0)
        set_gap(column, 2)
        column.addWidget(PhotoLine(self.typing.photos))
        column.addWidget(cells)
        return body

    def _on_built(self) -> None:
        self._form.complete()
        self._want_smoke()
        self.typing.ear.listen(self._form.fields)
        self.typing.ear.grown.emit()

    def _add_plate(self, body: Cells) -> None:
        known, own, today = self._tables(), self._prefix, self.typing.desk.today
        also = {name: kind.also for name, kind in known.kinds.items()}
        self._kind = ChoiceField(f"{own}.kind", _("kind"), tuple(known.kinds), also=also)
        self._kind.edited.connect(self._on_kind_edited)
        model = OfferField(f"{own}.model", _("model"), self._known)
        model.picked.connect(self._on_model_picked)
        model.left.connect(self._on_model_left)
        self._model = model
        self._make = TextField(f"{own}.make", _("make"))
        self._fuel = ChoiceField(f"{own}.fuel", _("fuel"), known.offered)
        self._fuel.edited.connect(self._want_smoke)
        self._flue = WordsField(f"{own}.flue", _("flue"), FLUES)
        self._flue.edited.connect(self._on_flue_edited)
        basis = WordsField(f"{own}.rated_input.basis", _("stated as"), BASES)
        put, add = body.put, self._form.add
        put(add("kind", self._kind, _chosen), units=2)
        put(add("make", self._make))
        put(add("model", model))
        put(add("serial", TextField(f"{own}.serial", _("serial"))))
        put(add("location", TextField(f"{own}.location", _("where it stands"))))
        put(add("fuel", self._fuel, _chosen), units=2)
        put(add("flue", self._flue), units=2)
        for key, words in (("max_kw", _("input, high rate")), ("min_kw", _("input, low rate"))):
            field = NumberField(f"{own}.rated_input.{key}", INPUT, label=words, width_px=NUMBER_PX)
            put(add(f"rated_input.{key}", field, typed_number))
        put(add("rated_input.basis", basis))
        points = ChoiceField(f"{own}.test_points", _("test points"), POINTS, others=True)
        put(add("test_points", points, typed_lines, _points_text), units=2)
        installed = DateField(f"{own}.installed", _("installed"), today=today, future=False)
        put(add("installed", installed, typed_date(today), date_text), units=2)

    def _add_limits(self, body: Cells) -> None:
        own = f"{self._prefix}.limits"
        for key, words in (("co_ppm", _("maker’s CO, at most")), ("ratio", _("maker’s ratio, at most"))):
            self._add_highest(body, key, words)
        for key, rate, words in (
            ("co2_pct", "max", _("maker’s CO2, high rate")),
            ("co2_pct", "min", _("maker’s CO2, low rate")),
            ("o2_pct", "max", _("maker’s O2, high rate")),
            ("o2_pct", "min", _("maker’s O2, low rate")),
        ):
            window = WindowField(f"{own}.{key}.{rate}", words, QUANTITIES[key])
            body.put(self._form.add(f"limits.{key}.{rate}", window, lambda f: f.ends(), window_text))
        self._smoke = self._add_highest(body, "smoke", _("maker’s smoke number, at most"))
        source = TextField(f"{own}.limits_source", _("document and page of the limits"))
        body.put(self._form.add("limits.limits_source", source), units=3)

    def _add_highest(self, body: Cells, key: str, words: str) -> NumberField:
        field = NumberField(f"{self._prefix}.limits.{key}", QUANTITIES[key], label=words, width_px=NUMBER_PX)
        body.put(self._form.add(f"limits.{key}", field, typed_number))
        return field

    def _want_smoke(self, _text: str = "") -> None:
        """Ask for the smoke limit where a liquid is burnt; one that is there is always shown."""
        if self._smoke is not None and (cell := self._smoke.parentWidget()) is not None:
            fuel = self._tables().fuels.get(_chosen(self._fuel))
            cell.setVisible(bool(self._smoke.text()) or (fuel is not None and fuel.state == "liquid"))

    def _tables(self) -> tables.Tables:
        """What counts in the book, the owner's own fuels among it."""
        return tables.of_book(self.typing.desk.book)

    def _known(self, text: str) -> Sequence[Offer]:
        make, wanted = self._make.text().strip().lower(), text.lower().split()
        return [
            Offer(f"{one.make} {one.model}  ·  {_(one.kind)}, {_(one.fuel)}", one.model, one)
            for one in self._models
            if make in one.make.lower() and all(word in f"{one.make} {one.model}".lower() for word in wanted)
        ]

    def _on_model_picked(self, model: Appliance) -> None:
        before = self.read()
        plate = {key: value for key, value in appliance_document(model).items() if key not in OF_ONE}
        self._show({**plate, **{key: before[key] for key in OF_ONE if key in before}})
        self.kind_changed.emit()

    def _on_model_left(self) -> None:
        """Bring what is known of a model that was typed out instead of picked; what is typed stays."""
        typed = (self._make.text().strip().lower(), self._model.text().strip().lower())
        fits = [
            one
            for one in self._models
            if typed[1] and (typed[0] or one.make.lower(), typed[1]) == (one.make.lower(), one.model.lower())
        ]
        kind = _chosen(self._kind)
        if len(fits) == 1 and kind in ("", fits[0].kind):
            plate = appliance_document(fits[0])
            if self.take_over({key: value for key, value in plate.items() if key not in OF_ONE}):
                self.typing.ear.typed.emit()

    def take_over(self, plate: Mapping[str, Any]) -> int:
        """Fill in what is still empty from another plate; returns how many values came."""
        before = self.read()
        after = _filled(_limits_inside(plate), before)
        count = _values(after) - _values(before)
        if count:
            self._show(after)
            self.kind_changed.emit()
        return count

    def _on_flue_edited(self, _text: str) -> None:
        # The flue picks stages, checks and slips as the kind does.
        self.kind_changed.emit()

    def _on_kind_edited(self, _text: str) -> None:
        kind = self._tables().kinds.get(self._kind.value())
        if kind is None:
            return
        self._fuel.set_choices(kind.fuels)
        if len(kind.flues) == 1:  # the kind says it; where there is a choice the plate has to
            self._flue.set_text(kind.flues[0])
        self.kind_changed.emit()


def _whole(appliance: Mapping[str, Any]) -> bool:
    return all(appliance.get(key) for key in ("kind", "fuel", "make"))


def _limits_inside(appliance: Mapping[str, Any]) -> dict[str, Any]:
    """Return a plate whose document of the limits stands among them."""
    piece = dict(appliance)
    if source := piece.pop("limits_source", ""):
        piece["limits"] = {"limits_source": source, **piece.get("limits", {})}
    return piece


def _filled(base: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """Return an object with what it lacks taken from another, at every depth."""
    both = {**base, **over}
    return {
        key: _filled(base[key], value)
        if isinstance(value, Mapping) and isinstance(base.get(key), Mapping)
        else value
        for key, value in both.items()
    }


def _values(value: Any) -> int:
    return sum(_values(one) for one in value.values()) if isinstance(value, Mapping) else 1


def _chosen(field: ChoiceField) -> str:
    return field.value() or field.text().strip()


def _points_text(value: Any) -> str:
    return ", ".join(value) if isinstance(value, list) else str(value)
