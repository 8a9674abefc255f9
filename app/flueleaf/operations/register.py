"""The register: finding what is known already, adding what is new, keeping what was corrected."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, TypeVar

from flueleaf.domain.problems import UserProblem
from flueleaf.domain.records.register import (
    Appliance,
    Customer,
    CustomerId,
    Instrument,
    InstrumentId,
    Premises,
)
from flueleaf.domain.words import said
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.page_records import RegisterPage
from flueleaf.storage import listing, register
from flueleaf.storage.book import Book

if TYPE_CHECKING:
    from sqlite_utils import Database

Record = TypeVar("Record", Customer, Premises, Appliance, Instrument)

# More than a career's worth: the list is offered while typing, not shown.
MOST_CUSTOMERS = 100_000

_REGISTER = frozenset({Topic.REGISTER})


def choices(book: Book) -> RegisterPage:
    """Return what a visit leaf offers while typing."""
    return RegisterPage(
        customers=tuple(register.customers(book.con, most=MOST_CUSTOMERS)),
        instruments=tuple(register.instruments(book.con)),
        models=tuple(listing.models(book.con)),
    )


def customer(book: Book, customer_id: int) -> Customer:
    """Return a customer.

    Raises:
        UserProblem: there is none of that id.
    """
    try:
        return register.customer(book.con, CustomerId(customer_id))
    except LookupError:
        raise UserProblem(said("That customer is not in the book any more.")) from None


def instrument(book: Book, instrument_id: int) -> Instrument:
    """Return an analyser.

    Raises:
        UserProblem: there is none of that id.
    """
    try:
        return register.instrument(book.con, InstrumentId(instrument_id))
    except LookupError:
        raise UserProblem(said("That analyser is not in the book any more.")) from None


def save_customer(book: Book, customer: Customer) -> Changes:
    """Add a customer, or keep the changes of a known one."""
    with book.writing() as tx:
        if customer.id is None:
            register.add_customer(tx, customer)
        else:
            register.update_customer(tx, customer)
    return Changes(_REGISTER, said("{customer} is kept.", customer=customer.name))


def save_premises(book: Book, premises: Premises) -> Changes:
    """Add premises, or keep the changes of known ones."""
    with book.writing() as tx:
        if premises.id is None:
            register.add_premises(tx, premises)
        else:
            register.update_premises(tx, premises)
    return Changes(_REGISTER, said("{address} is kept.", address=", ".join(premises.address)))


def save_appliance(book: Book, appliance: Appliance) -> Changes:
    """Add an appliance, or keep the changes of a known one."""
    with book.writing() as tx:
        if appliance.id is None:
            register.add_appliance(tx, appliance)
        else:
            register.update_appliance(tx, appliance)
    return Changes(_REGISTER, said("{make} {model} is kept.", make=appliance.make, model=appliance.model))


def save_instrument(book: Book, instrument: Instrument) -> Changes:
    """Add an analyser, or keep the changes of a known one."""
    with book.writing() as tx:
        if instrument.id is None:
            register.add_instrument(tx, instrument)
        else:
            register.update_instrument(tx, instrument)
    return Changes(_REGISTER, said("{instrument} is kept.", instrument=instrument.name))


def known_customer(tx: Database, customer: Customer) -> Customer:
    """Return a customer with its id: the known one of that name and postcode, or a new one."""
    found = register.find_customer(tx.conn, customer.name, customer.postcode)
    if found is None:
        return dataclasses.replace(customer, id=register.add_customer(tx, customer))
    merged = _merged(found, customer)
    if merged != found:
        register.update_customer(tx, merged)
    return merged


def known_premises(tx: Database, premises: Premises, customer: Customer) -> Premises:
    """Return premises with their id, found by address and postcode or added."""
    assert customer.id is not None
    found = register.find_premises(tx.conn, premises.address, premises.postcode)
    if found is None:
        new = dataclasses.replace(premises, customer_id=customer.id)
        return dataclasses.replace(new, id=register.add_premises(tx, new))
    merged = dataclasses.replace(_merged(found, premises), customer_id=customer.id)
    if merged != found:
        register.update_premises(tx, merged)
    return merged


def known_appliance(tx: Database, appliance: Appliance, premises: Premises) -> Appliance:
    """Return an appliance with its id, found at the premises by serial, or by kind and location, or added."""
    assert premises.id is not None
    found = register.find_appliance(
        tx.conn, premises.id, appliance.serial, appliance.kind, appliance.location
    )
    if found is None:
        new = dataclasses.replace(appliance, premises_id=premises.id)
        return dataclasses.replace(new, id=register.add_appliance(tx, new))
    merged = _merged(found, appliance)
    if merged != found:
        register.update_appliance(tx, merged)
    return merged


def known_instrument(tx: Database, instrument: Instrument | None) -> Instrument | None:
    """Return an analyser with its id, found by name and serial or added."""
    if instrument is None:
        return None
    found = register.find_instrument(tx.conn, instrument.name, instrument.serial)
    if found is None:
        return dataclasses.replace(instrument, id=register.add_instrument(tx, instrument))
    merged = _merged(found, instrument)
    if merged != found:
        register.update_instrument(tx, merged)
    return merged


def _merged(known: Record, given: Record) -> Record:
    """Return the known record with what was given; what was left empty stays as it was."""
    given_fields = {
        field.name: value
        for field in dataclasses.fields(given)
        if field.name not in ("id", "customer_id", "premises_id")
        and (value := getattr(given, field.name)) not in (None, "", (), {}, False)
    }
    return dataclasses.replace(known, **given_fields)
