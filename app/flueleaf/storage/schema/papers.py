"""Sealed papers, their facts and PDF in a table of their own, and the log of what was sent.

Each guard is there twice: BEFORE UPDATE/DELETE, and BEFORE INSERT against a row that would replace one. An
erasure for privacy will be a migration of its own that lets a sealed erasure entry blank a body.
"""

from __future__ import annotations

SQL = """
CREATE TABLE sealed_paper (
    id INTEGER PRIMARY KEY, number TEXT NOT NULL UNIQUE,
    series TEXT NOT NULL, year INTEGER NOT NULL, ordinal INTEGER NOT NULL CHECK (ordinal >= 1),
    kind TEXT NOT NULL CHECK (kind <> ''), date TEXT NOT NULL CHECK (date GLOB '????-??-??'),
    visit_ref INTEGER REFERENCES visit (id), customer_id INTEGER REFERENCES customer (id),
    premises_id INTEGER REFERENCES premises (id),
    facts_sha256 TEXT NOT NULL CHECK (length(facts_sha256) = 64),
    pdf_sha256 TEXT NOT NULL CHECK (length(pdf_sha256) = 64),
    fingerprint TEXT NOT NULL UNIQUE CHECK (length(fingerprint) = 64),
    previous_fingerprint TEXT NOT NULL UNIQUE CHECK (length(previous_fingerprint) = 64),
    seal TEXT NOT NULL UNIQUE CHECK (length(seal) = 64),
    previous_seal TEXT NOT NULL UNIQUE CHECK (length(previous_seal) = 64),
    replaces TEXT REFERENCES sealed_paper (number), issued_at TEXT NOT NULL,
    UNIQUE (series, year, ordinal)
) STRICT;
CREATE INDEX sealed_paper_by_visit ON sealed_paper (visit_ref);
CREATE INDEX sealed_paper_by_premises ON sealed_paper (premises_id, date);
CREATE INDEX sealed_paper_by_customer ON sealed_paper (customer_id);
CREATE INDEX sealed_paper_by_replaces ON sealed_paper (replaces);
CREATE INDEX sealed_paper_by_date ON sealed_paper (date);

CREATE TRIGGER sealed_paper_is_not_changed BEFORE UPDATE ON sealed_paper
BEGIN SELECT RAISE(ABORT, 'a sealed paper is not changed'); END;

CREATE TRIGGER sealed_paper_is_not_removed BEFORE DELETE ON sealed_paper
BEGIN SELECT RAISE(ABORT, 'a sealed paper is not removed'); END;

CREATE TRIGGER sealed_paper_is_not_replaced BEFORE INSERT ON sealed_paper
WHEN EXISTS (
    SELECT 1 FROM sealed_paper
    WHERE id = NEW.id OR number = NEW.number OR fingerprint = NEW.fingerprint OR seal = NEW.seal
       OR previous_fingerprint = NEW.previous_fingerprint OR previous_seal = NEW.previous_seal
       OR (series = NEW.series AND year = NEW.year AND ordinal = NEW.ordinal))
BEGIN SELECT RAISE(ABORT, 'a sealed paper is not replaced'); END;

CREATE TRIGGER sealed_paper_takes_the_newest_number BEFORE INSERT ON sealed_paper
WHEN NEW.ordinal IS NOT (SELECT last FROM counter WHERE series = NEW.series AND year = NEW.year)
BEGIN SELECT RAISE(ABORT, 'a sealed paper takes the number its series has just given'); END;

CREATE TRIGGER sealed_paper_follows_the_chain BEFORE INSERT ON sealed_paper
WHEN EXISTS (SELECT 1 FROM sealed_paper)
 AND (SELECT fingerprint || ' ' || seal FROM sealed_paper ORDER BY id DESC LIMIT 1)
     IS NOT NEW.previous_fingerprint || ' ' || NEW.previous_seal
BEGIN SELECT RAISE(ABORT, 'a sealed paper follows the newest one'); END;

CREATE TABLE paper_body (
    paper_id INTEGER PRIMARY KEY REFERENCES sealed_paper (id), facts TEXT, pdf BLOB,
    CHECK ((facts IS NULL) = (pdf IS NULL))
) STRICT;

CREATE TRIGGER paper_body_is_not_changed BEFORE UPDATE ON paper_body
BEGIN SELECT RAISE(ABORT, 'the body of a sealed paper is not changed'); END;

CREATE TRIGGER paper_body_is_not_removed BEFORE DELETE ON paper_body
BEGIN SELECT RAISE(ABORT, 'the body of a sealed paper is not removed'); END;

CREATE TRIGGER paper_body_is_not_replaced BEFORE INSERT ON paper_body
WHEN NEW.facts IS NULL OR EXISTS (SELECT 1 FROM paper_body WHERE paper_id = NEW.paper_id)
BEGIN SELECT RAISE(ABORT, 'the body of a sealed paper is not replaced'); END;

CREATE TABLE send_log (
    id INTEGER PRIMARY KEY, paper_id INTEGER NOT NULL REFERENCES sealed_paper (id),
    sent_at TEXT NOT NULL, way TEXT NOT NULL, recipient TEXT NOT NULL, note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX send_log_by_paper ON send_log (paper_id);
"""
