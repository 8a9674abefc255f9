"""A line for something the book may know: what fits is offered while typing, anything new is taken."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QStringListModel, Qt, Signal
from PySide6.QtWidgets import QCompleter, QWidget

from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.fields.popup_keys import PopupKeys

MOST_OFFERS = 8
WIDTH_PX = 240


@dataclass(frozen=True, slots=True)
class Offer:
    """Something known: how it is listed, the text the field takes, and the thing itself."""

    shown: str
    text: str
    thing: object


class OfferField(LineField):
    """Plain words with offers under them; ``picked`` hands over the thing of the offer taken."""

    picked = Signal(object)

    def __init__(
        self,
        name: str,
        label: str,
        search: Callable[[str], Sequence[Offer]],
        *,
        width_px: int = WIDTH_PX,
        parent: QWidget | None = None,
    ) -> None:
        """Make an empty line.

        Args:
            name: object name, the path of the value.
            label: what it is called.
            search: returns what fits a text, best first.
            width_px: width at 100 % text.
            parent: the widget it stands in.
        """
        super().__init__(name, label, width_px=width_px, parent=parent)
        self._search = search
        self._offers: dict[str, Offer] = {}
        self._list = QStringListModel(self)
        completer = QCompleter(self._list, self)
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setMaxVisibleItems(MOST_OFFERS)
        if (popup := completer.popup()) is not None:
            popup.setAccessibleName(f"{label}: known already")
        self.edit.textEdited.connect(self._on_text_edited)
        # After the slot above: the completer opens its list with what the slot has put into it.
        self.edit.setCompleter(completer)
        completer.activated.connect(self._on_activated)
        PopupKeys(self, completer)

    @property
    def offers(self) -> tuple[str, ...]:
        """What is offered now."""
        return tuple(self._offers)

    def _on_text_edited(self, text: str) -> None:
        found = self._search(text)[:MOST_OFFERS] if text.strip() else ()
        self._offers = {offer.shown: offer for offer in found}
        self._list.setStringList(list(self._offers))

    def _on_activated(self, shown: str) -> None:
        if (offer := self._offers.get(shown)) is not None:
            self.edit.setText(offer.text)
            self.set_fault("")
            self.picked.emit(offer.thing)
            self.edited.emit(offer.text)
