"""The steps that can be taken back in a draft, kept beside it while its leaf is closed.

Kept is the last state whole and, step by step, what differs in the state before; the oldest steps give way
where it gets long. The row goes with its draft.
"""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

from flueleaf.operations.differences import changed, difference
from flueleaf.operations.kept import UNDO
from flueleaf.storage import drafts
from flueleaf.storage.book import Book

MOST_KEPT = 50  # common practice: more than anyone takes back a day later
LONGEST_CHARACTERS = 200_000  # common practice: some ten times the document itself

State = dict[str, Any]
Steps = list[tuple[State, str]]  # the state before a step and the field it was made in, oldest first


def keep(book: Book, key: str, now: State, back: Steps, ahead: Steps) -> None:
    """Keep the steps of a draft, returning once they are on the disk.

    Args:
        book: the book.
        key: of the draft.
        now: the state shown.
        back: what can be taken back, the latest step last.
        ahead: what can be brought back, the next one last.
    """
    kept = MOST_KEPT
    text = _text(now, back[-kept:], ahead[-kept:])
    while len(text) > LONGEST_CHARACTERS and kept:
        kept //= 2
        text = _text(now, _last(back, kept), _last(ahead, kept))
    with book.writing() as tx:
        drafts.keep(tx, UNDO, key, text)


def load(book: Book, key: str) -> tuple[State, Steps, Steps] | None:
    """Return the state the steps lead to, those to take back and those to bring back; None where none are."""
    found = drafts.draft(book.con, UNDO, key)
    if found is None:
        return None
    read = json.loads(found.payload)
    return read["now"], _states(read["now"], read["back"]), _states(read["now"], read["ahead"])


def _last(steps: Steps, count: int) -> Steps:
    return steps[-count:] if count else []


def _text(now: State, back: Steps, ahead: Steps) -> str:
    kept = {"now": now, "back": _chain(now, back), "ahead": _chain(now, ahead)}
    return json.dumps(kept, ensure_ascii=False, default=_digits)


def _chain(now: State, steps: Steps) -> list[Any]:
    """Return each step as its field and what differs from the state after it."""
    chain: list[Any] = []
    after = now
    for state, field in reversed(steps):
        chain.append([field, difference(after, state)])
        after = state
    return chain[::-1]


def _states(now: State, chain: list[Any]) -> Steps:
    steps: Steps = []
    state = now
    for field, what in reversed(chain):
        state = changed(state, what)
        steps.append((state, str(field)))
    return steps[::-1]


def _digits(value: object) -> str:
    if isinstance(value, Decimal):
        return f"{value:f}"
    raise TypeError(f"a step cannot hold {value!r}")
