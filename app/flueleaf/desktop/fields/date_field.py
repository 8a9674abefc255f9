"""A field for a date; what was understood stands after it, with the day of the week."""

from __future__ import annotations

import contextlib
import datetime as dt
import re
from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.dates import ACCEPTED, field_date, read_date, weekday_date
from flueleaf.desktop.fields.field import shortened
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.words import _

WIDTH_PX = 128
LONGEST_DATE = 40
SHORT_YEAR = re.compile(r"[0-9]{1,2}[/.\- ](?:[0-9]{1,2}|[^\W\d_]{3,20})[/.\- ][0-9]{2}\Z")
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}\Z", re.ASCII)


class DateField(LineField):
    """One date, typed in any of the fixed patterns."""

    def __init__(
        self,
        name: str,
        label: str,
        *,
        today: Callable[[], dt.date],
        future: bool = True,
        parent: QWidget | None = None,
    ) -> None:
        """Make an empty date field.

        Args:
            name: object name, the path of the value.
            label: what it is called.
            today: the clock.
            future: whether a date after today is taken.
            parent: the widget it stands in.
        """
        super().__init__(name, label, width_px=WIDTH_PX, longest=LONGEST_DATE, parent=parent)
        self._today = today
        self._future = future
        self.set_hint(_("Accepted is {accepted}.", accepted=ACCEPTED))

    def value(self) -> dt.date | None:
        """Return the date, or None where the field is empty or its text is not accepted."""
        return None if self.problem() else read_date(self.text(), self._today())

    def entry(self) -> str:
        """Return the date in ISO form; a text that is no date as it stands."""
        date = self.value()
        return date.isoformat() if date is not None else super().entry()

    def problem(self) -> str:
        """Return what is wrong: the value as it stands, and what would be accepted."""
        if not self.text().strip():
            return ""
        date = read_date(self.text(), self._today())
        if date is None and SHORT_YEAR.match(self.text().strip()):
            return _(
                "“{value}” leaves the century open. Type the year in full, such as {date}.",
                value=shortened(self.text()),
                date=f"{self._today().day}/{self._today().month}/{self._today().year:04d}",
            )
        if date is None:
            return _(
                "“{value}” is no date. Type {accepted}.", value=shortened(self.text()), accepted=ACCEPTED
            )
        if not self._future and date > self._today():
            return _(
                "{date} lies ahead. Type a date up to today, {today}.",
                date=weekday_date(date),
                today=weekday_date(self._today()),
            )
        return ""

    def set_text(self, text: str) -> None:
        """Fill in without a signal; a date in ISO form is shown as dates are everywhere."""
        if _ISO.match(text):
            with contextlib.suppress(ValueError):  # no day of the calendar: it stays as it was typed
                text = field_date(dt.date.fromisoformat(text))
        super().set_text(text)
        self.read_back()

    def read_back(self) -> None:
        """Show how the text was understood."""
        date = self.value()
        self.set_note(weekday_date(date) if date else "")
