"""Schema version 2: photographs that stand beside the fields; a picture is kept once, wherever it is shown.

``visit_id`` is the id of a draft or of a signed-off visit. ``put_away`` is the moment a photograph was put
away, so that it can be brought back.
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
    UNIQUE (visit_id, sha256)
) STRICT;
CREATE INDEX attachment_by_body ON attachment (sha256);
"""
