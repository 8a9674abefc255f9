"""What an operation changed, so that the views that show it reload."""

from __future__ import annotations

import enum
from dataclasses import dataclass


class Topic(enum.Enum):
    """A part of the book that views may show."""

    BUSINESS = "business"
    REGISTER = "register"
    VISITS = "visits"
    DRAFTS = "drafts"
    PAPERS = "papers"
    MONEY = "money"
    DUE = "due"


@dataclass(frozen=True, slots=True)
class Changes:
    """The outcome of an operation: what it touched, and one sentence for the status line."""

    topics: frozenset[Topic]
    summary: str
