"""Schema version 2: the letters of each numbering series, and the number it starts with in a year.

Letters belong to one series for good: two series can never give the same number. The newest row of a series
holds. A start is settled once its first number is given.
"""

from __future__ import annotations

SQL = """
CREATE TABLE series_letters (
    id INTEGER PRIMARY KEY,
    series_key TEXT NOT NULL CHECK (series_key IN ('records', 'quotes', 'invoices')),
    letters TEXT NOT NULL CHECK (length(letters) BETWEEN 1 AND 4 AND letters NOT GLOB '*[^A-Z]*')
) STRICT;

CREATE TRIGGER series_letters_belong_to_one BEFORE INSERT ON series_letters
WHEN EXISTS (SELECT 1 FROM series_letters WHERE id = NEW.id)
  OR EXISTS (SELECT 1 FROM series_letters WHERE letters = NEW.letters AND series_key <> NEW.series_key)
BEGIN SELECT RAISE(ABORT, 'the letters of a numbering series are its own'); END;

CREATE TRIGGER series_letters_are_not_changed BEFORE UPDATE ON series_letters
BEGIN SELECT RAISE(ABORT, 'the letters of a numbering series are followed, not changed'); END;

CREATE TRIGGER series_letters_are_not_removed BEFORE DELETE ON series_letters
BEGIN SELECT RAISE(ABORT, 'the letters of a numbering series are not removed'); END;

INSERT INTO series_letters (series_key, letters) VALUES ('records', 'R'), ('quotes', 'Q'), ('invoices', 'I');

CREATE TABLE series_start (
    series TEXT NOT NULL CHECK (series <> ''), year INTEGER NOT NULL,
    first INTEGER NOT NULL CHECK (first >= 1),
    PRIMARY KEY (series, year)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER series_start_is_set_before_use BEFORE INSERT ON series_start
WHEN EXISTS (SELECT 1 FROM counter WHERE series = NEW.series AND year = NEW.year)
  OR EXISTS (SELECT 1 FROM series_start WHERE series = NEW.series AND year = NEW.year)
BEGIN SELECT RAISE(ABORT, 'a numbering series that has given a number keeps its start'); END;

CREATE TRIGGER series_start_is_changed_before_use BEFORE UPDATE ON series_start
WHEN NEW.series <> OLD.series OR NEW.year <> OLD.year
  OR EXISTS (SELECT 1 FROM counter WHERE series = OLD.series AND year = OLD.year)
BEGIN SELECT RAISE(ABORT, 'a numbering series that has given a number keeps its start'); END;

CREATE TRIGGER series_start_stays BEFORE DELETE ON series_start
BEGIN SELECT RAISE(ABORT, 'the start of a numbering series is never taken back'); END;

DROP TRIGGER counter_starts_at_one;

CREATE TRIGGER counter_starts_at_its_first BEFORE INSERT ON counter
WHEN NEW.last <> ifnull((SELECT first FROM series_start WHERE series = NEW.series AND year = NEW.year), 1)
  OR EXISTS (SELECT 1 FROM counter WHERE series = NEW.series AND year = NEW.year)
BEGIN SELECT RAISE(ABORT, 'a numbering series starts at its first number and only once'); END;
"""
