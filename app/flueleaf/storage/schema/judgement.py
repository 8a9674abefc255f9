"""Schema version 4: the owner's own limits and fuels, and what judging takes besides readings.

What the owner enters is never changed or removed: a later entry stands in its place from its own first day.
"""

from __future__ import annotations

SQL = """
CREATE TABLE own_limit (
    id INTEGER PRIMARY KEY, slot TEXT NOT NULL CHECK (slot <> ''),
    limit_text TEXT CHECK (limit_text <> ''),
    edition TEXT NOT NULL, source TEXT NOT NULL, clause TEXT NOT NULL,
    valid_from TEXT NOT NULL CHECK (valid_from GLOB '????-??-??'),
    entered_at TEXT NOT NULL CHECK (entered_at <> ''),
    CHECK (limit_text IS NULL OR (edition <> '' AND source <> ''))
) STRICT;
CREATE INDEX own_limit_by_slot ON own_limit (slot, id);

CREATE TRIGGER own_limit_is_not_replaced BEFORE INSERT ON own_limit
WHEN EXISTS (SELECT 1 FROM own_limit WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an entered limit is followed, not replaced'); END;

CREATE TRIGGER own_limit_is_not_changed BEFORE UPDATE ON own_limit
BEGIN SELECT RAISE(ABORT, 'an entered limit is followed, not changed'); END;

CREATE TRIGGER own_limit_is_not_removed BEFORE DELETE ON own_limit
BEGIN SELECT RAISE(ABORT, 'an entered limit is not removed'); END;

CREATE TABLE own_fuel (
    id INTEGER PRIMARY KEY, name TEXT NOT NULL CHECK (name <> ''),
    document TEXT NOT NULL CHECK (json_valid(document)),
    withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)),
    entered_at TEXT NOT NULL CHECK (entered_at <> '')
) STRICT;
CREATE INDEX own_fuel_by_name ON own_fuel (name, id);

CREATE TRIGGER own_fuel_is_not_replaced BEFORE INSERT ON own_fuel
WHEN EXISTS (SELECT 1 FROM own_fuel WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an entered fuel is followed, not replaced'); END;

CREATE TRIGGER own_fuel_is_not_changed BEFORE UPDATE ON own_fuel
BEGIN SELECT RAISE(ABORT, 'an entered fuel is followed, not changed'); END;

CREATE TRIGGER own_fuel_is_not_removed BEFORE DELETE ON own_fuel
BEGIN SELECT RAISE(ABORT, 'an entered fuel is not removed'); END;

CREATE TABLE noted (
    work_id INTEGER NOT NULL REFERENCES work (id), position INTEGER NOT NULL,
    key TEXT NOT NULL, text TEXT NOT NULL,
    PRIMARY KEY (work_id, position)
) STRICT, WITHOUT ROWID;

ALTER TABLE instrument ADD COLUMN log_columns TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(log_columns));

ALTER TABLE instrument ADD COLUMN co2_calculated INTEGER NOT NULL DEFAULT 0 CHECK (co2_calculated IN (0, 1));

ALTER TABLE slip ADD COLUMN adjusted INTEGER NOT NULL DEFAULT 0 CHECK (adjusted IN (0, 1));

ALTER TABLE slip ADD COLUMN settled INTEGER CHECK (settled IN (0, 1));

ALTER TABLE work ADD COLUMN overrides TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(overrides));
"""
