"""Schema version 3: the owner's own lines under quotes and records, as invoices have one already."""

from __future__ import annotations

SQL = """
ALTER TABLE business ADD COLUMN quote_text TEXT NOT NULL DEFAULT '';

ALTER TABLE business ADD COLUMN record_text TEXT NOT NULL DEFAULT '';
"""
