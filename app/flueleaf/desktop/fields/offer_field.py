"""A line for something the book may know: what fits is offered while typing, anything new is taken."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QStringListModel, Qt, QTimer, Signal
from PySide6.QtWidgets import QCompleter, QWidget

from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.fields.popup_keys import PopupKeys
from flueleaf.desktop.words import _

MOST_OFFERS = 8


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
        width_px: int = 0,
        parent: QWidget | None = None,
    ) -> None:
        """Make an empty line.

        Args:
            name: object name, the path of the value.
            label: what it is called.
            search: returns what fits a text, best first.
            width_px: width at 100 % text; 0 takes the room there is.
            parent: the widget it stands in.
        """
        super().__init__(name, label, width_px=width_px, parent=parent)
        self._search = search
        self._offers: tuple[Offer, ...] = ()
        self._list = QStringListModel(self)
        completer = _Completer(self._list, self)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setMaxVisibleItems(MOST_OFFERS)
        if (popup := completer.popup()) is not None:
            popup.setAccessibleName(_("{field}: known already", field=label))
        self.edit.textEdited.connect(self._on_text_edited)
        # After the slot above: the completer opens its list with what the slot has put into it.
        self.edit.setCompleter(completer)
        completer.activated[QModelIndex].connect(self._on_activated)  # type: ignore[index]
        PopupKeys(self, completer)

    @property
    def offers(self) -> tuple[str, ...]:
        """What is offered now."""
        return tuple(offer.shown for offer in self._offers)

    def offer(self, row: int) -> Offer:
        """Return one of the offers."""
        return self._offers[row]

    def _on_text_edited(self, text: str) -> None:
        found = self._search(text)[:MOST_OFFERS] if text.strip() else ()
        self._offers = tuple(found)
        self._list.setStringList([offer.shown for offer in found])

    def _on_activated(self, index: QModelIndex) -> None:
        # Later, when the edit line has taken the text over: a pick may fill other fields, and this one too.
        QTimer.singleShot(0, self, partial(self._take, self._offers[index.row()]))

    def _take(self, offer: Offer) -> None:
        self.edit.setText(offer.text)
        self.set_fault("")
        self.picked.emit(offer.thing)
        self.edited.emit(offer.text)


class _Completer(QCompleter):
    """Lists all offers, whatever was typed: the search has chosen them; none is walked to by itself."""

    def __init__(self, offers: QStringListModel, field: OfferField) -> None:
        super().__init__(offers, field)
        self._field = field

    def splitPath(self, path: str) -> list[str]:  # noqa: N802, ARG002
        """Match everything."""
        return [""]

    def pathFromIndex(self, index: QModelIndex | QPersistentModelIndex) -> str:  # noqa: N802
        """Return the text the field takes, which may be shorter than what is listed."""
        return self._field.offer(index.row()).text
