"""A quote being typed; sealed it is a paper."""

from __future__ import annotations

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.quote.typed_quote import TypedQuoteLeaf
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import quoting


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of a quote.

    Args:
        desk: what every leaf is given.
        place: ``key`` is the id of a draft, "" for a new one; ``within`` the premises of a new one.

    Raises:
        UserProblem: there is no such draft.
    """
    if not place.key:
        premises = int(place.within) if place.within else None
        document = quoting.begin(desk.book, premises_id=premises)
        return TypedQuoteLeaf(desk, Place("quote", document["quote_id"], place.within), document, new=True)
    kept = quoting.load(desk.book, place.key)
    if kept is None:
        raise UserProblem(_("That quote was sealed, or nothing was typed for it. Sealed ones are papers."))
    return TypedQuoteLeaf(desk, place, kept)
