"""A field for how long the meter was timed: seconds, or minutes as they are said or stand on a watch."""

from __future__ import annotations

import re
from decimal import Decimal

from flueleaf.desktop.fields.field import shortened
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Fault

_MINUTES = re.compile(r"(\d{1,4}(?:\.\d{1,4})?)\s*m(?:in|ins|inute|inutes)?\.?\Z", re.ASCII | re.IGNORECASE)
_WATCH = re.compile(r"(\d{1,4}):([0-5]\d)\Z", re.ASCII)
USUAL_MINUTES = ("1", "2")  # of a run; alone they are no run in seconds. Source: common practice
SECONDS_PER_MINUTE = 60


class RunTimeField(NumberField):
    """Seconds; "1m" and "2m" are runs of one and two minutes, "1:15" is what a stopwatch shows."""

    def problem(self) -> str:
        """Return what is wrong, and what would be accepted."""
        read = self._read()
        if not isinstance(read, Fault):
            return ""
        return _(
            "“{value}” cannot be used. Type {accepted}; or minutes, as 2m or 1:15.",
            value=shortened(read.value),
            accepted=_(read.accepted),
        )

    def set_text(self, text: str) -> None:
        """Fill in without a signal."""
        super().set_text(text)
        self.read_back()

    def read_back(self) -> None:
        """Show minutes in seconds; after a bare 1 or 2 say how it becomes minutes."""
        text, value = self.text().strip(), self.value()
        if text in USUAL_MINUTES:
            self.set_note(_("s; m makes it minutes"))
        elif value is not None and _seconds(text) is not None:
            self.set_note(_("= {seconds} s", seconds=f"{value:f}"))
        else:
            self.set_note(_(self.quantity.unit))

    def _read(self) -> Decimal | Fault | None:
        seconds = _seconds(self.text().strip())
        if seconds is None:
            return super()._read()
        if self.quantity.low <= seconds <= self.quantity.high:
            return seconds
        return Fault(self.objectName(), self.text().strip(), self.quantity.accepted)


def _seconds(text: str) -> Decimal | None:
    """Return the seconds of a time in minutes, None where it is not in minutes."""
    if found := _MINUTES.match(text):
        exact = Decimal(found[1]) * SECONDS_PER_MINUTE
        return Decimal(f"{exact:f}".rstrip("0").rstrip(".")) if "." in f"{exact:f}" else exact
    if found := _WATCH.match(text):
        return Decimal(int(found[1]) * SECONDS_PER_MINUTE + int(found[2]))
    return None
