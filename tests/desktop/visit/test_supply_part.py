"""The meter run in a visit: read as a volume or by the test dial, timed in minutes, its heat input shown."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from tests.desktop.visit.typist import Typist, field, go, leaf_of

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.visit.gas_rate_figures import COVERAGE, gas_rate_shown
from flueleaf.desktop.visit.run_time_field import RunTimeField
from flueleaf.desktop.visit.supply_part import SupplyPart
from flueleaf.desktop.visit.typed_quantities import SECONDS
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.operations import drafting, owned
from flueleaf.operations.combustion import gas_rate_document
from flueleaf.operations.drafting import LastHeat
from flueleaf.operations.tables import shipped

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper

OWN = "works.0.supply.gas_rate"
RUN: dict[str, Any] = {
    "fuel": "natural gas",
    "meter": {"unit": "m3", "volume": "0.083", "seconds": "120"},
    "calorific_value_mj_m3": "39.6",
    "rated_input": {"kw": "24.7", "basis": "net"},
    "tolerance_pct": {"plus": "5", "minus": "5"},
}


@pytest.mark.parametrize(
    ("typed", "seconds"),
    [("1m", "60"), ("2 min", "120"), ("1.5 minutes", "90"), ("1:15", "75"), ("120", "120"), ("90 s", "90")],
)
def test_a_time_is_typed_in_seconds_or_minutes(
    keeper: ThemeKeeper, qtbot: QtBot, typed: str, seconds: str
) -> None:
    assert keeper is not None
    time = RunTimeField("seconds", SECONDS)
    qtbot.addWidget(time)
    QTest.keyClicks(time.edit, typed)
    assert time.value() == Decimal(seconds)
    assert time.entry() == seconds
    assert time.problem() == ""


@pytest.mark.parametrize("typed", ["0m", "2000000m", "1:75", "a minute", "1,5 m"])
def test_what_is_no_time_says_what_is(keeper: ThemeKeeper, qtbot: QtBot, typed: str) -> None:
    assert keeper is not None
    time = RunTimeField("seconds", SECONDS)
    qtbot.addWidget(time)
    QTest.keyClicks(time.edit, typed)
    assert time.value() is None
    assert "2m or 1:15" in time.problem()
    assert time.text() == typed


def test_a_bare_one_or_two_says_how_it_becomes_minutes(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    time = RunTimeField("seconds", SECONDS)
    qtbot.addWidget(time)
    notes = []
    for letter in "2m":
        QTest.keyClicks(time.edit, letter)
        notes.append(time.note.text())
    assert notes == ["s; m makes it minutes", "= 120 s"]


def test_what_is_shown_is_what_the_command_line_answers() -> None:
    shown, told = gas_rate_shown(RUN), gas_rate_document(RUN)
    found = {one.name: one for one in shown.figures}
    assert found["flow"].value == f"{told['metered_m3_per_h']:.3f}"
    assert found["heat input, net"].value == f"{told['input_net_uncorrected_kw']:.1f}"
    assert f"{told['input_net_corrected_kw']:.1f} kW with the correction" in found["heat input, net"].note
    assert found["heat input, gross"].value == f"{told['input_gross_uncorrected_kw']:.1f}"
    assert f"{told['input_gross_corrected_kw']:.1f} kW" in found["heat input, gross"].note
    assert found["against the plate"].note == "of its 24.7 kW net"
    assert shown.verdict == told["verdict"]


def test_an_uncertainty_is_never_told_smaller_than_it_is() -> None:
    for seconds in ("20", "60", "120", "300"):
        document = {**RUN, "meter": {**RUN["meter"], "seconds": seconds}}
        line = gas_rate_shown(document).figures[-1]
        exact = COVERAGE * gas_rate_document(document)["standard_uncertainty_kw"]
        assert exact <= float(line.value) < exact + 0.1 + 1e-9
        assert "2 s of reaction and one step of the meter, 0.001 m³" in line.note


def test_a_deviation_that_is_over_never_reads_as_within() -> None:
    document = {**RUN, "meter": {**RUN["meter"], "volume": "2.178", "seconds": "3000"}}
    assert gas_rate_document(document)["verdict"] == "over"
    line = next(one for one in gas_rate_shown(document).figures if one.name == "against the plate")
    assert Decimal(line.value) > 5


def test_a_near_input_says_what_a_longer_run_would_settle() -> None:
    document = {**RUN, "meter": {**RUN["meter"], "volume": "0.040", "seconds": "60"}}
    shown = gas_rate_shown(document)
    assert shown.verdict == "near"
    assert f"{gas_rate_document(document)['longer_run_s']} s or more" in shown.why


def test_a_run_not_whole_shows_nothing() -> None:
    for missing in ("volume", "seconds", "unit"):
        meter = {key: text for key, text in RUN["meter"].items() if key != missing}
        assert gas_rate_shown({**RUN, "meter": meter}).figures == ()
    assert gas_rate_shown({**RUN, "fuel": "kerosene"}).figures == ()


def _supply(typist: Typist) -> SupplyPart:
    leaf = leaf_of(typist)
    leaf.complete()
    return next(part for part in leaf.works[0].stages if isinstance(part, SupplyPart))


def _rate(typist: Typist) -> dict[str, Any]:
    rate: dict[str, Any] = _supply(typist).read().get("supply", {}).get("gas_rate", {})
    return rate


def test_the_test_dial_is_typed_by_keys(typist: Typist) -> None:
    go(typist, f"{OWN}.meter.read_by")
    typist.answer("t")
    assert not field(typist, f"{OWN}.meter.volume").isVisible()
    typist.type_at(f"{OWN}.meter.revolutions", "2")
    typist.type_at(f"{OWN}.meter.per_revolution", "1")
    typist.choose(f"{OWN}.meter.unit", "f")
    typist.type_at(f"{OWN}.meter.seconds", "1:15")
    typist.type_at(f"{OWN}.calorific_value_mj_m3", "39.6")
    typist.type_at(f"{OWN}.calorific_value_date", "12.11.2026")
    assert _rate(typist) == {
        "meter": {"unit": "ft3", "revolutions": "2", "per_revolution": "1", "seconds": "75"},
        "calorific_value_mj_m3": "39.6",
        "calorific_value_date": "2026-11-12",
    }
    leaf_of(typist).judge()
    shown = _supply(typist)._shown.figures
    assert shown[0].head == "as metered; calorific value as on 12 Nov 2026"
    assert shown[0].value == "2.718"  # 2 ft3 in 75 s: 96 ft3/h, by 0.0283168 m3 each


def test_only_the_way_chosen_is_kept_and_undo_brings_the_other_back(typist: Typist) -> None:
    go(typist, f"{OWN}.meter.volume")
    typist.write("0.083")
    typist.enter()
    assert _rate(typist)["meter"] == {"volume": "0.083"}
    go(typist, f"{OWN}.meter.read_by")
    typist.answer("t")
    assert _rate(typist) == {}
    leaf = leaf_of(typist)
    leaf.catch_up()
    typist.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert _rate(typist)["meter"] == {"volume": "0.083"}
    assert field(typist, f"{OWN}.meter.volume").isVisible()


def test_a_missing_volume_is_the_dials_where_that_is_read(typist: Typist) -> None:
    supply = _supply(typist)
    for way, wanted in (("v", "volume"), ("t", "revolutions")):
        go(typist, f"{OWN}.meter.read_by")
        typist.answer(way)
        found = supply.locate("supply.gas_rate.meter.volume")
        assert found is not None
        assert found.objectName() == f"{OWN}.meter.{wanted}"


@pytest.fixture
def heater(typist: Typist) -> Callable[[dict[str, Any]], TypedVisitLeaf]:
    """Open a visit to a cabinet heater beside the known boiler, with a supply typed before."""

    def opened(supply: dict[str, Any]) -> TypedVisitLeaf:
        book = typist.window.desk.book
        document = drafting.begin(book, today=typist.window.desk.today(), premises_id=1)
        appliance = {"kind": "LPG cabinet heater", "fuel": "butane", "flue": "none", "location": "shed"}
        boiler = {**document["works"][0], "supply": {"tightness": {"movement": "none"}}}
        document["works"] = [boiler, {"appliance": appliance, **({"supply": supply} if supply else {})}]
        drafting.keep(book, document)
        typist.window.go(Place("visit", document["visit_id"]))
        typist.rest()
        leaf = leaf_of(typist)
        leaf.complete()
        leaf.judge()
        return leaf

    return opened


def _seen(leaf: TypedVisitLeaf, number: int) -> set[str]:
    """Return the names of the fields of a supply that are on the page."""
    part = next(part for part in leaf.works[number].stages if isinstance(part, SupplyPart))
    head = f"works.{number}.supply."
    return {
        one.objectName().removeprefix(head)
        for one in part.own_fields()
        if one.isVisibleTo(part) and one.objectName().startswith(head)
    }


def test_a_cylinder_in_a_cabinet_is_asked_for_no_meter(heater: Callable[..., TypedVisitLeaf]) -> None:
    leaf = heater({})
    assert _seen(leaf, 1) == {"standing_mbar", "working_mbar"}
    # Nothing of the premises' supply reaches it, and the meter of the boiler stays where it is.
    assert "supply" not in leaf.document()["works"][1]
    assert {"tightness.movement", "gas_rate.meter.volume", "standing_mbar"} <= _seen(leaf, 0)
    part = next(one for one in leaf.works[1].stages if isinstance(one, SupplyPart))
    part.show_input("butane", LastHeat("39.6", dt.date(2026, 5, 1)), shipped())
    assert not part._offer.isVisibleTo(part)


def test_what_was_typed_of_a_meter_all_the_same_stays_in_sight(
    heater: Callable[..., TypedVisitLeaf],
) -> None:
    run = {"gas_rate": {"meter": {"volume": "0.083"}}}
    leaf = heater(run)
    assert {"gas_rate.meter.volume", "gas_rate.meter.seconds", "working_mbar"} <= _seen(leaf, 1)
    assert not any(name.startswith("tightness") for name in _seen(leaf, 1))
    assert leaf.document()["works"][1]["supply"] == run


def test_the_calorific_value_of_last_time_is_taken_over_with_its_day(typist: Typist) -> None:
    value = go(typist, f"{OWN}.calorific_value_mj_m3")
    leaf_of(typist).judge()
    last = typist.window.desk.book.con.execute("SELECT date FROM visit").fetchone()["date"]
    assert "39.6 MJ/m³" in _supply(typist)._offer.text()
    assert _supply(typist)._offer.isVisible()
    typist.press(Qt.Key.Key_J, Qt.KeyboardModifier.ControlModifier)
    assert _rate(typist) == {"calorific_value_mj_m3": "39.6", "calorific_value_date": last}
    assert not _supply(typist)._offer.isVisible()
    assert "39.6 MJ/m³" in typist.window.notice
    value.set_text("38.9")
    typist.press(Qt.Key.Key_J, Qt.KeyboardModifier.ControlModifier)  # what is typed stays
    assert _rate(typist)["calorific_value_mj_m3"] == "38.9"


def test_a_day_that_lies_ahead_is_refused_at_its_field(typist: Typist) -> None:
    day = go(typist, f"{OWN}.calorific_value_date")
    typist.write((typist.window.desk.today() + dt.timedelta(days=1)).isoformat())
    typist.enter()
    assert "lies ahead" in day.fault()


def test_the_drop_of_the_owners_copy_stands_beside_a_tightness_test(typist: Typist) -> None:
    go(typist, "works.0.supply.tightness.movement")
    leaf_of(typist).judge()
    told = _supply(typist)._allowed
    assert not told.isVisible()
    typist.write("none")
    typist.enter()
    leaf_of(typist).judge()
    assert told.isVisible()
    assert "is not known here" in told.text()
    book = typist.window.desk.book
    copy = {"edition": "Edition 4", "source": "own copy", "valid_from": "2026-10-01"}
    for what, limit in (("volume", "0.02"), ("drop", "8")):
        entered = {**copy, "limit": limit}
        owned.enter_limit(book, f"tightness.natural_{what}_1", entered, at=typist.window.desk.now())
    place = leaf_of(typist).place
    typist.window.go(TONIGHT)
    typist.window.go(place)
    typist.rest()
    told = _supply(typist)._allowed
    assert "8 mbar up to 0.02 m³" in told.text()
    assert "own copy, valid from 1 Oct" in told.text()
    assert "Edition 4" in told.text()
    assert "no pass by itself" in told.text()


def test_a_working_pressure_above_the_standing_one_is_asked_about(typist: Typist) -> None:
    told = _supply(typist)._turned
    for standing, working, asked in (
        ("21.0", "22.4", True),
        ("22.4", "22.4", False),
        ("22.4", "21.0", False),
        ("", "21.0", False),
        ("x", "21.0", False),
    ):
        for name, text in (("standing_mbar", standing), ("working_mbar", working)):
            field(typist, f"works.0.supply.{name}").set_text(text)
        leaf_of(typist).judge()
        assert told.isHidden() is not asked, (standing, working)
