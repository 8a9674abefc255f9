"""Gas supply: pressures, a run of the meter, the tightness test as entered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.section import label
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.form import Form, typed_number
from flueleaf.desktop.visit.premises_shared import Shared
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.typed_quantities import HEATING_VALUE, INPUT, PERCENT, PRESSURE, SECONDS, VOLUME
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Refused
from flueleaf.domain.quantities import Quantity
from flueleaf.operations.combustion import gas_rate_document
from flueleaf.operations.facts.wording import figure

PRESSURES = (
    ("standing_mbar", _("standing pressure")),
    ("working_mbar", _("working pressure")),
    ("inlet_mbar", _("at the appliance inlet")),
)
TIGHTNESS = (
    ("let-by", _("tightness: let-by")),
    ("test mbar", _("tightness: test, mbar")),
    ("movement", _("tightness: movement")),
    ("duration minutes", _("tightness: minutes")),
)
OF_PREMISES = "standing_mbar"  # with the tightness test
NUMBER_PX = 80
METER_UNITS = (Word("m3", "m³", "m"), Word("ft3", "ft³", "f"))


class SupplyPart(StagePart):
    """The supply of one appliance."""

    KEYS = ("supply",)

    def add_own(self) -> None:
        """Pressures, meter run, tightness."""
        self._form = Form()
        own = f"{self.prefix}.supply"
        pressures = Cells()
        of_premises: list[Field] = []
        for key, words in TIGHTNESS:
            field = TextField(f"{own}.tightness.{key}", words)
            of_premises.append(pressures.put(self._form.add(f"tightness.{key}", field)))
        for key, words in PRESSURES:
            put = pressures.put(self._number(key, PRESSURE, words))
            if key == OF_PREMISES:
                of_premises.append(put)
        self._shared = _shared(of_premises)
        self._add_run(pressures, own)
        self.add_widget(pressures)
        self._input = label("", tone="soft", wrap=True)
        self._input.hide()
        self.add_widget(self._input)
        self.typing.ear.listen(self._form.fields)

    def own_shared(self) -> Sequence[Shared]:
        """Return the tightness test with the standing pressure: the meter is the premises'."""
        return (self._shared,)

    def own_fields(self) -> Sequence[QWidget]:
        """Return the fields."""
        return self._form.fields

    def fill(self, work: Mapping[str, Any]) -> None:
        """Show a supply."""
        super().fill(work)
        self._form.fill(work.get("supply", {}))

    def read(self) -> dict[str, Any]:
        """Return ``supply``, left out where nothing was typed."""
        piece = self._form.read()
        return {"supply": piece} if piece else {}

    def locate(self, path: str) -> Field | None:
        """Return the field of a path inside the work."""
        return (
            self._form.locate(path.removeprefix("supply").lstrip(".")) if path.startswith("supply") else None
        )

    def show_input(self, fuel: str) -> None:
        """Say which heat input the meter run shows, as soon as it is whole."""
        run = self._form.read().get("gas_rate", {})
        text = _input_text({"fuel": fuel, **run}) if run.get("meter") else ""
        self._input.setText(text)
        self._input.setVisible(bool(text))

    def _add_run(self, cells: Cells, own: str) -> None:
        cells.put(self._number("gas_rate.meter.volume", VOLUME, _("meter run, volume")))
        unit = WordsField(f"{own}.gas_rate.meter.unit", _("meter reads in"), METER_UNITS)
        cells.put(self._form.add("gas_rate.meter.unit", unit))
        cells.put(self._number("gas_rate.meter.seconds", SECONDS, _("in the time")))
        cells.put(self._number("gas_rate.calorific_value_mj_m3", HEATING_VALUE, _("calorific value")))
        cells.put(self._number("gas_rate.rated_input.kw", INPUT, _("plate’s input")))
        basis = WordsField(f"{own}.gas_rate.rated_input.basis", _("stated as"), ("net", "gross"))
        cells.put(self._form.add("gas_rate.rated_input.basis", basis))
        cells.put(self._number("gas_rate.tolerance_pct.plus", PERCENT, _("may be over by")))
        cells.put(self._number("gas_rate.tolerance_pct.minus", PERCENT, _("may be under by")))

    def _number(self, path: str, quantity: Quantity, words: str) -> NumberField:
        name = f"{self.prefix}.supply.{path}"
        field = NumberField(name, quantity, label=words, width_px=NUMBER_PX)
        return self._form.add(path, field, typed_number)


def _shared(fields: Sequence[Field]) -> Shared:
    """Return the fields of the premises' supply as one entry, which is followed or answered as a whole."""

    def read() -> dict[str, Any]:
        return {str(n): field.text() for n, field in enumerate(fields) if field.text().strip()}

    def fill(texts: Mapping[str, Any]) -> None:
        for n, field in enumerate(fields):
            field.set_text(texts.get(str(n), ""))

    def show(here: bool) -> None:
        for field in fields:
            if (cell := field.parentWidget()) is not None:
                cell.setVisible(here)

    return Shared("supply", fields, (read, fill), show)


def _input_text(document: Mapping[str, Any]) -> str:
    try:
        rate = gas_rate_document(document)
    except Refused:
        return ""
    known = {
        "net": figure(rate["input_net_kw"], 1),
        "gross": figure(rate["input_gross_kw"], 1),
        "verdict": _(rate.get("verdict") or ""),
    }
    if rate.get("deviation_pct") is None:
        text = _("heat input by the meter {net} kW net, {gross} kW gross", **known)
    else:
        known["deviation"] = figure(rate["deviation_pct"], 1)
        text = _(
            "heat input by the meter {net} kW net, {gross} kW gross; {deviation} % against the plate", **known
        )
    return _("{sentence}: {verdict}", sentence=text, verdict=known["verdict"]) if known["verdict"] else text
