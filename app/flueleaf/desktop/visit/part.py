"""A section of the visit leaf that holds one piece of its document."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.help.stage_help import help_of
from flueleaf.desktop.section import Section
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.fold import Fold
from flueleaf.desktop.words import _, _n

NOTHING_YET = " "  # the state word before the judgement


class Part(Section):
    """What the leaf asks of each of its sections."""

    def __init__(self, title: str, typing: Typing, *, name: str = "", parent: QWidget | None = None) -> None:
        """Make an empty part.

        Args:
            title: its head.
            typing: the desk and the ear.
            name: for its object name, where the title is in another language.
            parent: the widget it stands in.
        """
        super().__init__(title, parent=parent, name=name)
        self.set_caution(help_of(self.objectName()))
        # There from the start, with nothing in it: to show a word later lays the whole page out anew.
        self.set_state(NOTHING_YET)
        self.typing = typing

    def fields(self) -> Sequence[QWidget]:
        """Return the fields and buttons in the order of the keyboard."""
        return ()

    @property
    def waits(self) -> bool:
        """Whether its fields are still to come."""
        return self.typing.ear.later.waits(self)

    def open_later(self, fold: Fold) -> None:
        """Open a fold at one of the next turns of the event loop."""

        def open_up() -> bool:
            fold.open_up()
            return False

        fold.expect()
        self.typing.ear.later.put(self, [open_up])

    def read(self) -> Any:
        """Return the piece as typed."""
        return {}

    def locate(self, path: str) -> Field | None:  # noqa: ARG002
        """Return the field of a path inside the piece, None where there is none."""
        return None

    def first(self) -> QWidget | None:
        """Return where the cursor goes when the section is jumped to."""
        return next((w for w in self.fields() if w.isVisibleTo(self) and w.isEnabled()), None)

    def show_left(self, left: int) -> None:
        """Set the state word."""
        self.set_state(_n("{count} open", "{count} open", left) if left else _("complete"))
