"""A field for a postcode: written in capitals once it is left, as papers and envelopes have it."""

from __future__ import annotations

import re

from flueleaf.desktop.fields.line_field import TextField

# Outward and inward code, as addresses of the country have them: common practice, no document was read. Only
# the shape is looked at, not whether the code is assigned.
_SHAPE = re.compile(r"([A-Z]{1,2}[0-9][A-Z0-9]?) ?([0-9][A-Z]{2})\Z")


class PostcodeField(TextField):
    """A postcode; what has another shape, such as one from abroad, stays as it was typed."""

    def set_text(self, text: str) -> None:
        """Fill in as it is kept, without a signal: what nobody typed is not respelt."""
        self.edit.setText(text)
        self.edit.setCursorPosition(0)
        super().check()

    def check(self) -> bool:
        """Write it in capitals with its blank, then check."""
        if self.edit.isModified() and (meant := spelt(self.text())) != self.text():
            self.edit.setText(meant)
            self.edited.emit(meant)
        return super().check()


def spelt(text: str) -> str:
    """Return a postcode in capitals with one blank; a text of another shape as it is."""
    hit = _SHAPE.match(" ".join(text.upper().split()))
    return f"{hit[1]} {hit[2]}" if hit else text
