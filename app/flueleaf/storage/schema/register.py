"""Customers, premises, appliances, instruments; ``…_key`` columns hold the text that finds doubles."""

from __future__ import annotations

SQL = """
CREATE TABLE customer (
    id INTEGER PRIMARY KEY, name TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('householder', 'landlord', 'agent', 'business')),
    address TEXT NOT NULL, postcode TEXT NOT NULL, telephone TEXT NOT NULL, email TEXT NOT NULL,
    name_key TEXT NOT NULL, postcode_key TEXT NOT NULL
) STRICT;
CREATE INDEX customer_by_name ON customer (name_key, postcode_key);

CREATE TABLE premises (
    id INTEGER PRIMARY KEY, customer_id INTEGER REFERENCES customer (id),
    address TEXT NOT NULL, postcode TEXT NOT NULL, responsible TEXT NOT NULL,
    address_key TEXT NOT NULL, postcode_key TEXT NOT NULL
) STRICT;
CREATE INDEX premises_by_customer ON premises (customer_id);
CREATE INDEX premises_by_address ON premises (address_key, postcode_key);

CREATE TABLE appliance (
    id INTEGER PRIMARY KEY, premises_id INTEGER NOT NULL REFERENCES premises (id),
    kind TEXT NOT NULL, make TEXT NOT NULL, model TEXT NOT NULL, serial TEXT NOT NULL, location TEXT NOT NULL,
    fuel TEXT NOT NULL, flue TEXT NOT NULL CHECK (flue IN ('room-sealed', 'open', 'none')),
    input_basis TEXT CHECK (input_basis IN ('net', 'gross')), input_max_kw TEXT, input_min_kw TEXT,
    limits TEXT CHECK (limits IS NULL OR json_valid(limits)),
    test_points TEXT NOT NULL CHECK (json_valid(test_points)),
    installed TEXT CHECK (installed GLOB '????-??-??'),
    kind_key TEXT NOT NULL, location_key TEXT NOT NULL, serial_key TEXT NOT NULL,
    CHECK (input_basis IS NOT NULL OR (input_max_kw IS NULL AND input_min_kw IS NULL))
) STRICT;
CREATE INDEX appliance_by_premises ON appliance (premises_id, serial_key);

CREATE TABLE instrument (
    id INTEGER PRIMARY KEY, name TEXT NOT NULL, serial TEXT NOT NULL,
    calibration_due TEXT CHECK (calibration_due GLOB '????-??-??'),
    tolerance TEXT NOT NULL CHECK (json_valid(tolerance)), ranges TEXT NOT NULL CHECK (json_valid(ranges)),
    print_order TEXT NOT NULL CHECK (json_valid(print_order)),
    name_key TEXT NOT NULL, serial_key TEXT NOT NULL
) STRICT;
CREATE INDEX instrument_by_name ON instrument (name_key, serial_key);

CREATE TABLE calibration (
    id INTEGER PRIMARY KEY, instrument_id INTEGER NOT NULL REFERENCES instrument (id),
    due TEXT NOT NULL CHECK (due GLOB '????-??-??'), certificate TEXT NOT NULL DEFAULT '',
    UNIQUE (instrument_id, due)
) STRICT;
"""
