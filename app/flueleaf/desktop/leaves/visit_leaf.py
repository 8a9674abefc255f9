"""A visit: typed from arrival to sign-off while it is a draft, read once it is signed off."""

from __future__ import annotations

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.signed_visit import SignedVisitLeaf
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import drafting


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of a visit.

    Args:
        desk: what every leaf is given.
        place: ``key`` is the id of a draft or of a signed-off visit, "" for a new one; ``within`` the
            premises of a new one, "" where they are still to be found.

    Raises:
        UserProblem: there is no such visit.
    """
    if not place.key:
        premises = int(place.within) if place.within else None
        document = drafting.begin(desk.book, today=desk.today(), premises_id=premises)
        return TypedVisitLeaf(desk, Place("visit", document["visit_id"], place.within), document, new=True)
    document_kept = drafting.load(desk.book, place.key)
    if document_kept is not None:
        return TypedVisitLeaf(desk, place, document_kept)
    try:
        signed = drafting.stored_visit(desk.book, place.key)
    except LookupError:
        text = _("Nothing was typed for that visit, so nothing was kept. Begin it anew with New visit.")
        raise UserProblem(text) from None
    return SignedVisitLeaf(desk, place, signed)
