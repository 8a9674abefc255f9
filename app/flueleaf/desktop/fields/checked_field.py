"""A field for words of a fixed form, such as a sort code: what is accepted, and how it is printed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import shortened
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.words import _


class CheckedField(LineField):
    """One line that some rule accepts or not; what it will be printed as stands after it, if it differs."""

    def __init__(
        self,
        name: str,
        label: str,
        *,
        read: Callable[[str], str],
        accepted: str,
        width_px: int,
        parent: QWidget | None = None,
    ) -> None:
        """Make an empty field.

        Args:
            name: object name, the path of the value.
            label: what it is called.
            read: returns a text as it is printed, "" where it is not accepted.
            accepted: what is accepted, in words.
            width_px: width at 100 % text.
            parent: the widget it stands in.
        """
        super().__init__(name, label, width_px=width_px, parent=parent)
        self._read = read
        self._accepted = accepted
        self._partner: CheckedField | None = None
        self._alone = ""
        self.set_hint(_("Accepted is {accepted}.", accepted=_(accepted)))

    def problem(self) -> str:
        """Return what is wrong: the text as it stands, what is accepted, and that it is not printed."""
        if not self.text().strip() or self._read(self.text()):
            return ""
        return _(
            "“{value}” is not printed on papers. Type {accepted}.",
            value=shortened(self.text()),
            accepted=_(self._accepted),
        )

    def go_with(self, partner: CheckedField, alone: str) -> None:
        """Say after the control, while this field is filled in and its partner is not, what that means."""
        self._partner, self._alone = partner, alone

    def set_text(self, text: str) -> None:
        """Fill in without a signal."""
        super().set_text(text)
        self.read_back()

    def read_back(self) -> None:
        """Show how it will be printed, and that it is not while its partner is missing."""
        self._note_own()
        if self._partner is not None:
            self._partner._note_own()

    def _note_own(self) -> None:
        printed = self._read(self.text())
        notes = [printed] if printed and printed != self.text().strip() else []
        if self.text().strip() and self._partner is not None and not self._partner.text().strip():
            notes.append(self._alone)
        self.set_note(" · ".join(notes))
