"""What the owner enters beside the shipped tables: limits from the own copy of a standard, and fuels."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any


@dataclass(frozen=True, slots=True)
class OwnLimit:
    """The owner's entry for one slot of a rule table.

    Attributes:
        slot: ``<table>.<slot>``, as the rule tables name it.
        limit: with its digits, in the unit of the slot's quantity; None takes the entry before it back.
        edition, source, clause: of the document it was read in.
        valid_from: first day of work it counts for.
        entered_at: aware instant at which it was entered.
    """

    slot: str
    limit: Decimal | None
    valid_from: dt.date
    entered_at: dt.datetime
    edition: str = ""
    source: str = ""
    clause: str = ""


@dataclass(frozen=True, slots=True)
class OwnFuel:
    """A fuel of the owner's, as the document that ``flueleaf fuel`` takes; ``withdrawn`` takes it back."""

    name: str
    document: Mapping[str, Any]
    entered_at: dt.datetime
    withdrawn: bool = False
