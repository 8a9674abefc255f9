"""An invented commissioning record."""

from __future__ import annotations

from flueleaf.papers.record.facts import Record
from flueleaf.papers.record.sample import sample_record


def sample() -> Record:
    """Return the facts of an invented commissioning visit."""
    return sample_record("commissioning record", "R-2026-0412", "commissioning")
