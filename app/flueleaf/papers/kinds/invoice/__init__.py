"""The invoice."""

from __future__ import annotations

from flueleaf.papers.kinds.invoice.facts import Facts
from flueleaf.papers.kinds.invoice.sample import sample

TITLE = "Invoice"

__all__ = ["TITLE", "Facts", "sample"]
