"""Limits and fuels by keyboard: found, filled, taken back; what does not add up is refused at its field."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel

from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.leaves.limits_leaf import LimitsLeaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.operations import owned, tables

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

FIRE = "action_levels.gas_fire_ratio"
TYPED = {
    "limit": "0.0200", "source": "own copy", "edition": "example edition", "clause": "6.1",
    "valid_from": "1 Oct 2026",
}  # fmt: skip


def listed(window: MainWindow) -> LimitsLeaf:
    window.go(Place("limits", "own"))
    assert isinstance(window.leaf, LimitsLeaf), window.notice
    return window.leaf


def rows(leaf: LimitsLeaf, name: str) -> list[tuple[str, ...]]:
    panel = leaf.findChild(RowsPanel, f"leaf.limits.{name}")
    assert panel is not None
    return [row.cells for row in panel.rows_model.rows]


def form(window: MainWindow, leaf: str, key: str = "") -> FormLeaf:
    window.go(Place(leaf, key))
    assert isinstance(window.leaf, FormLeaf), window.notice
    return window.leaf


def texts(window: MainWindow) -> list[str]:
    assert window.leaf is not None
    return [shown.text() for shown in window.leaf.findChildren(QLabel)]


def fill(leaf: FormLeaf, typed: dict[str, str]) -> None:
    for name, text in typed.items():
        leaf.fields[name].set_text(text)


def test_every_slot_is_listed_and_each_row_opens_its_form(window: MainWindow) -> None:
    leaf = listed(window)
    shown = [
        row.place.key
        for panel in leaf.findChildren(RowsPanel)
        for row in panel.rows_model.rows
        if row.place is not None
    ]
    slots = owned.slots(window.desk.book, window.desk.today())
    assert sorted(shown) == sorted(slot.key for slot in slots)
    for key in shown:
        window.go(Place("limit_form", key))
        assert window.leaf is not None
        assert window.leaf.place.key == key, window.notice


def test_each_row_says_in_words_how_it_stands(window: MainWindow) -> None:
    leaf = listed(window)
    assert rows(leaf, "oil_firing")[0][:2] == ("smoke number in the flue of an oil burner", "at most 1")
    assert rows(leaf, "oil_firing")[0][2].startswith("recalled: check it")
    assert rows(leaf, "oil_firing")[1][1:] == ("", "empty: fill it from your own copy")
    assert rows(leaf, "flue_integrity")[0][1:] == ("at least 20.6 %", "common practice, judges")
    assert rows(leaf, "room_co_workplace")[0][1:] == (
        "at most 20 ppm over 8 h", "checked, for information",
    )  # fmt: skip
    assert rows(leaf, "room_co_guideline")[0][2] == "recalled, for information"


def test_a_slot_is_filled_by_keyboard_from_the_menu_on(window: MainWindow) -> None:
    QTest.keyClick(window, Qt.Key.Key_F9)
    assert isinstance(window.leaf, LimitsLeaf)
    leaf = form(window, "limit_form", FIRE)
    first = QApplication.focusWidget()
    assert first is leaf.fields["limit"].control()
    for text in TYPED.values():
        field = QApplication.focusWidget()
        assert field is not None
        QTest.keyClicks(field, text)
        QTest.keyClick(field, Qt.Key.Key_Return)
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    slot = owned.slot(window.desk.book, FIRE, window.desk.today())
    assert (f"{slot.rule.limit}", slot.rule.status) == ("0.0200", "owner"), window.notice
    assert slot.entries[0].valid_from.isoformat() == "2026-10-01"
    entry = next(row for row in rows(listed(window), "action_levels") if "flue of a gas fire" in row[0])
    assert entry[1:] == ("at most 0.0200", "yours, judges from 1 Oct 2026")


def test_what_is_missing_or_not_accepted_is_said_at_its_field(window: MainWindow) -> None:
    leaf = form(window, "limit_form", FIRE)
    leaf.keep_all()
    for name in ("limit", "source", "edition", "valid_from"):
        assert "is needed" in leaf.fields[name].fault(), name
    assert leaf.fields["clause"].fault() == ""
    fill(leaf, TYPED | {"limit": "20"})
    leaf.keep_all()
    assert "20" in leaf.fields["limit"].fault() or leaf.fields["limit"].problem()  # type: ignore[attr-defined]
    assert owned.slot(window.desk.book, FIRE, window.desk.today()).entries == ()


def test_an_entry_is_taken_back_and_stays_listed(window: MainWindow) -> None:
    leaf = form(window, "limit_form", FIRE)
    fill(leaf, TYPED)
    leaf.keep_all()
    leaf = form(window, "limit_form", FIRE)
    assert "at most 0.0200" in texts(window)
    assert leaf.fields["source"].text() == "own copy"  # the same copy is at hand
    assert leaf.fields["limit"].text() == ""
    back = next(command for command in leaf.commands() if command.words == "Take the entry back")
    back.run()
    slot = owned.slot(window.desk.book, FIRE, window.desk.today())
    assert (slot.rule.status, len(slot.entries)) == ("empty", 2)
    leaf = form(window, "limit_form", FIRE)
    assert all(command.words != "Take the entry back" for command in leaf.commands())
    panel = leaf.findChild(RowsPanel, "limit.entries")
    assert panel is not None
    assert [row.cells[0] for row in panel.rows_model.rows] == ["from 1 Oct 2026", "from 1 Oct 2026"]
    assert panel.rows_model.rows[0].cells[1].startswith("taken back")


def test_what_was_read_in_its_source_is_only_shown(window: MainWindow) -> None:
    window.go(Place("limit_form", "room_co_workplace.over_8_h"))
    assert window.leaf is not None
    assert not isinstance(window.leaf, FormLeaf)
    assert "For people at work, not for a home." in texts(window)


def test_the_list_follows_what_is_entered(window: MainWindow) -> None:
    leaf = listed(window)
    entry = {**TYPED, "limit": "2", "valid_from": "2026-10-01"}
    changes = owned.enter_limit(window.desk.book, "oil_firing.flue_smoke", entry, at=window.desk.now())
    window.desk.hub.tell(changes)
    assert rows(leaf, "oil_firing")[0][1:] == ("at most 2", "yours, judges from 1 Oct 2026")


def test_the_first_day_of_another_entry_is_typed_anew(window: MainWindow) -> None:
    entry = {**TYPED, "valid_from": "2026-10-01"}
    owned.enter_limit(window.desk.book, FIRE, entry, at=window.desk.now())
    begun = {name: made.text() for name, made in form(window, "limit_form", FIRE).fields.items()}
    assert (begun["source"], begun["edition"], begun["valid_from"]) == ("own copy", "example edition", "")
    beside = form(window, "limit_form", "action_levels.grill_ratio").fields["valid_from"]
    assert beside.text() == "1 Oct 2026"


BLEND = {"name": "test blend", "source": "supplier", "mole_pct.methane": "80", "mole_pct.hydrogen": "20"}


def test_a_fuel_of_ones_own_can_be_chosen_for_an_appliance(window: MainWindow) -> None:
    leaf = form(window, "fuel_form")
    fill(leaf, BLEND)
    leaf.keep_all()
    assert tables.of_book(window.desk.book).offered[-1] == "test blend", window.notice
    appliance = form(window, "appliance_form", "1")
    assert "test blend" in appliance.fields["fuel"].choices  # type: ignore[attr-defined]
    appliance.fields["fuel"].set_text("test blend")
    appliance.keep_all()
    assert window.leaf is not None
    assert window.leaf.place.leaf == "tonight", window.notice
    assert rows(listed(window), "own_fuels") == [
        ("test blend", "methane 80 %, hydrogen 20 %", "can be chosen for an appliance")
    ]


def test_a_composition_that_does_not_add_up_is_refused_at_the_field(window: MainWindow) -> None:
    leaf = form(window, "fuel_form")
    fill(leaf, BLEND | {"mole_pct.hydrogen": "19"})
    leaf.keep_all()
    assert "add up to 99" in leaf.fields["mole_pct.methane"].fault()
    assert owned.fuels(window.desk.book) == ()
    fill(leaf, {"mole_pct.hydrogen": "20", "name": "natural gas"})
    leaf.keep_all()
    assert "natural gas" in leaf.fields["name"].fault()


def test_a_liquid_asks_for_its_own_parts(window: MainWindow) -> None:
    leaf = form(window, "fuel_form")
    fill(leaf, {"name": "test oil", "source": "supplier", "mole_pct.methane": "100"})
    leaf.fields["state"].set_text("liquid")
    leaf.note_change("state")
    shown = {s.objectName(): not s.isHidden() for s in leaf.sections}
    assert (shown["section.mole_pct"], shown["section.mass_pct"]) == (False, True)
    typed = {"mass_pct.carbon": "86", "mass_pct.hydrogen": "13.9", "net_mj_per_kg": "43.0"}
    fill(leaf, typed)
    leaf.note_change("mass_pct.carbon")
    states = {s.objectName(): s.state for s in leaf.sections}
    assert states["section.mass_pct"] == "99.9 % so far"
    leaf.keep_all()
    (row,) = owned.fuels(window.desk.book)
    assert (row.fuel.state, row.fuel.name) == ("liquid", "test oil"), window.notice


def test_a_fuel_is_taken_back(window: MainWindow) -> None:
    leaf = form(window, "fuel_form")
    fill(leaf, BLEND)
    leaf.keep_all()
    leaf = form(window, "fuel_form", "test blend")
    assert "name" not in leaf.fields  # appliances go by it
    fill(leaf, {"mole_pct.methane": "90", "mole_pct.hydrogen": "10"})
    leaf.keep_all()
    (row,) = owned.fuels(window.desk.book)
    assert (row.fuel.name, row.fuel.parts["methane"]) == ("test blend", 0.9), window.notice
    leaf = form(window, "fuel_form", "test blend")
    assert leaf.fields["mole_pct.methane"].text() == "90"
    next(command for command in leaf.commands() if command.words == "Take the fuel back").run()
    assert "test blend" not in tables.of_book(window.desk.book).offered
    leaf = form(window, "fuel_form", "test blend")
    assert all(command.words != "Take the fuel back" for command in leaf.commands())


@pytest.mark.parametrize("place", [Place("limit_form", "nowhere.co"), Place("fuel_form", "nothing")])
def test_what_is_not_there_is_said(window: MainWindow, place: Place) -> None:
    before = window.leaf
    window.go(place)
    assert window.leaf is before
    assert window.notice


def test_the_business_leaf_leads_there(window: MainWindow) -> None:
    leaf = form(window, "business_form", "own")
    found = next(s for s in leaf.sections if s.objectName() == "section.limits_and_fuels")
    next(iter(found.findChildren(type(leaf.end_buttons()[0])))).click()
    assert isinstance(window.leaf, LimitsLeaf)
