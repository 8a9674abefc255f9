"""The service record."""

from __future__ import annotations

from flueleaf.papers.kinds.service_record.facts import Facts
from flueleaf.papers.kinds.service_record.sample import sample

TITLE = "Service record"

__all__ = ["TITLE", "Facts", "sample"]
