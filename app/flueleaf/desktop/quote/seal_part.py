"""The end of a quote: how long it will be valid, and the one action that seals it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.words import _
from flueleaf.operations import quoting


class SealPart(Part):
    """One button."""

    def __init__(self, typing: Typing, seal: Callable[[], None]) -> None:
        super().__init__(_("validity"), typing, name="seal")
        until = long_date(quoting.valid_until(typing.desk.today()))
        self.set_caution(
            _(
                "Sealing gives the quote its number; it stays as it is for good."
                " Sealed today it is valid until {day}.",
                day=until,
            )
        )
        self.button = button(_("Seal the quote"), "quote.seal", seal, primary=True)
        self.add_buttons(self.button)

    def fields(self) -> Sequence[QWidget]:
        """Return the button."""
        return (self.button,)

    def show_left(self, left: int) -> None:
        """Show no state: it has nothing to fill in."""
