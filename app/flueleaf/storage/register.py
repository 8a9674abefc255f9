"""The register: customers, premises, appliances, instruments."""

from __future__ import annotations

import datetime as dt
import sqlite3
from collections.abc import Iterable
from typing import TYPE_CHECKING

from flueleaf.domain.records.register import (
    Appliance,
    ApplianceId,
    Customer,
    CustomerId,
    Instrument,
    InstrumentId,
    Premises,
    PremisesId,
)
from flueleaf.storage import register_rows as rows
from flueleaf.storage.rows import insert, key_of, lines_text, tight_key_of, update

if TYPE_CHECKING:
    from sqlite_utils import Database


def add_customer(tx: Database, record: Customer) -> CustomerId:
    """Add a customer; the record's own id does not count."""
    return CustomerId(insert(tx, "customer", rows.customer_row(record)))


def update_customer(tx: Database, record: Customer) -> None:
    """Change a customer.

    Raises:
        LookupError: there is no customer of that id.
    """
    update(tx, "customer", _known(record.id), rows.customer_row(record))


def customer(con: sqlite3.Connection, customer_id: CustomerId) -> Customer:
    """Return a customer.

    Raises:
        LookupError: there is no customer of that id.
    """
    return rows.customer_of(_one(con, "customer", customer_id))


def find_customer(con: sqlite3.Connection, name: str, postcode: str = "") -> Customer | None:
    """Return the customer of that name and postcode; case and blanks do not count."""
    row = con.execute(
        "SELECT * FROM customer WHERE name_key = ? AND postcode_key = ? ORDER BY id DESC LIMIT 1",
        (key_of(name), tight_key_of(postcode)),
    ).fetchone()
    return None if row is None else rows.customer_of(row)


def customers(con: sqlite3.Connection, *, most: int = 200, after: int = 0) -> list[Customer]:
    """Return customers by name: at most ``most``, leaving out the first ``after``."""
    found = con.execute("SELECT * FROM customer ORDER BY name_key, id LIMIT ? OFFSET ?", (most, after))
    return [rows.customer_of(row) for row in found]


def add_premises(tx: Database, record: Premises) -> PremisesId:
    """Add premises; the record's own id does not count."""
    return PremisesId(insert(tx, "premises", rows.premises_row(record)))


def update_premises(tx: Database, record: Premises) -> None:
    """Change premises.

    Raises:
        LookupError: there are no premises of that id.
    """
    update(tx, "premises", _known(record.id), rows.premises_row(record))


def premises(con: sqlite3.Connection, premises_id: PremisesId) -> Premises:
    """Return premises.

    Raises:
        LookupError: there are no premises of that id.
    """
    return rows.premises_of(_one(con, "premises", premises_id))


def find_premises(con: sqlite3.Connection, address: Iterable[str], postcode: str = "") -> Premises | None:
    """Return the premises of that address; case, blanks, commas and line ends do not count."""
    row = con.execute(
        "SELECT * FROM premises WHERE address_key = ? AND postcode_key = ? ORDER BY id DESC LIMIT 1",
        (key_of(lines_text(address)), tight_key_of(postcode)),
    ).fetchone()
    return None if row is None else rows.premises_of(row)


def premises_of(con: sqlite3.Connection, customer_id: CustomerId) -> list[Premises]:
    """Return a customer's premises by address."""
    found = con.execute(
        "SELECT * FROM premises WHERE customer_id = ? ORDER BY address_key, id", (customer_id,)
    )
    return [rows.premises_of(row) for row in found]


def all_premises(con: sqlite3.Connection, *, most: int = 200, after: int = 0) -> list[Premises]:
    """Return premises by address: at most ``most``, leaving out the first ``after``."""
    found = con.execute("SELECT * FROM premises ORDER BY address_key, id LIMIT ? OFFSET ?", (most, after))
    return [rows.premises_of(row) for row in found]


def add_appliance(tx: Database, record: Appliance) -> ApplianceId:
    """Add an appliance at its premises; the record's own id does not count.

    Raises:
        ValueError: it stands nowhere.
    """
    if record.premises_id is None:
        raise ValueError("an appliance stands at premises")
    return ApplianceId(insert(tx, "appliance", rows.appliance_row(record)))


def update_appliance(tx: Database, record: Appliance) -> None:
    """Change an appliance.

    Raises:
        LookupError: there is no appliance of that id.
    """
    update(tx, "appliance", _known(record.id), rows.appliance_row(record))


