"""The quote."""

from __future__ import annotations

from flueleaf.papers.kinds.quote.facts import Facts
from flueleaf.papers.kinds.quote.sample import sample

TITLE = "Quote"

__all__ = ["TITLE", "Facts", "sample"]
