"""What is due, stored with its date so that the list needs no derivation."""

from __future__ import annotations

SQL = """
CREATE TABLE due_item (
    id INTEGER PRIMARY KEY, rule TEXT NOT NULL CHECK (rule <> ''),
    due TEXT NOT NULL CHECK (due GLOB '????-??-??'), window_opens TEXT CHECK (window_opens GLOB '????-??-??'),
    reason TEXT NOT NULL,
    appliance_id INTEGER REFERENCES appliance (id), instrument_id INTEGER REFERENCES instrument (id),
    premises_id INTEGER REFERENCES premises (id),
    closed_on TEXT CHECK (closed_on GLOB '????-??-??'), done_by INTEGER REFERENCES visit (id),
    CHECK ((appliance_id IS NOT NULL) + (instrument_id IS NOT NULL) + (premises_id IS NOT NULL) = 1),
    CHECK (done_by IS NULL OR closed_on IS NOT NULL)
) STRICT;
CREATE INDEX due_item_open ON due_item (due) WHERE closed_on IS NULL;
CREATE UNIQUE INDEX due_item_once ON due_item
    (rule, ifnull(appliance_id, 0), ifnull(instrument_id, 0), ifnull(premises_id, 0)) WHERE closed_on IS NULL;
CREATE INDEX due_item_by_appliance ON due_item (appliance_id);
CREATE INDEX due_item_by_instrument ON due_item (instrument_id);
CREATE INDEX due_item_by_premises ON due_item (premises_id);
CREATE INDEX due_item_by_visit ON due_item (done_by);
"""
