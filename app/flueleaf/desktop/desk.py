"""What every leaf is given: the book, the changes in it, the clock, and the questions it may ask."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from flueleaf.desktop.ask import Ask
from flueleaf.desktop.busy.busy import Busy
from flueleaf.desktop.change_hub import ChangeHub


def _now() -> dt.datetime:
    return dt.datetime.now().astimezone().replace(microsecond=0)


@dataclass(frozen=True, slots=True)
class Desk:
    """Handed to each leaf when it is opened.

    Attributes:
        book: the open book, only ever passed on to operations.
        hub: told after every operation, and watched by leaves that show what it may change.
        today: the clock.
        ask: file dialogs and the system's own viewer.
        busy: runs what takes a while, and is shown by the window.
        now: the instant at which papers are issued, with its offset.
    """

    book: Any
    hub: ChangeHub
    today: Callable[[], dt.date]
    ask: Ask
    now: Callable[[], dt.datetime] = _now
    busy: Busy = field(default_factory=Busy)
