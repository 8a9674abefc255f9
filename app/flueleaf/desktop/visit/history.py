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
        *,
        prepare: Callable[[], None] | None = None,
    ) -> None:
        """Make it without steps.

        Args:
            book: where the draft lies.
            key: of the draft.
            snapshot, restore: as for ``Undoing``.
            parent: its owner.
            prepare: called before a step is taken back or brought back; takes up the steps kept.
        """
        super().__init__(snapshot, restore, parent)
        self._book = book
        self._key = key
        self._prepare = prepare

    def undo(self) -> bool:
        """Take the last step back; returns whether there was one."""
        if self._prepare is not None:
            self._prepare()
        return super().undo()

    def redo(self) -> bool:
        """Bring the step back that was taken back last; returns whether there was one."""
        if self._prepare is not None:
            self._prepare()
        return super().redo()

    def begin_again(self) -> None:
        """Begin with the steps kept when the leaf was closed."""
        self.begin()
        if (kept := undo_steps.load(self._book, self._key)) is not None:
            self.take_up(*kept)

    def go_on(self) -> None:
        """Put the steps kept when the leaf was closed before those made since it was opened again."""
        if (kept := undo_steps.load(self._book, self._key)) is not None:
            self.put_before(kept[1])

    def keep(self) -> None:
        """Keep the steps, where there are any. The draft itself is safe already, so a failure is not said."""
        if self.can_undo or self.can_redo:
            try:
                undo_steps.keep(self._book, self._key, *self.history())
            except UserProblem:
                return
