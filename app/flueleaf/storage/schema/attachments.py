"""Schema version 2: photographs that stand beside the fields; a picture is kept once, wherever it is shown.

``visit_id`` is the id of a draft or of a signed-off visit. ``put_away`` is the moment a photograph was put
away, so that it can be brought back; ``shown`` marks the one beside the fields. A draft put away takes its
photographs with it; a visit signed off keeps those that were not put away.
"""

from __future__ import annotations

SQL = """
CREATE TABLE attachment_body (
    sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64), bytes BLOB NOT NULL
) STRICT;

CREATE TABLE attachment (
    id INTEGER PRIMARY KEY, visit_id TEXT NOT NULL CHECK (visit_id <> ''), position INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('slip', 'plate', 'other')), media_type TEXT NOT NULL,
    sha256 TEXT NOT NULL REFERENCES attachment_body (sha256), added TEXT NOT NULL, note TEXT NOT NULL,
    turn INTEGER NOT NULL CHECK (turn IN (0, 90, 180, 270)), put_away TEXT,
    shown INTEGER NOT NULL CHECK (shown IN (0, 1)),
    UNIQUE (visit_id, sha256)
) STRICT;
CREATE INDEX attachment_by_body ON attachment (sha256);

CREATE TRIGGER attachment_takes_its_body AFTER DELETE ON attachment
WHEN NOT EXISTS (SELECT 1 FROM attachment WHERE sha256 = OLD.sha256)
BEGIN DELETE FROM attachment_body WHERE sha256 = OLD.sha256; END;

CREATE TRIGGER draft_takes_its_attachments AFTER DELETE ON draft WHEN OLD.kind = 'visit'
BEGIN
DELETE FROM attachment WHERE visit_id = OLD.key
    AND (put_away IS NOT NULL OR NOT EXISTS (SELECT 1 FROM visit WHERE visit_id = OLD.key));
END;
"""
