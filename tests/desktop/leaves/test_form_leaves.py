"""The forms of the register and of the business: new, known, refused."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.form_leaf import FormLeaf
from flueleaf.desktop.place import Place
from flueleaf.domain.records.register import Window
from flueleaf.operations import pages, register
from flueleaf.storage import register as stored

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


def form(window: MainWindow, place: Place) -> FormLeaf:
    window.go(place)
    assert isinstance(window.leaf, FormLeaf), window.notice
    return window.leaf


def test_a_new_customer(window: MainWindow) -> None:
    leaf = form(window, Place("customer_form"))
    leaf.keep_all()
    assert "is needed" in leaf.fields["name"].fault()
    leaf.fields["name"].set_text("Gwyn Nettlequay")
    leaf.fields["kind"].set_text("landlord")
    leaf.fields["address.0"].set_text("3 Quay Lane")
    leaf.fields["postcode"].set_text("QX3 7TB")
    leaf.keep_all()
    known = {customer.name: customer for customer in register.choices(window.desk.book).customers}
    assert known["Gwyn Nettlequay"].kind == "landlord"
    assert known["Gwyn Nettlequay"].address == ("3 Quay Lane",)
    assert window.leaf is not None
    assert window.leaf.place.leaf == "tonight"


def test_a_mail_address_without_its_at_is_refused_at_its_field(window: MainWindow) -> None:
    leaf = form(window, Place("customer_form"))
    leaf.fields["name"].set_text("Gwyn Nettlequay")
    leaf.fields["email"].set_text("gwyn.example.org")
    leaf.keep_all()
    assert "a mail address" in leaf.fields["email"].fault()
    assert window.leaf is leaf
    assert "Gwyn Nettlequay" not in {one.name for one in register.choices(window.desk.book).customers}


@pytest.mark.parametrize("name", ["customer_form", "premises_form", "appliance_form", "instrument_form"])
def test_keeping_a_known_one_unchanged_changes_nothing(window: MainWindow, name: str) -> None:
    before = pages.appliance_page(window.desk.book, 1)
    choices = register.choices(window.desk.book)
    form(window, Place(name, "1")).keep_all()
    assert window.leaf is not None
    assert window.leaf.place.leaf == "tonight", window.notice
    after = pages.appliance_page(window.desk.book, 1)
    assert (after.appliance, after.premises, after.customer) == (
        before.appliance,
        before.premises,
        before.customer,
    )
    assert register.choices(window.desk.book) == choices


def test_new_premises_of_a_known_customer(window: MainWindow) -> None:
    leaf = form(window, Place("premises_form", within="1"))
    customer = pages.premises_page(window.desk.book, 1).customer
    assert leaf.fields["customer"].text().startswith(customer.name)
    leaf.fields["address.0"].set_text("9 Otter Mead")
    leaf.keep_all()
    assert pages.premises_page(window.desk.book, 2).customer.id == customer.id


def test_premises_need_a_known_customer(window: MainWindow) -> None:
    leaf = form(window, Place("premises_form"))
    leaf.fields["address.0"].set_text("9 Otter Mead")
    leaf.fields["customer"].set_text("Nobody at all")
    leaf.keep_all()
    assert "Nobody at all" in leaf.fields["customer"].fault()


def test_a_new_appliance_with_its_makers_limits(window: MainWindow) -> None:
    leaf = form(window, Place("appliance_form", within="1"))
    typed = {
        "kind": "condensing boiler", "make": "Halvard", "model": "24", "fuel": "natural gas",
        "flue": "room-sealed", "rated_input.max_kw": "24.0 kW", "rated_input.basis": "net",
        "test_points": "air inlet, flue", "installed": "20/11/2026", "limits.ratio": "0.004",
        "limits.co2_pct.max.0": "8.8", "limits.co2_pct.max.1": "9.6",
        "limits.limits_source": "installation manual, page 41",
    }  # fmt: skip
    for name, text in typed.items():
        leaf.fields[name].set_text(text)
    leaf.keep_all()
    made = pages.appliance_page(window.desk.book, 2).appliance
    assert made.limits is not None
    assert made.limits.ratio == Decimal("0.004")
    assert made.limits.co2_pct["max"].high == Decimal("9.6")
    assert made.limits.source == "installation manual, page 41"
    assert made.test_points == ("air inlet", "flue")
    assert made.rated_input is not None
    assert made.rated_input.max_kw == Decimal("24.0")
    assert str(made.installed) == "2026-11-20"


def test_what_no_field_asks_for_stays(window: MainWindow) -> None:
    book = window.desk.book
    before = pages.appliance_page(book, 1).appliance
    assert before.limits is not None
    seven = Window(Decimal("7.0"), Decimal("7.5"))
    limits = replace(before.limits, o2_pct={"mid": seven}, smoke=Decimal(1))
    register.save_appliance(book, replace(before, limits=limits))
    register.save_premises(
        book,
        replace(
            pages.premises_page(book, 1).premises, address=("Flat 2", "Quay House", "3 Quay Lane", "Ellery")
        ),
    )
    leaf = form(window, Place("appliance_form", "1"))
    leaf.fields["make"].set_text("Halvard")
    leaf.keep_all()
    form(window, Place("premises_form", "1")).keep_all()
    after = pages.appliance_page(book, 1)
    assert after.appliance == replace(before, make="Halvard", limits=limits)
    assert after.premises.address[-1] == "Ellery"


def test_a_tolerance_that_is_cleared_is_unknown_and_not_none(window: MainWindow) -> None:
    known = register.choices(window.desk.book).instruments[0]
    assert known.tolerance["o2_pct"].abs > 0
    leaf = form(window, Place("instrument_form", "1"))
    leaf.fields["tolerance.o2_pct.abs"].set_text("")
    leaf.keep_all()
    kept = register.choices(window.desk.book).instruments[0]
    assert "o2_pct" not in kept.tolerance
    assert kept.tolerance["co_ppm"] == known.tolerance["co_ppm"]


def test_a_share_of_the_reading_is_typed_in_percent_as_the_data_sheet_has_it(window: MainWindow) -> None:
    path = "tolerance.co_ppm.rel"
    leaf = form(window, Place("instrument_form", "1"))
    leaf.fields[path].set_text("7.5 %")
    leaf.keep_all()
    assert register.choices(window.desk.book).instruments[0].tolerance["co_ppm"].rel == Decimal("0.075")
    again = form(window, Place("instrument_form", "1"))
    assert again.fields[path].text() == "7.5"
    again.fields[path].set_text("101")
    again.keep_all()
    assert "from 0 to 100 %" in again.fields[path].fault()
    assert register.choices(window.desk.book).instruments[0].tolerance["co_ppm"].rel == Decimal("0.075")


def test_half_a_window_is_refused_at_its_field(window: MainWindow) -> None:
    leaf = form(window, Place("appliance_form", within="1"))
    for name, text in {
        "kind": "condensing boiler",
        "fuel": "natural gas",
        "limits.co2_pct.min.0": "8.4",
    }.items():
        leaf.fields[name].set_text(text)
    leaf.keep_all()
    assert "two numbers" in leaf.fields["limits.co2_pct.min.0"].fault()


def test_a_kind_offers_only_what_it_burns(window: MainWindow) -> None:
    leaf = form(window, Place("appliance_form", within="1"))
    kind, fuel = leaf.fields["kind"], leaf.fields["fuel"]
    assert isinstance(kind, ChoiceField)
    assert isinstance(fuel, ChoiceField)
    assert "kerosene" in fuel.choices
    typist = Typist(window)
    typist.write("gas fire")
    typist.enter()
    assert set(fuel.choices) == {"natural gas", "methane", "propane", "butane"}
    fuel.set_text("kerosene")
    leaf.keep_all()
    assert fuel.fault().startswith("“kerosene” is not on the list")
    window.undo()
    assert "kerosene" in fuel.choices
    leaf.leave()


def test_the_fuels_fit_the_kind_of_the_book_and_of_a_form_half_typed(window: MainWindow) -> None:
    fuel = form(window, Place("appliance_form", "1")).fields["fuel"]
    assert isinstance(fuel, ChoiceField)
    assert "kerosene" not in fuel.choices
    place = Place("appliance_form", within="1")
    form(window, place)
    Typist(window).write("oil boiler")
    window.go(Place("tonight"))
    again = form(window, place).fields["fuel"]
    assert isinstance(again, ChoiceField)
    assert set(again.choices) == {"kerosene", "gas oil"}


def test_an_analyser_says_where_its_co2_comes_from(window: MainWindow) -> None:
    before = register.instrument(window.desk.book, 1)
    with window.desk.book.writing() as tx:
        stored.update_instrument(tx, replace(before, log_columns={"time": "Time"}))
    leaf = form(window, Place("instrument_form", "1"))
    assert leaf.fields["co2_calculated"].text() == "false"
    leaf.fields["co2_calculated"].set_text("true")
    leaf.keep_all()
    after = register.instrument(window.desk.book, 1)
    assert after == replace(before, log_columns={"time": "Time"}, co2_calculated=True)
    assert form(window, Place("instrument_form", "1")).fields["co2_calculated"].text() == "true"
