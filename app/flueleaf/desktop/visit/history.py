"""Undo and redo of a leaf whose draft lies in the book: its steps survive closing and reopening."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject

from flueleaf.desktop.undoing import Undoing
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import undo_steps
from flueleaf.storage.book import Book


class History(Undoing):
    """The steps of one draft."""

    def __init__(
        self,
        book: Book,
        key: str,
        snapshot: Callable[[], Any],
        restore: Callable[[Any, str], None],
        parent: QObject,
    ) -> None:
        """Make it without steps.

        Args:
            book: where the draft lies.
            key: of the draft.
            snapshot, restore: as for ``Undoing``.
            parent: its owner.
        """
        super().__init__(snapshot, restore, parent)
        self._book = book
        self._key = key

    def begin_again(self) -> None:
        """Begin with the steps kept when the leaf was closed."""
        self.begin()
        if (kept := undo_steps.load(self._book, self._key)) is not None:
            self.take_up(*kept)

    def keep(self) -> None:
        """Keep the steps, where there are any. The draft itself is safe already, so a failure is not said."""
        if self.can_undo or self.can_redo:
            try:
                undo_steps.keep(self._book, self._key, *self.history())
            except UserProblem:
                return
