"""Quotes, invoices, payments (whole pence) and work lines (exact decimals as text)."""

from __future__ import annotations

SQL = """
CREATE TABLE quote (
    id INTEGER PRIMARY KEY, number TEXT NOT NULL UNIQUE, date TEXT NOT NULL CHECK (date GLOB '????-??-??'),
    valid_until TEXT CHECK (valid_until GLOB '????-??-??'),
    customer_id INTEGER NOT NULL REFERENCES customer (id), premises_id INTEGER REFERENCES premises (id),
    net_pence INTEGER NOT NULL, vat_pence INTEGER NOT NULL, total_pence INTEGER NOT NULL,
    accepted_on TEXT CHECK (accepted_on GLOB '????-??-??')
) STRICT;
CREATE INDEX quote_by_customer ON quote (customer_id);
CREATE INDEX quote_by_premises ON quote (premises_id);

CREATE TABLE invoice (
    id INTEGER PRIMARY KEY, number TEXT NOT NULL UNIQUE, date TEXT NOT NULL CHECK (date GLOB '????-??-??'),
    due TEXT CHECK (due GLOB '????-??-??'),
    customer_id INTEGER NOT NULL REFERENCES customer (id), premises_id INTEGER REFERENCES premises (id),
    visit_ref INTEGER REFERENCES visit (id), quote_ref INTEGER UNIQUE REFERENCES quote (id),
    net_pence INTEGER NOT NULL, vat_pence INTEGER NOT NULL, total_pence INTEGER NOT NULL,
    payable_pence INTEGER NOT NULL
) STRICT;
CREATE INDEX invoice_by_customer ON invoice (customer_id);
CREATE INDEX invoice_by_premises ON invoice (premises_id);
CREATE INDEX invoice_by_visit ON invoice (visit_ref);
CREATE INDEX invoice_by_due ON invoice (due);

CREATE TABLE payment (
    id INTEGER PRIMARY KEY, invoice_ref INTEGER NOT NULL REFERENCES invoice (id),
    date TEXT NOT NULL CHECK (date GLOB '????-??-??'),
    amount_pence INTEGER NOT NULL CHECK (amount_pence <> 0),
    way TEXT NOT NULL, note TEXT NOT NULL
) STRICT;
CREATE INDEX payment_by_invoice ON payment (invoice_ref, date);

CREATE TABLE work_line (
    id INTEGER PRIMARY KEY, position INTEGER NOT NULL,
    visit_ref INTEGER REFERENCES visit (id), quote_ref INTEGER REFERENCES quote (id),
    invoice_ref INTEGER REFERENCES invoice (id),
    text TEXT NOT NULL, quantity TEXT NOT NULL, unit TEXT NOT NULL, unit_price TEXT NOT NULL,
    base_quantity TEXT NOT NULL, discount_pct TEXT NOT NULL, discount_amount TEXT NOT NULL,
    surcharge_amount TEXT NOT NULL, vat_pct TEXT,
    vat_category TEXT CHECK (vat_category IN ('S', 'Z', 'E', 'AE', 'O')),
    labour INTEGER NOT NULL CHECK (labour IN (0, 1)),
    CHECK ((visit_ref IS NOT NULL) + (quote_ref IS NOT NULL) + (invoice_ref IS NOT NULL) = 1)
) STRICT;
CREATE UNIQUE INDEX work_line_of_visit ON work_line (visit_ref, position) WHERE visit_ref IS NOT NULL;
CREATE UNIQUE INDEX work_line_of_quote ON work_line (quote_ref, position) WHERE quote_ref IS NOT NULL;
CREATE UNIQUE INDEX work_line_of_invoice ON work_line (invoice_ref, position) WHERE invoice_ref IS NOT NULL;
"""
