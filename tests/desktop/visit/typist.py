"""A person who types a visit into the window, by keys alone, and counts them."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.visit.walking import field_of, go_to
from flueleaf.operations.tables import shipped

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

ENTER = Qt.Key.Key_Return


def come_to_rest(window: MainWindow) -> None:
    """Let the event loop turn until the leaf of a visit is whole, and once more for its judgement."""
    QTest.qWait(0)
    while isinstance(window.leaf, TypedVisitLeaf) and not window.leaf.whole:
        QTest.qWait(0)
    QTest.qWait(0)


class Typist:
    """Every press goes to the control in focus, as from a real keyboard."""

    def __init__(self, window: MainWindow) -> None:
        self.window = window
        self.presses = 0
        self.typed = 0
        self.rest()

    def rest(self) -> None:
        """Wait as long as a person does between two keys: until the window has come to rest."""
        come_to_rest(self.window)

    @property
    def focus(self) -> QWidget:
        widget = QApplication.focusWidget()
        assert widget is not None
        return widget

    @property
    def here(self) -> str:
        """The name of the field in focus."""
        found = field_of(self.focus)
        return found.objectName() if found is not None else self.focus.objectName()

    def press(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.presses += 1
        popup = QApplication.activePopupWidget()
        QTest.keyClick(popup or self.focus, key, modifiers)
        self.rest()

    def write(self, text: str) -> None:
        """Type a text into the field in focus, in place of what stands in it."""
        self.typed += len(text)
        for letter in text:
            QTest.keyClicks(QApplication.activePopupWidget() or self.focus, letter)
        self.rest()

    def answer(self, letter: str) -> None:
        self.presses += 1
        QTest.keyClicks(self.focus, letter)
        self.rest()

    def enter(self) -> None:
        self.press(ENTER)

    def type_at(self, name: str, text: str) -> None:
        """Go on with Enter until the named field is reached, then type."""
        self.reach(name)
        self.write(text)

    def reach(self, name: str) -> None:
        for _ in range(200):
            if self.here == name:
                return
            before = self.here
            self.enter()
            assert self.here != before, f"Enter does not leave {before}"
        raise AssertionError(f"{name} is not reached by Enter")

    def choose(self, name: str, letter: str) -> None:
        """Answer a field of words by its letter."""
        self.reach(name)
        self.answer(letter)


def leaf_of(typist: Typist) -> TypedVisitLeaf:
    """Return the visit being typed."""
    leaf = typist.window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    return leaf


def field(typist: Typist, name: str) -> Field:
    """Return a field of the visit by its name."""
    found = leaf_of(typist).pieces.field(name)
    assert found is not None, name
    return found


def go(typist: Typist, name: str) -> Field:
    """Put the cursor into a field by other means than its keys."""
    found = field(typist, name)
    go_to(found, leaf_of(typist).scroll_area)
    return found


def text(value: Any) -> str:
    return f"{value:f}" if isinstance(value, Decimal) else str(value)


ANSWERS = {"yes": "y", "no": "n", "not applicable": "a"}


def type_evening(typist: Typist, document: Mapping[str, Any]) -> None:
    """Type a whole visit of one appliance, from an empty visit leaf to the last field before sign-off."""
    type_people(typist, document)
    type_works(typist, document)
    type_lines(typist, document["lines"])
    typist.type_at("sign_off.customer_name", document["sign_off"]["customer_name"])


def type_notes(typist: Typist, work: Mapping[str, Any]) -> None:
    """Type what is written down at the first appliance, section by section from the gas supply on."""
    kind = shipped().kinds[work["appliance"]["kind"]]
    texts = {note["key"]: note["text"] for note in work["notes"]}
    typist.press(Qt.Key.Key_G, Qt.KeyboardModifier.ControlModifier)
    typist.press(Qt.Key.Key_PageUp)
    stages = [stage.key for stage in kind.stages]
    for stage in stages[stages.index("gas supply") :]:
        asked = [note.key for note in kind.notes if note.stage == stage and note.key in texts]
        if asked:
            typist.press(Qt.Key.Key_F7)
        for key in asked:
            typist.type_at(f"works.0.notes.{key}", texts[key])
        if stage != stages[-1]:
            typist.press(Qt.Key.Key_PageDown)


def type_works(typist: Typist, document: Mapping[str, Any]) -> None:
    """Type what is between the people and the work lines, from the purpose on."""
    work = document["works"][0]
    _arrival(typist, document)
    _plate(typist, work["appliance"])
    _analyser(typist, work["instrument"])
    checks = {check["key"]: check for check in work["checks"]}
    _checks(typist, checks, ("analyser_zeroed", "maker_instructions", "no_symptoms"))
    _supply(typist, work["supply"])
    _checks(typist, checks, ("gas_tight", "supply_pipe_sized", "standing_pressure", "working_pressure",
                             "gas_rate", "gas_isolation"))  # fmt: skip
    type_slips(typist, work["slips"])
    combustion = ("case_seal", "readings_settled", "rates_forced")
    safety = ("flue_effective", "combustion_air", "pressure_or_input", "combustion_performance")
    _checks(typist, checks, (*combustion, *safety, "functions", "co_alarm"))
    for point in ("air inlet", "flue"):
        typist.choose(f"works.0.close_up.{point}", "y")
    _checks(typist, checks, tuple(checks)[tuple(checks).index("case_refitted") : -3])
    typist.choose("works.0.outcome", "l")
    _checks(typist, checks, tuple(checks)[-3:])


def type_people(typist: Typist, document: Mapping[str, Any]) -> None:
    """Type premises and customer, from the address on."""
    premises, customer = document["premises"], document["customer"]
    typist.write(", ".join(premises["address"]))
    typist.type_at("premises.postcode", premises["postcode"])
    typist.type_at("premises.responsible", premises["responsible"])
    typist.type_at("customer.name", customer["name"])
    typist.choose("customer.kind", customer["kind"][0])
    typist.type_at("customer.address", ", ".join(customer["address"]))
    for key in ("postcode", "telephone", "email"):
        typist.type_at(f"customer.{key}", customer[key])


def _arrival(typist: Typist, document: Mapping[str, Any]) -> None:
    typist.choose("purpose", document["purpose"][0])
    typist.type_at("date", document["date"])
    typist.type_at("arrived", document["arrived"])
    typist.type_at("left", document["left"])
    typist.press(Qt.Key.Key_PageDown)


def _plate(typist: Typist, plate: Mapping[str, Any]) -> None:
    own = "works.0.appliance"
    typist.type_at(f"{own}.kind", plate["kind"])
    for key in ("make", "model", "serial", "location", "fuel"):
        typist.type_at(f"{own}.{key}", plate[key])
    typist.choose(f"{own}.flue", plate["flue"][0])
    for key in ("max_kw", "min_kw"):
        typist.type_at(f"{own}.rated_input.{key}", text(plate["rated_input"][key]))
    typist.choose(f"{own}.rated_input.basis", plate["rated_input"]["basis"][0])
    typist.type_at(f"{own}.test_points", ", ".join(plate["test_points"]))
    typist.type_at(f"{own}.installed", plate["installed"])
    limits = plate["limits"]
    typist.type_at(f"{own}.limits.co_ppm", f"{text(limits['co_ppm'])} ppm")
    typist.type_at(f"{own}.limits.ratio", text(limits["ratio"]))
    for rate, window in limits["co2_pct"].items():
        typist.type_at(f"{own}.limits.co2_pct.{rate}", f"{text(window[0])}-{text(window[1])}")
    typist.type_at(f"{own}.limits.limits_source", plate["limits_source"])


def _analyser(typist: Typist, instrument: Mapping[str, Any]) -> None:
    own = "works.0.instrument"
    for key in ("name", "serial", "calibration_due"):
        typist.type_at(f"{own}.{key}", instrument[key])
    for key, tolerance in instrument["tolerance"].items():
        typist.type_at(f"{own}.tolerance.{key}.abs", text(tolerance["abs"]))
        if "rel" in tolerance:
            typist.type_at(f"{own}.tolerance.{key}.rel", text((tolerance["rel"] * 100).normalize()))


def _supply(typist: Typist, supply: Mapping[str, Any]) -> None:
    own = "works.0.supply"
    for key, value in supply["tightness"].items():
        typist.type_at(f"{own}.tightness.{key}", text(value))
    for key in ("standing_mbar", "working_mbar", "inlet_mbar"):
        typist.type_at(f"{own}.{key}", text(supply[key]))
    rate = supply["gas_rate"]
    typist.type_at(f"{own}.gas_rate.meter.volume", text(rate["meter"]["volume"]))
    typist.choose(f"{own}.gas_rate.meter.unit", rate["meter"]["unit"][0])
    typist.type_at(f"{own}.gas_rate.meter.seconds", text(rate["meter"]["seconds"]))
    typist.type_at(f"{own}.gas_rate.calorific_value_mj_m3", text(rate["calorific_value_mj_m3"]))
    typist.type_at(f"{own}.gas_rate.rated_input.kw", text(rate["rated_input"]["kw"]))
    typist.choose(f"{own}.gas_rate.rated_input.basis", rate["rated_input"]["basis"][0])
    for key in ("plus", "minus"):
        typist.type_at(f"{own}.gas_rate.tolerance_pct.{key}", text(rate["tolerance_pct"][key]))


def type_slips(typist: Typist, slips: list[Mapping[str, Any]]) -> None:
    """Type the slips of the first appliance, column by column."""
    for n, slip in enumerate(slips):
        for key in ("o2_pct", "co2_pct", "co_ppm", "ratio", "flue_c", "air_c"):
            if key in slip:
                typist.type_at(f"works.0.slips.{n}.{key}", text(slip[key]))


def _checks(typist: Typist, checks: Mapping[str, Mapping[str, Any]], keys: tuple[str, ...]) -> None:
    for key in keys:
        name = f"works.0.checks.{key}"
        if note := checks[key].get("note"):
            typist.reach(name)
            typist.press(Qt.Key.Key_Period, Qt.KeyboardModifier.ControlModifier)
            typist.write(note)
            typist.press(Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
        typist.choose(name, ANSWERS[checks[key]["answer"]])


def type_lines(typist: Typist, lines: list[Mapping[str, Any]]) -> None:
    """Type work lines, from the first empty one on."""
    for n, line in enumerate(lines):
        for key in ("text", "quantity", "unit", "unit_price", "vat_pct", "discount_pct"):
            if key in line and not (key == "vat_pct" and n):
                typist.type_at(f"lines.{n}.{key}", text(line[key]))
        if line.get("labour"):
            typist.choose(f"lines.{n}.labour", "l")
