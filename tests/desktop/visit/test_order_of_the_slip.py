"""The analyser's own order: set in its form, reached from the visit, typed with Enter."""

from __future__ import annotations

import dataclasses

from PySide6.QtCore import Qt
from tests.desktop.visit.typist import Typist, go, leaf_of

from flueleaf.desktop.leaves.instrument_form_leaf import InstrumentForm
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.flame_at_hand import flame_figures
from flueleaf.desktop.visit.reading_field import ReadingField
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import register

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def test_the_order_is_set_from_the_visit_and_a_slip_is_typed_in_it(typist: Typist) -> None:
    window = typist.window
    typist.press(Qt.Key.Key_E, CTRL | SHIFT)
    assert isinstance(window.leaf, InstrumentForm)
    assert typist.here == "order"
    # O2, CO2, CO, ratio, flue, air as usual; this one prints flue gas, CO, O2, CO2, air, and no ratio.
    for _down in range(4):
        typist.press(Qt.Key.Key_Down)
    for _up in range(4):
        typist.press(Qt.Key.Key_Up, CTRL)
    for _down in range(3):
        typist.press(Qt.Key.Key_Down)
    typist.press(Qt.Key.Key_Up, CTRL)
    typist.press(Qt.Key.Key_Up, CTRL)
    for _down in range(3):
        typist.press(Qt.Key.Key_Down)
    typist.press(Qt.Key.Key_Delete)
    typist.press(Qt.Key.Key_Return, CTRL)
    order = ("flue_c", "co_ppm", "o2_pct", "co2_pct", "air_c")
    assert register.choices(window.desk.book).instruments[0].order == order
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    typist.press(Qt.Key.Key_G, CTRL)
    # The air inlet takes three quantities only, in the same order.
    assert typist.here == "works.0.slips.0.co_ppm"
    for value in ("0", "20.9", "0.0"):
        typist.write(value)
        typist.enter()
    for key, value in zip(order, ("56", "70", "4.9", "9.2", "18"), strict=True):
        assert typist.here == f"works.0.slips.1.{key}"
        typist.write(value)
        typist.enter()
    slip = leaf.document()["works"][0]["slips"][1]
    assert {key: slip[key] for key in order} == dict(
        zip(order, ("56", "70", "4.9", "9.2", "18"), strict=True)
    )
    assert "ratio" not in slip


def test_an_analyser_typed_out_prints_in_its_own_order(window: MainWindow) -> None:
    known = register.choices(window.desk.book).instruments[0]
    order = ("co_ppm", "o2_pct", "co2_pct")
    register.save_instrument(window.desk.book, dataclasses.replace(known, order=order))
    window.go(Place("visit", within="1"))
    typist = Typist(window)
    leaf = leaf_of(typist)
    combustion = leaf.works[0].combustion
    assert combustion is not None
    for name, serial, first in (("Other make", "1", "o2_pct"), (known.name.lower(), known.serial, "co_ppm")):
        go(typist, "works.0.instrument.name").set_text(name)  # typed, its list of offers would open
        go(typist, "works.0.instrument.serial")
        typist.write(serial)
        typist.enter()
        assert combustion.slips.keys[0] == first


def test_an_order_survives_the_form_unchanged(typist: Typist) -> None:
    window = typist.window
    known = register.choices(window.desk.book).instruments[0]
    assert known.id is not None
    window.go(Place("instrument_form", str(known.id)))
    form = window.leaf
    assert isinstance(form, InstrumentForm)
    form.fields["order"].set_text("co_ppm,o2_pct")
    form.keep_all()
    window.go(Place("instrument_form", str(known.id)))
    assert isinstance(window.leaf, InstrumentForm)
    assert window.leaf.fields["order"].text() == "co_ppm,o2_pct"
    window.leaf.keep_all()
    assert register.choices(window.desk.book).instruments[0].order == ("co_ppm", "o2_pct")


def test_an_analyser_the_book_does_not_know_has_no_order_yet(window: MainWindow) -> None:
    window.go(Place("visit"))
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    leaf.works[0].analyser.fill({"name": "Another one"})
    Typist(window).press(Qt.Key.Key_E, CTRL | SHIFT)
    assert window.leaf is leaf
    assert "knows this analyser once" in window.notice


def test_oil_begins_with_the_smoke_spot(window: MainWindow) -> None:
    window.go(Place("visit"))
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    plate = {"kind": "oil boiler", "fuel": "kerosene", "make": "Calderwyn"}
    leaf.change_works([{"appliance": plate}])
    leaf.complete()
    combustion = leaf.works[0].combustion
    assert combustion is not None
    assert combustion.slips.keys[0] == "smoke"
    assert leaf.works[0].plate.locate("limits.smoke") is not None


def test_the_humidity_of_the_air_is_typed_where_the_order_has_it(window: MainWindow) -> None:
    known = register.choices(window.desk.book).instruments[0]
    order = ("o2_pct", "co_ppm", "co2_pct", "flue_c", "air_c", "air_humidity_pct")
    window.go(Place("visit", within="1"))
    assert "air_humidity_pct" not in _flue_fields(leaf_of(Typist(window)))  # not by itself
    register.save_instrument(window.desk.book, dataclasses.replace(known, order=order))
    window.go(Place("visit", within="1"))
    typist = Typist(window)
    leaf = leaf_of(typist)
    leaf.complete()
    assert "air_humidity_pct" in _flue_fields(leaf)
    assert leaf.pieces.field("works.0.slips.0.air_humidity_pct") is None  # none at the air inlet
    go(typist, "works.0.slips.1.o2_pct")
    for value in ("4.8", "61", "9.1", "44", "18", "60"):
        typist.write(value)
        typist.enter()
    slip = leaf.document()["works"][0]["slips"][0]
    assert slip["air_humidity_pct"] == "60"
    go(typist, "works.0.slips.1.co_ppm")
    leaf.judge()
    assert leaf.judgement is not None
    shown = flame_figures(leaf.judgement.assessments[0].slips[0])
    assert "dew_point_humid_c" in {one.key for one in shown}


def _flue_fields(leaf: TypedVisitLeaf) -> dict[str, ReadingField]:
    leaf.complete()
    combustion = leaf.works[0].combustion
    assert combustion is not None
    return next(column.fields for column in combustion.slips.columns if column.spot.point == "flue")