def appliance(con: sqlite3.Connection, appliance_id: ApplianceId) -> Appliance:
    """Return an appliance.

    Raises:
        LookupError: there is no appliance of that id.
    """
    return rows.appliance_of(_one(con, "appliance", appliance_id))


def find_appliance(
    con: sqlite3.Connection, premises_id: PremisesId, serial: str, kind: str, location: str
) -> Appliance | None:
    """Return the appliance at some premises: by serial, or by kind and location if either has none.

    Another serial in the same place is another appliance: the old one was replaced.
    """
    here = "SELECT * FROM appliance WHERE premises_id = ?"
    serial_key = tight_key_of(serial)
    if serial_key:
        row = con.execute(
            f"{here} AND serial_key = ? ORDER BY id DESC LIMIT 1", (premises_id, serial_key)
        ).fetchone()
        if row is not None:
            return rows.appliance_of(row)
    row = con.execute(
        f"{here} AND kind_key = ? AND location_key = ? AND (? = '' OR serial_key = '')"
        " ORDER BY id DESC LIMIT 1",
        (premises_id, key_of(kind), key_of(location), serial_key),
    ).fetchone()
    return None if row is None else rows.appliance_of(row)


def appliances_of(con: sqlite3.Connection, premises_id: PremisesId) -> list[Appliance]:
    """Return the appliances at some premises, in the order they were added."""
    found = con.execute("SELECT * FROM appliance WHERE premises_id = ? ORDER BY id", (premises_id,))
    return [rows.appliance_of(row) for row in found]


def add_instrument(tx: Database, record: Instrument) -> InstrumentId:
    """Add an instrument; the record's own id does not count."""
    number = InstrumentId(insert(tx, "instrument", rows.instrument_row(record)))
    _note_calibration(tx, number, record.calibration_due)
    return number


def update_instrument(tx: Database, record: Instrument) -> None:
    """Change an instrument; a new calibration date joins the earlier ones.

    Raises:
        LookupError: there is no instrument of that id.
    """
    number = InstrumentId(_known(record.id))
    update(tx, "instrument", number, rows.instrument_row(record))
    _note_calibration(tx, number, record.calibration_due)


def instrument(con: sqlite3.Connection, instrument_id: InstrumentId) -> Instrument:
    """Return an instrument.

    Raises:
        LookupError: there is no instrument of that id.
    """
    return rows.instrument_of(_one(con, "instrument", instrument_id))


def find_instrument(con: sqlite3.Connection, name: str, serial: str = "") -> Instrument | None:
    """Return an instrument by serial, or by name where either side has no serial."""
    serial_key = tight_key_of(serial)
    row = con.execute(
        "SELECT * FROM instrument WHERE (? <> '' AND serial_key = ?)"
        " OR (name_key = ? AND (? = '' OR serial_key = '')) ORDER BY serial_key = ? DESC, id DESC LIMIT 1",
        (serial_key, serial_key, key_of(name), serial_key, serial_key),
    ).fetchone()
    return None if row is None else rows.instrument_of(row)


def instruments(con: sqlite3.Connection) -> list[Instrument]:
    """Return every instrument by name."""
    return [rows.instrument_of(row) for row in con.execute("SELECT * FROM instrument ORDER BY name_key, id")]


def calibrations(con: sqlite3.Connection, instrument_id: InstrumentId) -> list[dt.date]:
    """Return the days on which an instrument's calibrations ran or run out, oldest first."""
    found = con.execute("SELECT due FROM calibration WHERE instrument_id = ? ORDER BY due", (instrument_id,))
    return [dt.date.fromisoformat(row["due"]) for row in found]


def _note_calibration(tx: Database, instrument_id: InstrumentId, due: dt.date | None) -> None:
    if due is not None:
        tx.execute(
            "INSERT INTO calibration (instrument_id, due) VALUES (?, ?) ON CONFLICT DO NOTHING",
            (instrument_id, due.isoformat()),
        )


def _known(number: int | None) -> int:
    if number is None:
        raise LookupError("a record that was never added cannot be changed")
    return number


def _one(con: sqlite3.Connection, table: str, number: int) -> sqlite3.Row:
    row: sqlite3.Row | None = con.execute(f"SELECT * FROM {table} WHERE id = ?", (number,)).fetchone()
    if row is None:
        raise LookupError(f"no {table} {number}")
    return row
