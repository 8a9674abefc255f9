"""The offer to fill a slip with what was read: its two buttons, and the words on what is typed already."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QObject, Signal

from flueleaf.desktop.buttons import button
from flueleaf.desktop.section import label
from flueleaf.desktop.settling.filling import Filling, typed_otherwise
from flueleaf.desktop.settling.settling_words import values_words
from flueleaf.desktop.words import _
from flueleaf.domain.judging.settling import Settling
from flueleaf.operations import settling


class FillOffer(QObject):
    """``taken`` tells what to take over. What there is nothing to fill with is not offered."""

    taken = Signal(object)  # Filling

    def __init__(self, name: str, typed: Mapping[str, str], parent: QObject) -> None:
        """Offer nothing yet.

        Args:
            name: of the dialog, before the names of the buttons.
            typed: by quantity key, what the slip holds already.
            parent: the dialog, which lays out ``fill``, ``over`` and ``there``.
        """
        super().__init__(parent)
        self._typed = typed
        self._found = Settling(settled=False)
        self.fill = button(_("Fill the slip"), f"{name}.fill", lambda: self._take(over=False), primary=True)
        self.over = button(
            _("Fill, over what is typed"), f"{name}.over", lambda: self._take(over=True), deliberate=True
        )
        self.there = label("", tone="soft", wrap=True)
        self.there.setObjectName(f"{name}.there")
        for hidden in (self.fill, self.over, self.there):
            hidden.hide()

    def show_found(self, found: Settling | None) -> None:
        """Offer what was found in a run; None for nothing."""
        self._found = found or Settling(settled=False)
        texts = settling.texts_of(self._found)
        there = typed_otherwise(texts, self._typed)
        self.fill.setVisible(bool(texts))
        self.fill.setText(_("Fill the slip") if self._found.settled else _("Fill, as not settled"))
        self.fill.setAccessibleName(self.fill.text())
        self.over.setVisible(bool(there))
        words = _("Typed already: {values}. It stays unless you fill over it.", values=values_words(there))
        self.there.setText(words if there else "")
        self.there.setVisible(bool(there))

    def _take(self, *, over: bool) -> None:
        self.taken.emit(Filling(settling.texts_of(self._found), self._found.settled, over))
