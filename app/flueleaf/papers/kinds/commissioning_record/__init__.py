"""The commissioning record."""

from __future__ import annotations

from flueleaf.papers.kinds.commissioning_record.facts import Facts
from flueleaf.papers.kinds.commissioning_record.sample import sample

TITLE = "Commissioning record"

__all__ = ["TITLE", "Facts", "sample"]
