"""Putting a draft away: one press, and a notice that takes it back."""

from __future__ import annotations

from collections.abc import Callable

from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import TONIGHT
from flueleaf.desktop.visit.draft_keeper import DraftKeeper
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.operations.changes import Changes


def put_away(leaf: Leaf, keeper: DraftKeeper, away: Callable[[], Changes]) -> None:
    """Put the draft of a leaf away as it stands, and show the evening; what was sealed meanwhile stays.

    Args:
        leaf: where it is typed.
        keeper: keeps it.
        away: puts what is kept away.
    """
    if not leaf.leaving() or keeper.stopped:
        return
    try:
        changes = away()
    except UserProblem as problem:
        leaf.said.emit(_(problem.text))
        return
    keeper.stop()
    leaf.desk.hub.tell(changes)
    leaf.place_wanted.emit(TONIGHT)
