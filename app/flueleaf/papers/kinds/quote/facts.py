"""What a quote states."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from flueleaf.papers.bill.facts import Bill
from flueleaf.papers.facts import Head


@dataclass(frozen=True, slots=True)
class Quote:
    """A quote: lines and total, the last day it can be accepted on, what it covers and what it does not."""

    bill: Bill
    date: dt.date
    valid_until: dt.date
    scope: tuple[str, ...] = ()
    not_in_scope: tuple[str, ...] = ()

    @property
    def head(self) -> Head:
        """The facts every paper has."""
        return self.bill.head


Facts = Quote
