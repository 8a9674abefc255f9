"""Quotes and invoices: lines, totals and terms."""
