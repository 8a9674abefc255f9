"""Gas supply: pressures, a run of the meter, the tightness test as entered."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from decimal import Decimal, InvalidOperation
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_margins
from flueleaf.desktop.verdict_mark import VerdictWord
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.figure_rows import FigureRows
from flueleaf.desktop.visit.form import Form, date_text, typed_date, typed_number
from flueleaf.desktop.visit.gas_rate_figures import MOST_DECIMALS, GasRateShown, gas_rate_shown
from flueleaf.desktop.visit.premises_shared import Shared
from flueleaf.desktop.visit.run_time_field import RunTimeField
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.visit.typed_quantities import (
    HEATING_VALUE,
    INPUT,
    PER_TURN,
    PERCENT,
    PRESSURE,
    SECONDS,
    TURNS,
    VOLUME,
)
from flueleaf.desktop.words import _
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.quantities import Quantity
from flueleaf.operations import tables
from flueleaf.operations.drafting import LastHeat
from flueleaf.operations.facts.guidance import NO_PASS, NOT_FILLED, permissible_drops

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
TURNED = _(
    "The working pressure is above the standing pressure: are the two the right way round? With gas drawn it "
    "does not rise."
)
NUMBER_PX = 80
BY_VOLUME, BY_DIAL = "volume", "test dial"
READ_BY = (Word(BY_VOLUME, _("volume"), "v"), Word(BY_DIAL, _("test dial"), "t"))
RUN = "gas_rate.meter"
OF_DIAL, OF_VOLUME = ("revolutions", "per_revolution"), ("volume",)
NAME_PX = 120
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
        self._heat: LastHeat | None = None
        self._told: tuple[Mapping[str, Any], Mapping[str, Fuel]] | None = (
            None  # what the figures shown are of
        )
        self._turned = label(TURNED, role="small", tone="strong", wrap=True)
        self._offer = label("", role="small", tone="soft", wrap=True)
        self._shown = FigureRows(most_decimals=MOST_DECIMALS, name_px=NAME_PX)
        set_margins(self._shown, 0, 2, 0, 1)
        self._verdict = VerdictWord("unjudged")
        self._allowed = label("", role="small", tone="soft", wrap=True)
        for widget in (self._turned, self._allowed, self._offer, self._shown, self._verdict):
            widget.hide()
            self.add_widget(widget)
        self.typing.ear.listen((*self._form.fields, self._read_by))
        self._held: frozenset[str] = frozenset()
        self._show_fields()

    def own_shared(self) -> Sequence[Shared]:
        """Return the tightness test with the standing pressure: the meter is the premises'.

        A supply without pipework to test is the appliance's own.
        """
        return (self._shared,) if "tightness" in self.stage.supply else ()

    def own_fields(self) -> Sequence[QWidget]:
        """Return the fields, the way the meter was read before what was read."""
        fields: list[QWidget] = list(self._form.fields)
        at = next(n for n, one in enumerate(fields) if one.objectName().endswith(f"{RUN}.volume"))
        return (*fields[:at], self._read_by, *fields[at:])

    def fill(self, work: Mapping[str, Any]) -> None:
        """Show a supply."""
        super().fill(work)
        supply = work.get("supply", {})
        self._form.fill(supply)
        meter = (supply.get("gas_rate") or {}).get("meter") or {}
        if any(key in meter for key in (*OF_DIAL, *OF_VOLUME)):
            self._read_by.set_text(BY_DIAL if any(key in meter for key in OF_DIAL) else BY_VOLUME)
        self._held = frozenset(key for key, value in supply.items() if value)
        self._show_fields()

    def read(self) -> dict[str, Any]:
        """Return ``supply``, {} where nothing was typed; of the meter what is read the way chosen."""
        piece = self._form.read()
        rate = piece.get("gas_rate", {})
        for key in OF_VOLUME if self._by_dial else OF_DIAL:
            rate.get("meter", {}).pop(key, None)
        if rate.get("meter") == {}:
            del rate["meter"]
        if rate == {}:
            piece.pop("gas_rate", None)
        return {"supply": piece} if piece else {}

    def locate(self, path: str) -> Field | None:
        """Return the field of a path inside the work; a missed volume is the dial's, where that is read."""
        if not path.startswith("supply"):
            return None
        inner = path.removeprefix("supply").lstrip(".")
        if self._by_dial and inner in (RUN, f"{RUN}.volume"):
            inner = f"{RUN}.revolutions"
        return self._form.locate(inner)

    def show_input(self, fuel: str, heat: LastHeat | None, known: tables.Tables) -> None:
        """Say which heat input the meter run shows, as soon as it is whole.

        Args:
            fuel: of the appliance.
            heat: the calorific value its gas was last rated with; it is offered while none is typed.
            known: the tables that count in the book, read before: nothing is read at a key.
        """
        self._heat = heat
        self._show_offer()
        self._turned.setVisible(_turned(self.read().get("supply", {})))
        run = self.read().get("supply", {}).get("gas_rate", {})
        told = ({"fuel": fuel, **run} if run.get("meter") else {}, known.fuels)
        if told == self._told:
            return  # worked out and shown already
        self._told = told
        shown = gas_rate_shown(*told) if told[0] else GasRateShown()
        self._shown.set_figures(shown.figures)
        self._shown.setVisible(bool(shown.figures))
        self._verdict.setVisible(bool(shown.verdict))
        if shown.verdict:
            self._verdict.set_verdict(shown.verdict, _("· {why}", why=shown.why))

    def show_drops(self, fuel: str, on: dt.date, known: tables.Tables) -> None:
        """Say which drop the owner's copy allows in the tightness test, once something of it is typed."""
        text = ""
        if self.read().get("supply", {}).get("tightness"):
            burnt = known.fuels.get(fuel)
            drops, behind = permissible_drops(known, burnt, on)
            if drops:
                shown = _(
                    "Permissible drop, appliances connected: {drops}; {source}.",
                    drops=_(drops),
                    source=_(behind),
                )
                text = f"{shown} {_(NO_PASS)}"
            elif burnt is not None and burnt.state == "gas":
                text = _(NOT_FILLED)
        self._allowed.setText(text)
        self._allowed.setVisible(bool(text))

    def take_over_heat(self, focused: QWidget | None) -> LastHeat | None:
        """Fill in the calorific value of last time with its day, where the cursor is at either.

        Returns:
            what was filled in; None where the cursor is elsewhere, or there is nothing to take or to fill.
        """
        if not any(focused is one.control() for one in (self._value, self._of_day)):
            return None
        heat = self._heat
        if heat is None or self._value.text().strip():
            return None
        self._value.set_text(heat.mj_per_m3)
        self._of_day.set_text(heat.date.isoformat())
        self._show_offer()
        return heat

    def _show_offer(self) -> None:
        heat = None if self._value.text().strip() or not self._there("gas_rate") else self._heat
        if heat is not None:
            self._offer.setText(
                _(
                    "Calorific value last {value} MJ/m³, as on {date}: Ctrl+J at its field takes it over.",
                    value=heat.mj_per_m3,
                    date=long_date(heat.date),
                )
            )
        self._offer.setVisible(heat is not None)

    @property
    def _by_dial(self) -> bool:
        return self._read_by.text() == BY_DIAL

    def _there(self, group: str) -> bool:
        """Tell whether something of the supply is asked for: it can be there, or was typed all the same."""
        return group in self.stage.supply or group in self._held

    def _show_fields(self) -> None:
        """Show what can be measured at such a supply, and of its meter what is typed the way chosen."""
        for path, field in self._form.by_path.items():
            if not self._there(path.partition(".")[0]):
                _set_shown(field, shown=False)
            elif not (self._shared.following and field in self._shared.fields):
                _set_shown(field, shown=self._of_way(path))
        _set_shown(self._read_by, shown=self._there("gas_rate"))

    def _of_way(self, path: str) -> bool:
        """Tell whether a value is typed of a meter read the way chosen, or of something else."""
        group, _dot, key = path.rpartition(".")
        return group != RUN or key not in (*OF_VOLUME, *OF_DIAL) or (key in OF_DIAL) == self._by_dial

    def _on_way_changed(self, way: str) -> None:
        if not way:  # one of the two it is
            self._read_by.set_text(BY_VOLUME)
        self._show_fields()

    def _add_run(self, cells: Cells, own: str) -> None:
        self._read_by = WordsField(f"{own}.{RUN}.read_by", _("meter read by"), READ_BY)
        self._read_by.set_text(BY_VOLUME)
        self._read_by.edited.connect(self._on_way_changed)
        cells.put(self._read_by)
        cells.put(self._number(f"{RUN}.volume", VOLUME, _("meter run, volume")))
        cells.put(self._number(f"{RUN}.revolutions", TURNS, _("turns of the test dial")))
        cells.put(self._number(f"{RUN}.per_revolution", PER_TURN, _("volume of a turn")))
        unit = WordsField(f"{own}.gas_rate.meter.unit", _("meter reads in"), METER_UNITS)
        cells.put(self._form.add("gas_rate.meter.unit", unit))
        time = RunTimeField(f"{own}.{RUN}.seconds", SECONDS, label=_("in the time"), width_px=NUMBER_PX)
        cells.put(self._form.add(f"{RUN}.seconds", time, typed_number))
        self._value = self._number("gas_rate.calorific_value_mj_m3", HEATING_VALUE, _("calorific value"))
        cells.put(self._value)
        self._add_day("gas_rate.calorific_value_date", cells, own)
        cells.put(self._number("gas_rate.rated_input.kw", INPUT, _("plate’s input")))
        basis = WordsField(f"{own}.gas_rate.rated_input.basis", _("stated as"), ("net", "gross"))
        cells.put(self._form.add("gas_rate.rated_input.basis", basis))
        cells.put(self._number("gas_rate.tolerance_pct.plus", PERCENT, _("may be over by")))
        cells.put(self._number("gas_rate.tolerance_pct.minus", PERCENT, _("may be under by")))

    def _add_day(self, path: str, cells: Cells, own: str) -> None:
        """Add the day of the calorific value; without one it is that of the visit."""
        today = self.typing.desk.today
        self._of_day = of_day = DateField(f"{own}.{path}", _("calorific value of"), today=today, future=False)
        of_day.edit.setPlaceholderText(_("the visit’s day"))
        cells.put(self._form.add(path, of_day, typed_date(today), date_text), units=2)

    def _number(self, path: str, quantity: Quantity, words: str) -> NumberField:
        name = f"{self.prefix}.supply.{path}"
        field = NumberField(name, quantity, label=words, width_px=NUMBER_PX)
        return self._form.add(path, field, typed_number)


def _turned(supply: Mapping[str, Any]) -> bool:
    """Tell whether the two pressures at the meter are likely typed in each other's place."""
    try:
        return Decimal(supply["working_mbar"]) > Decimal(supply["standing_mbar"])
    except (KeyError, InvalidOperation):
        return False  # one of them is not typed, or not a number yet


def _set_shown(field: Field, *, shown: bool) -> None:
    if (cell := field.parentWidget()) is not None:
        cell.setVisible(shown)


def _shared(fields: Sequence[Field]) -> Shared:
    """Return the fields of the premises' supply as one entry, which is followed or answered as a whole."""

    def read() -> dict[str, Any]:
        return {str(n): field.text() for n, field in enumerate(fields) if field.text().strip()}

    def fill(texts: Mapping[str, Any]) -> None:
        for n, field in enumerate(fields):
            field.set_text(texts.get(str(n), ""))

    def show(here: bool) -> None:
        for field in fields:
            _set_shown(field, shown=here)

    return Shared("supply", fields, (read, fill), show)
