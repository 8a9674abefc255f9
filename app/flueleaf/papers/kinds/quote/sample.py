"""An invented quote."""

from __future__ import annotations

import datetime as dt

from flueleaf.papers.bill.sample import sample_bill
from flueleaf.papers.kinds.quote.facts import Quote


def sample() -> Quote:
    """Return the facts of an invented quote."""
    return Quote(
        bill=sample_bill("quote", "Q-2026-0087"),
        date=dt.date(2026, 11, 2),
        valid_until=dt.date(2026, 12, 2),
        scope=(
            "Taking out the old boiler and fitting the new one in the same place.",
            "Commissioning with readings at both rates, and the record of it.",
        ),
        not_in_scope=("Making good of tiles and paint.", "Work on the radiators upstairs."),
    )
