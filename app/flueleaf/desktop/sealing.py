"""Sealing from a leaf: done beside the window, because drawing and sealing papers takes a moment."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Signal

from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.worker import Worker
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import book as books

Seal = Callable[[Any], Any]


class Sealing(QObject):
    """Runs one operation on a connection of its own; the leaf takes no keys until it is over."""

    sealed = Signal(object)  # what the operation returned
    refused = Signal(object)  # UserProblem

    def __init__(self, leaf: Leaf) -> None:
        super().__init__(leaf)
        self._leaf = leaf
        self._worker = Worker(self)
        self._worker.done.connect(self.sealed)
        self._worker.failed.connect(self._on_failed)

    def begin(self, seal: Seal) -> bool:
        """Begin; returns False, and does nothing, while an earlier one is going on.

        Args:
            seal: given the book, does everything and touches no widget.
        """
        path = self._leaf.desk.book.path

        def work() -> Any:
            with books.writing_book(path) as book:
                return seal(book)

        if not self._worker.start(work):
            return False
        self._leaf.scroll_area.setEnabled(False)
        return True

    def wait(self) -> None:
        """Wait for what has begun."""
        self._worker.wait()

    def _on_failed(self, problem: Exception) -> None:
        self._leaf.scroll_area.setEnabled(True)
        if not isinstance(problem, UserProblem):
            raise problem
        self.refused.emit(problem)
