"""What an operation changed, so that the views that show it reload."""

from __future__ import annotations

import datetime as dt
import enum
from collections.abc import Callable
from dataclasses import dataclass, field

from flueleaf.storage.book import Book


class Topic(enum.Enum):
    """A part of the book that views may show."""

    BUSINESS = "business"
    REGISTER = "register"
    VISITS = "visits"
    DRAFTS = "drafts"
    PAPERS = "papers"
    MONEY = "money"
    DUE = "due"
    SENDING = "sending"
    TABLES = "tables"


@dataclass(frozen=True, slots=True)
class Changes:
    """The outcome of an operation: what it touched, and one sentence for the status line.

    Attributes:
        take_back: undoes it, given the book and the moment; None where it stands for good.
    """

    topics: frozenset[Topic]
    summary: str
    take_back: Callable[[Book, dt.datetime], Changes] | None = field(default=None, compare=False)
