"""Drafts of any kind in the book: what is typed, beside it what only the leaf needs to open it again.

Keys that begin with ``_`` are beside the document and never part of it: where the cursor was, the quote
that a visit's lines came from, the slips begun without a reading yet.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Mapping
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING, Any

from flueleaf.domain.problems import UserProblem
from flueleaf.domain.words import said
from flueleaf.operations.changes import Changes, Topic
from flueleaf.operations.intake.reader import load_json
from flueleaf.storage import drafts
from flueleaf.storage.book import Book

if TYPE_CHECKING:
    from sqlite_utils import Database

AT = "_at"
QUOTE = "_quote"
BEGUN = "_begun"
UNDO = "undo"  # the kind of the rows that hold what can be taken back in a draft; they go with it
AWAY = "away:"  # before the kind of the draft put away last
_DRAFTS = frozenset({Topic.DRAFTS})


def keep(
    book: Book, kind: str, key: str, document: Mapping[str, Any], beside: Mapping[str, str] | None = None
) -> Changes:
    """Keep a draft as it stands; returns once it is on the disk.

    Args:
        book: the book.
        kind: the leaf it belongs to.
        key: which one, unique within the kind.
        document: as typed.
        beside: texts by key, ``_at`` or ``_quote``; empty ones are left out.
    """
    kept = {**document, **{name: text for name, text in (beside or {}).items() if text}}
    with book.writing() as tx:
        drafts.keep(tx, kind, key, json.dumps(kept, ensure_ascii=False, default=_decimal))
    return Changes(_DRAFTS, "kept")


def load(book: Book, kind: str, key: str) -> dict[str, Any] | None:
    """Return a kept document, or None. Numbers come back as decimals or decimal strings with their digits."""
    found = drafts.draft(book.con, kind, key)
    if found is None:
        return None
    document: dict[str, Any] = load_json(found.payload, name="draft")
    return {name: value for name, value in document.items() if not name.startswith("_")}


def beside(book: Book, kind: str, key: str, name: str) -> str:
    """Return a text kept beside a document, "" where there is none."""
    found = drafts.draft(book.con, kind, key)
    return str(json.loads(found.payload).get(name, "")) if found is not None else ""


def discard(book: Book, kind: str, key: str) -> Changes:
    """Drop a draft for good."""
    with book.writing() as tx:
        drop_in(tx, kind, key)
    return Changes(_DRAFTS, said("The draft is gone."))


def put_away(book: Book, kind: str, key: str) -> Changes:
    """Put a draft away, whole; it can be brought back until the next one is put away."""
    with book.writing() as tx:
        if drafts.draft(tx.conn, kind, key) is None:  # nothing takes the place of the one put away last
            return Changes(_DRAFTS, said("Nothing was typed, so nothing was kept."))
        earlier = [one for one in drafts.drafts(tx.conn) if one.kind.startswith(AWAY)]
        for one in earlier:
            own_kind = one.kind.removeprefix(AWAY)
            if drafts.draft(tx.conn, own_kind, one.key) is not None:  # begun anew since: photographs are its
                drafts.drop(tx, one.kind, one.key)
                continue
            drafts.set_kind(tx, one.kind, one.key, own_kind)  # what belongs to it goes with its own kind only
            drop_in(tx, own_kind, one.key)
        drafts.set_kind(tx, kind, key, AWAY + kind)
    return Changes(_DRAFTS, said("The draft is put away."), partial(bring_back, kind=kind, key=key))


def bring_back(book: Book, _at: dt.datetime, *, kind: str, key: str) -> Changes:
    """Bring back the draft put away last, with its cursor, its steps and its photographs.

    Raises:
        UserProblem: another one was put away since, or the same one was begun anew.
    """
    with book.writing() as tx:
        if drafts.draft(tx.conn, kind, key) is not None:
            raise UserProblem(
                said("It was begun anew since; what was put away does not come back over that.")
            )
        there = drafts.set_kind(tx, AWAY + kind, key, kind)
    if not there:
        raise UserProblem(said("That draft is not in the book any more."))
    return Changes(_DRAFTS, said("The draft is back, under what is unfinished."))


def drop_in(tx: Database, kind: str, key: str) -> None:
    """Drop a draft and what is kept of its steps, within a transaction."""
    for one in (kind, UNDO):
        drafts.drop(tx, one, key)


def _decimal(value: object) -> str:
    if isinstance(value, Decimal):
        return f"{value:f}"
    raise TypeError(f"a draft cannot hold {value!r}")
