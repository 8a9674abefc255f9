"""The plate: limits of every sort have their field, and a model typed out brings what its maker says."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from tests.desktop.visit.typist import Typist, leaf_of

from flueleaf.desktop.place import Place
from flueleaf.desktop.visit import walking
from flueleaf.desktop.visit.plate_words import limits_summary
from flueleaf.desktop.window import MainWindow


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    """A new visit to nowhere known."""
    window.go(Place("visit"))
    return Typist(window)


def go(typist: Typist, path: str) -> None:
    field = leaf_of(typist).works[0].plate.locate(path)
    assert field is not None
    walking.go_to(field, leaf_of(typist).scroll_area)


def test_a_model_typed_out_brings_its_limits(typist: Typist) -> None:
    go(typist, "make")
    typist.write("calderwyn")
    typist.enter()
    typist.write("RILL 24 COMBI")
    typist.press(Qt.Key.Key_Escape)
    typist.press(Qt.Key.Key_Tab)
    plate = leaf_of(typist).document()["works"][0]["appliance"]
    assert plate["limits"]["co2_pct"] == {"max": ["8.8", "9.8"], "min": ["8.3", "9.3"]}
    assert plate["kind"] == "condensing boiler"
    assert plate["make"] == "calderwyn"
    assert not {"serial", "location", "installed"} & set(plate)


def test_what_was_typed_before_the_model_stays(typist: Typist) -> None:
    go(typist, "limits.co_ppm")
    typist.write("150")
    go(typist, "model")
    typist.write("Rill 24 combi")
    typist.press(Qt.Key.Key_Escape)
    typist.press(Qt.Key.Key_Tab)
    limits = leaf_of(typist).document()["works"][0]["appliance"]["limits"]
    assert limits["co_ppm"] == "150"
    assert limits["ratio"]


def test_half_a_model_brings_nothing(typist: Typist) -> None:
    go(typist, "model")
    typist.write("Rill 24")
    typist.press(Qt.Key.Key_Escape)
    typist.press(Qt.Key.Key_Tab)
    assert "limits" not in leaf_of(typist).document()["works"][0]["appliance"]


def test_o2_windows_and_the_smoke_limit_are_typed(typist: Typist) -> None:
    plate = leaf_of(typist).works[0].plate
    smoke = plate.locate("limits.smoke")
    assert smoke is not None
    assert not smoke.isVisibleTo(leaf_of(typist))
    go(typist, "fuel")
    typist.write("kerosene")
    typist.enter()
    assert smoke.isVisibleTo(leaf_of(typist))
    go(typist, "limits.smoke")
    typist.write("1")
    go(typist, "limits.o2_pct.max")
    typist.write("3.5 to 5.0")
    limits = leaf_of(typist).document()["works"][0]["appliance"]["limits"]
    assert limits == {"smoke": "1", "o2_pct": {"max": ["3.5", "5.0"]}}
    assert "O2 3.5 to 5.0 % at" in limits_summary(limits)
    assert "smoke" in limits_summary(limits)


def test_how_far_the_analyser_reads_is_typed(typist: Typist) -> None:
    field = leaf_of(typist).works[0].analyser.locate("range.co_ppm")
    assert field is not None
    walking.go_to(field, leaf_of(typist).scroll_area)
    typist.write("4000")
    assert leaf_of(typist).document()["works"][0]["instrument"]["range"] == {"co_ppm": "4000"}
