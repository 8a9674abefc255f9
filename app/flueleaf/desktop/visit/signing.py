"""The sign-off itself: done beside the window, because drawing and sealing the papers takes a moment."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

from flueleaf.desktop.place import Place
from flueleaf.desktop.worker import Worker
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.operations import book as books
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


class Signing(QObject):
    """Signs the leaf's document off on a connection of its own, then shows the sealed visit."""

    def __init__(self, leaf: TypedVisitLeaf) -> None:
        super().__init__(leaf)
        self._leaf = leaf
        self._worker = Worker(self)
        self._worker.done.connect(self._on_done)
        self._worker.failed.connect(self._on_failed)

    def begin(self, document: dict[str, Any]) -> None:
        """Begin; the page takes no keys until it is over."""
        desk = self._leaf.desk
        path, today, issued_at = desk.book.path, desk.today(), desk.now()

        def work() -> Any:
            with books.writing_book(path) as book:
                return drafting.sign_off(book, document, issued_at=issued_at, today=today)

        self._leaf.keeper.keep()
        if self._worker.start(work):
            self._leaf.keeper.stop()
            self._leaf.scroll_area.setEnabled(False)
            self._leaf.said.emit("Signing off …")

    def wait(self) -> None:
        """Wait for a sign-off that has begun."""
        self._worker.wait()

    def _on_done(self, signed: Any) -> None:
        leaf = self._leaf
        leaf.desk.hub.tell(signed.changes)
        leaf.place_wanted.emit(Place("visit", signed.visit_id))

    def _on_failed(self, problem: Exception) -> None:
        leaf = self._leaf
        leaf.scroll_area.setEnabled(True)
        leaf.keeper.resume()
        if not isinstance(problem, UserProblem):
            raise problem
        if isinstance(problem, Refused):
            leaf.show_refused(problem.faults)
        leaf.said.emit(f"Not signed off; nothing was sealed. {problem}")
