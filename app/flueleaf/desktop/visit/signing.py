"""The sign-off itself: the leaf's document is signed off, then the sealed visit is shown."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

from flueleaf.desktop.place import Place
from flueleaf.desktop.sealing import Sealing
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf


class Signing(QObject):
    """Signs the leaf's document off; while that goes on nothing is kept."""

    def __init__(self, leaf: TypedVisitLeaf) -> None:
        super().__init__(leaf)
        self._leaf = leaf
        self._sealing = Sealing(leaf)
        self._sealing.sealed.connect(self._on_sealed)
        self._sealing.refused.connect(self._on_refused)

    def begin(self, document: dict[str, Any], quote_number: str) -> None:
        """Begin; the page takes no keys until it is over."""
        desk = self._leaf.desk
        today, issued_at = desk.today(), desk.now()
        self._leaf.keeper.keep()
        if self._sealing.begin(
            lambda book: drafting.sign_off(
                book, document, issued_at=issued_at, today=today, quote_number=quote_number
            )
        ):
            self._leaf.keeper.stop()
            self._leaf.said.emit(_("Signing off …"))

    def wait(self) -> None:
        """Wait for a sign-off that has begun."""
        self._sealing.wait()

    def _on_sealed(self, signed: Any) -> None:
        leaf = self._leaf
        leaf.desk.hub.tell(signed.changes)
        if not leaf.isHidden():  # who went elsewhere meanwhile stays there
            leaf.place_wanted.emit(Place("visit", signed.visit_id))

    def _on_refused(self, problem: UserProblem) -> None:
        leaf = self._leaf
        leaf.keeper.resume()
        if isinstance(problem, Refused):
            leaf.show_refused(problem.faults)
        leaf.said.emit(_("Not signed off; nothing was sealed. {problem}", problem=_(problem.text)))
