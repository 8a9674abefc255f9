"""The register gives back what was put in, and finds doubles."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.storage.samples import APPLIANCE, CUSTOMER, INSTRUMENT, PREMISES, registered

from flueleaf.domain.records.register import (
    CUSTOMER_KINDS,
    FLUES,
    POINTS,
    RATES,
    Appliance,
    Customer,
    Instrument,
    MakerLimits,
    Premises,
    PremisesId,
    RatedInput,
    Tolerance,
    Window,
)
from flueleaf.storage import register
from flueleaf.storage.book import Book
from flueleaf.storage.rows import decimal_text, dump

text = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
line = st.text(st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"]), min_size=1, max_size=9).map(
    str.strip
)
address = st.lists(line.filter(bool), max_size=3).map(tuple)
number = st.decimals(allow_nan=False, allow_infinity=False, places=4, min_value=-(10**6), max_value=10**6)
maybe = st.none() | number
dates = st.none() | st.dates()
windows = st.dictionaries(st.sampled_from(RATES), st.builds(Window, number, number), max_size=3)
limits = st.none() | st.builds(MakerLimits, maybe, maybe, windows, windows, text)
rated = st.none() | st.builds(RatedInput, st.sampled_from(["net", "gross"]), maybe, maybe)
customers = st.builds(Customer, text, st.sampled_from(CUSTOMER_KINDS), address, text, text, text)
places = st.builds(Premises, address, text, text)
appliances = st.builds(
    Appliance, text, text, text, text, text, text, st.sampled_from(FLUES), rated, limits,
    st.lists(st.sampled_from(POINTS), max_size=3).map(tuple), dates, st.just(PremisesId(1)),
)  # fmt: skip
instruments = st.builds(
    Instrument, text, text, dates, st.dictionaries(text, st.builds(Tolerance, number, number), max_size=3),
    st.dictionaries(text, number, max_size=3), st.lists(text, max_size=3).map(tuple),
)  # fmt: skip


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """A book for many examples."""
    with Book.create(tmp_path_factory.mktemp("register") / "a.book") as book:
        registered(book)
        yield book


@settings(max_examples=30, deadline=None)
@given(customers, places, appliances, instruments)
def test_what_is_put_in_comes_out(
    shared: Book, customer: Customer, premises: Premises, appliance: Appliance, instrument: Instrument
) -> None:
    con = shared.con
    with shared.writing() as tx:
        customer = replace(customer, id=register.add_customer(tx, customer))
        premises = replace(premises, customer_id=customer.id)
        premises = replace(premises, id=register.add_premises(tx, premises))
        appliance = replace(appliance, id=register.add_appliance(tx, appliance))
        instrument = replace(instrument, id=register.add_instrument(tx, instrument))
    assert customer.id
    assert premises.id
    assert appliance.id
    assert instrument.id
    assert register.customer(con, customer.id) == customer
    assert register.premises(con, premises.id) == premises
    assert register.appliance(con, appliance.id) == appliance
    assert register.instrument(con, instrument.id) == instrument
    found = register.find_customer(con, f"  {customer.name} ", customer.postcode)
    assert found is not None
    assert found.name.split() == customer.name.split() or found.id == customer.id
    assert register.find_premises(con, premises.address, premises.postcode) is not None


def test_every_digit_is_kept(book: Book) -> None:
    limits = MakerLimits(
        Decimal("350"), Decimal("0.00400"), {"max": Window(Decimal("8.80"), Decimal("1E+1"))}
    )
    registered(book)
    with book.writing() as tx:
        known = register.add_appliance(tx, replace(APPLIANCE, limits=limits, premises_id=PremisesId(1)))
    kept = register.appliance(book.con, known).limits
    assert kept is not None
    assert str(kept.ratio) == "0.00400"
    assert str(kept.co2_pct["max"].low) == "8.80"
    assert str(kept.co2_pct["max"].high) == "10"


def test_a_record_is_changed(book: Book) -> None:
    visit = registered(book)
    work, con = visit.works[0], book.con
    assert work.instrument is not None
    customer = replace(visit.customer, name="Maud Tarrant", kind="householder")
    premises = replace(visit.premises, responsible="Nell Oake")
    appliance = replace(work.appliance, limits=None, rated_input=None, installed=None)
    instrument = replace(work.instrument, calibration_due=dt.date(2028, 3, 1))
    with book.writing() as tx:
        register.update_customer(tx, customer)
        register.update_premises(tx, premises)
        register.update_appliance(tx, appliance)
        register.update_instrument(tx, instrument)
        register.update_instrument(tx, instrument)
    assert register.customers(con) == [customer]
    assert register.all_premises(con) == [premises]
    assert register.premises_of(con, customer.id) == [premises]  # type: ignore[arg-type]
    assert register.appliances_of(con, premises.id) == [appliance]  # type: ignore[arg-type]
    assert register.instruments(con) == [instrument]
    due = register.calibrations(con, instrument.id)  # type: ignore[arg-type]
    assert due == [dt.date(2027, 3, 1), dt.date(2028, 3, 1)]


def test_what_is_not_there(book: Book) -> None:
    for read in (register.customer, register.premises, register.appliance, register.instrument):
        with pytest.raises(LookupError):
            read(book.con, 5)  # type: ignore[arg-type]
    with pytest.raises(LookupError, match="never added"), book.writing() as tx:
        register.update_customer(tx, CUSTOMER)
    with pytest.raises(LookupError, match="no customer 9"), book.writing() as tx:
        register.update_customer(tx, replace(CUSTOMER, id=9))  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="stands at premises"), book.writing() as tx:
        register.add_appliance(tx, APPLIANCE)
    assert register.find_customer(book.con, "Maud Ferrow", "QX3 7TB") is None
    assert register.find_premises(book.con, PREMISES.address, PREMISES.postcode) is None
    assert register.find_instrument(book.con, "analyser 1") is None


def test_customers_and_premises_are_found_as_written_by_another_hand(book: Book) -> None:
    visit, con = registered(book), book.con
    assert register.find_customer(con, " MAUD  ferrow", "qx37tb") == visit.customer
    assert register.find_customer(con, "Maud Ferrow", "QX3 7TC") is None
    for lines in (
        ["14 Cooper's Rise", "Port Ellery"],
        ["14 COOPER’S RISE, Port  Ellery"],
        ["14 Cooper's Rise\nPort Ellery"],
    ):
        assert register.find_premises(con, lines, "qx3  7tc") == visit.premises
    assert register.find_premises(con, ["1 4 Cooper's Rise", "Port Ellery"], "QX3 7TC") is None


@pytest.mark.parametrize(
    ("serial", "kind", "location", "found"),
    [
        ("hv-4471903", "", "", "known"),
        ("HV-4471 903", "other", "elsewhere", "known"),
        ("", "Condensing  Boiler", "AIRING CUPBOARD", "known"),
        ("HV-9", "condensing boiler", "airing cupboard", None),
        ("", "condensing boiler", "loft", None),
        ("new 1", "gas fire", "lounge", "nameless"),
        ("", "gas fire", "lounge", "nameless"),
    ],
)
def test_appliances_are_found(book: Book, serial: str, kind: str, location: str, found: str | None) -> None:
    visit = registered(book)
    assert visit.premises.id is not None
    with book.writing() as tx:
        nameless = Appliance("gas fire", location="lounge", premises_id=visit.premises.id)
        nameless = replace(nameless, id=register.add_appliance(tx, nameless))
    expected = {"known": visit.works[0].appliance, "nameless": nameless, None: None}[found]
    assert register.find_appliance(book.con, visit.premises.id, serial, kind, location) == expected
    assert register.find_appliance(book.con, PremisesId(99), serial, kind, location) is None


@pytest.mark.parametrize(
    ("name", "serial", "found"),
    [
        ("other", "an0042", "known"),
        ("ANALYSER 1", "", "known"),
        ("analyser 1", "AN 9", None),
        ("spare", "SP 1", "nameless"),
        ("spare", "", "nameless"),
        ("analyser 2", "", None),
    ],
)
def test_instruments_are_found(book: Book, name: str, serial: str, found: str | None) -> None:
    with book.writing() as tx:
        known = replace(INSTRUMENT, id=register.add_instrument(tx, INSTRUMENT))
        nameless = Instrument("spare")
        nameless = replace(nameless, id=register.add_instrument(tx, nameless))
    expected = {"known": known, "nameless": nameless, None: None}[found]
    assert register.find_instrument(book.con, name, serial) == expected


def test_lists_come_in_pages(book: Book) -> None:
    with book.writing() as tx:
        for name in ("cora", "Ada", "BEN"):
            register.add_customer(tx, Customer(name))
    assert [one.name for one in register.customers(book.con)] == ["Ada", "BEN", "cora"]
    assert [one.name for one in register.customers(book.con, most=1, after=1)] == ["BEN"]
    assert register.all_premises(book.con, most=1) == []


def test_what_the_book_cannot_keep_is_refused() -> None:
    with pytest.raises(ValueError, match="not a number"):
        decimal_text(Decimal("NaN"))
    with pytest.raises(TypeError, match="bytes cannot"):
        dump({"a": b""})
    day = dt.date(2026, 1, 2)
    assert (
        dump({"a": Decimal("1.50"), "b": day, "c": {"y", "x"}})
        == '{"a":"1.50","b":"2026-01-02","c":["x","y"]}'
    )
