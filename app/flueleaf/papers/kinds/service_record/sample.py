"""An invented service record."""

from __future__ import annotations

from flueleaf.papers.record.facts import Record
from flueleaf.papers.record.sample import sample_record


def sample() -> Record:
    """Return the facts of an invented service visit."""
    return sample_record("service record", "R-2026-0413", "service")
