"""The business, its dated settings, the counters of its numbering series, and drafts."""

from __future__ import annotations

SQL = """
CREATE TABLE business (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    name TEXT NOT NULL, trading_name TEXT NOT NULL, address TEXT NOT NULL, postcode TEXT NOT NULL,
    telephone TEXT NOT NULL, email TEXT NOT NULL, registration TEXT NOT NULL,
    vat TEXT NOT NULL CHECK (vat IN ('none', 'standard')), vat_number TEXT NOT NULL,
    bank_name TEXT NOT NULL, sort_code TEXT NOT NULL, account_number TEXT NOT NULL,
    payment_days INTEGER NOT NULL CHECK (payment_days >= 0), invoice_text TEXT NOT NULL,
    logo_png BLOB, signature_png BLOB
) STRICT;

CREATE TABLE setting (
    key TEXT NOT NULL, valid_from TEXT NOT NULL CHECK (valid_from GLOB '????-??-??'), value TEXT NOT NULL,
    PRIMARY KEY (key, valid_from)
) STRICT, WITHOUT ROWID;

CREATE TABLE counter (
    series TEXT NOT NULL CHECK (series <> ''), year INTEGER NOT NULL, last INTEGER NOT NULL CHECK (last >= 1),
    PRIMARY KEY (series, year)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER counter_starts_at_one BEFORE INSERT ON counter
WHEN NEW.last <> 1 OR EXISTS (SELECT 1 FROM counter WHERE series = NEW.series AND year = NEW.year)
BEGIN SELECT RAISE(ABORT, 'a numbering series starts at 1 and only once'); END;

CREATE TRIGGER counter_goes_up_by_one BEFORE UPDATE ON counter
WHEN NEW.last <> OLD.last + 1 OR NEW.series <> OLD.series OR NEW.year <> OLD.year
BEGIN SELECT RAISE(ABORT, 'a numbering series goes up by one'); END;

CREATE TRIGGER counter_stays BEFORE DELETE ON counter
BEGIN SELECT RAISE(ABORT, 'a numbering series is never taken back'); END;

CREATE TABLE draft (
    kind TEXT NOT NULL, key TEXT NOT NULL,
    payload TEXT NOT NULL CHECK (json_valid(payload)), updated TEXT NOT NULL,
    PRIMARY KEY (kind, key)
) STRICT;
"""
