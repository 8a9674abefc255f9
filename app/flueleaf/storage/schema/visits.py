"""Visits: per appliance a work with slips, readings, frozen verdicts, doubts, checks, defects, close-up."""

from __future__ import annotations

SQL = """
CREATE TABLE visit (
    id INTEGER PRIMARY KEY, visit_id TEXT NOT NULL UNIQUE CHECK (visit_id <> ''),
    purpose TEXT NOT NULL CHECK (purpose IN ('commissioning', 'service', 'landlord check', 'breakdown')),
    date TEXT NOT NULL CHECK (date GLOB '????-??-??'), arrived TEXT, left_at TEXT,
    customer_id INTEGER NOT NULL REFERENCES customer (id),
    premises_id INTEGER NOT NULL REFERENCES premises (id),
    signed_by TEXT,
    signature TEXT CHECK (signature IN ('signed', 'signed on paper', 'not present', 'refused')),
    papers TEXT NOT NULL CHECK (json_valid(papers)), issued_at TEXT,
    CHECK ((signed_by IS NULL) = (signature IS NULL))
) STRICT;
CREATE INDEX visit_by_premises ON visit (premises_id, date);
CREATE INDEX visit_by_customer ON visit (customer_id, date);
CREATE INDEX visit_by_date ON visit (date);

CREATE TABLE work (
    id INTEGER PRIMARY KEY, visit_ref INTEGER NOT NULL REFERENCES visit (id), position INTEGER NOT NULL,
    appliance_id INTEGER NOT NULL REFERENCES appliance (id),
    instrument_id INTEGER REFERENCES instrument (id),
    calibration_due TEXT CHECK (calibration_due GLOB '????-??-??'),
    supply TEXT NOT NULL CHECK (json_valid(supply)),
    outcome TEXT NOT NULL
        CHECK (outcome IN ('left in use', 'left in use with notes', 'made safe', 'isolated', 'not accessed')),
    verdict TEXT NOT NULL CHECK (verdict IN ('within', 'near', 'over', 'unjudged')),
    result TEXT NOT NULL CHECK (json_valid(result)),
    UNIQUE (visit_ref, position)
) STRICT;
CREATE INDEX work_by_appliance ON work (appliance_id, visit_ref);
CREATE INDEX work_by_instrument ON work (instrument_id);

CREATE TABLE slip (
    id INTEGER PRIMARY KEY, work_id INTEGER NOT NULL REFERENCES work (id), position INTEGER NOT NULL,
    point TEXT NOT NULL CHECK (point IN ('air inlet', 'flue', 'room', 'outdoors', 'hob', 'grill', 'oven')),
    rate TEXT NOT NULL CHECK (rate IN ('max', 'min', 'mid')), attempt INTEGER NOT NULL CHECK (attempt >= 1),
    decides INTEGER NOT NULL CHECK (decides IN (0, 1)), confirmed TEXT NOT NULL CHECK (json_valid(confirmed)),
    air_humidity_pct TEXT, ratio TEXT,
    verdict TEXT NOT NULL CHECK (verdict IN ('within', 'near', 'over', 'unjudged')),
    computed TEXT NOT NULL CHECK (json_valid(computed)),
    UNIQUE (work_id, position)
) STRICT;

CREATE TABLE reading (
    slip_id INTEGER NOT NULL REFERENCES slip (id), quantity TEXT NOT NULL,
    value TEXT, value_typed TEXT,
    CHECK (value IS NOT NULL OR value_typed IS NOT NULL),
    PRIMARY KEY (slip_id, quantity)
) STRICT, WITHOUT ROWID;

CREATE TABLE judged (
    id INTEGER PRIMARY KEY, slip_id INTEGER NOT NULL REFERENCES slip (id), position INTEGER NOT NULL,
    quantity TEXT NOT NULL, value TEXT, limit_value TEXT, sense TEXT, source TEXT,
    table_name TEXT, edition TEXT, clause TEXT, tolerance TEXT, standard_uncertainty TEXT,
    verdict TEXT NOT NULL CHECK (verdict IN ('within', 'near', 'over', 'unjudged')),
    margin TEXT, chance_beyond TEXT, rest TEXT NOT NULL CHECK (json_valid(rest)),
    UNIQUE (slip_id, position)
) STRICT;

CREATE TRIGGER judged_is_frozen BEFORE UPDATE ON judged
BEGIN SELECT RAISE(ABORT, 'a stored verdict is not changed'); END;

CREATE TABLE doubt (
    id INTEGER PRIMARY KEY, work_id INTEGER NOT NULL REFERENCES work (id),
    slip_id INTEGER REFERENCES slip (id),
    position INTEGER NOT NULL, code TEXT NOT NULL, confirmed INTEGER NOT NULL CHECK (confirmed IN (0, 1)),
    detail TEXT NOT NULL CHECK (json_valid(detail))
) STRICT;
CREATE INDEX doubt_by_work ON doubt (work_id);
CREATE INDEX doubt_by_slip ON doubt (slip_id);

CREATE TABLE check_answer (
    work_id INTEGER NOT NULL REFERENCES work (id), position INTEGER NOT NULL, key TEXT NOT NULL,
    answer TEXT NOT NULL CHECK (answer IN ('yes', 'no', 'not applicable')), note TEXT NOT NULL,
    PRIMARY KEY (work_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE defect (
    work_id INTEGER NOT NULL REFERENCES work (id), position INTEGER NOT NULL, text TEXT NOT NULL,
    class TEXT NOT NULL CHECK (class IN ('immediately dangerous', 'at risk', 'advice')), action TEXT NOT NULL,
    PRIMARY KEY (work_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE close_up (
    work_id INTEGER NOT NULL REFERENCES work (id), position INTEGER NOT NULL,
    point TEXT NOT NULL CHECK (point IN ('air inlet', 'flue', 'room', 'outdoors', 'hob', 'grill', 'oven')),
    refitted TEXT NOT NULL CHECK (refitted IN ('yes', 'no', 'not sure')),
    PRIMARY KEY (work_id, point)
) STRICT, WITHOUT ROWID;

CREATE TABLE not_measured (
    work_id INTEGER NOT NULL REFERENCES work (id), position INTEGER NOT NULL,
    point TEXT NOT NULL CHECK (point IN ('air inlet', 'flue', 'room', 'outdoors', 'hob', 'grill', 'oven')),
    rate TEXT NOT NULL CHECK (rate IN ('max', 'min', 'mid')), reason TEXT NOT NULL,
    PRIMARY KEY (work_id, position)
) STRICT, WITHOUT ROWID;
"""
