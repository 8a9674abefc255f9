"""What is written down beside readings and checks: how an appliance was found, set, filled and left."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from flueleaf.domain.problems import Fault
from flueleaf.domain.quantities import Quantity, parse
from flueleaf.domain.records.register import Flue
from flueleaf.domain.records.visits import PURPOSES, Purpose
from flueleaf.domain.words import quoted, said

NoteValue = Literal["text", "number", "choice", "date"]

NOTE_VALUES: tuple[NoteValue, ...] = ("text", "number", "choice", "date")
LONGEST_NOTE = 500  # characters: a note, not a letter; a keying guard of our own
EARLIEST, LATEST = dt.date(1950, 1, 1), dt.date(2200, 1, 1)  # as everywhere in a visit's document


@dataclass(frozen=True, slots=True)
class Note:
    """One thing that is written down at an appliance, by hand, never worked out and never judged.

    Attributes:
        key: unique within the kind; group: the heading it stands under; stage: key of its stage.
        label: what it is, without unit.
        value: what is accepted: any text, a number with its unit, one of the choices, a day.
        purposes, flues: where it is asked; no flues: whatever the flue.
        unit, low, high, decimals: of a number; a range that only catches a slip of the pen.
        choices: of a choice, in the order shown.
        keeps: whether last time's stands until written anew: what is built in, not what is found or done.
    """

    key: str
    group: str
    stage: str
    label: str
    value: NoteValue = "text"
    purposes: tuple[Purpose, ...] = PURPOSES
    flues: tuple[Flue, ...] = ()
    unit: str = ""
    low: Decimal = Decimal(0)
    high: Decimal = Decimal(0)
    decimals: int = 0
    choices: tuple[str, ...] = ()
    keeps: bool = False

    @property
    def quantity(self) -> Quantity:
        """The number as a field or a reader takes it; its own unit may be typed behind it."""
        spellings = (self.unit,) if self.unit else ()
        return Quantity(self.key, self.label, self.unit, self.low, self.high, self.decimals, spellings)

    def asked(self, purpose: Purpose, flue: Flue | None) -> bool:
        """Whether it is asked at a visit; with the flue unknown everything is."""
        return purpose in self.purposes and applies(self.flues, flue)

    def fault(self, text: str, where: str) -> Fault | None:
        """Return what is wrong with a text, None if it is accepted.

        Args:
            text: as typed, without blanks around it, not empty.
            where: path of the text.
        """
        if len(text) > LONGEST_NOTE:
            return Fault(where, f"{text[:23]}…", said("at most {most} characters", most=LONGEST_NOTE))
        if self.value == "number":
            found = parse(self.quantity, text, where)
            return found if isinstance(found, Fault) else None
        if self.value == "choice" and text not in self.choices:
            return Fault(where, text, said("one of {names}", names=quoted(self.choices)))
        if self.value == "date" and not _is_day(text):
            accepted = said("a day from {first} to {last}, as 2026-11-26", first=EARLIEST, last=LATEST)
            return Fault(where, text, accepted)
        return None


def applies(flues: tuple[Flue, ...], flue: Flue | None) -> bool:
    """Whether what is for some flues is for this one; none named is for all, and so is one not known."""
    return not flues or flue is None or flue in flues


def _is_day(text: str) -> bool:
    try:
        day = dt.date.fromisoformat(text)
    except ValueError:
        return False
    return len(text) == len("2026-11-26") and EARLIEST <= day <= LATEST
