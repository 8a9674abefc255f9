"""What is unfinished: visits and quotes still being typed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from flueleaf.domain.records.register import Premises
from flueleaf.domain.words import said
from flueleaf.operations import drafting, kept, quoting
from flueleaf.operations.page_records import DraftRow
from flueleaf.operations.unfinished import missing_of_quote, still_missing
from flueleaf.storage import business as businesses
from flueleaf.storage import drafts
from flueleaf.storage.book import Book


def all_drafts(book: Book, today: dt.date) -> tuple[DraftRow, ...]:
    """Return every unfinished visit and quote, the one kept last first."""
    return tuple(row for row, _ in _drafts(book, today))


def drafts_of_premises(book: Book, premises: Premises, today: dt.date) -> tuple[DraftRow, ...]:
    """Return the unfinished visits and quotes for an address, the one kept last first."""
    return tuple(row for row, place in _drafts(book, today) if place == _place(premises.address))


def _drafts(book: Book, today: dt.date) -> Iterator[tuple[DraftRow, str]]:
    """Yield what is unfinished, each with the key of its place."""
    for draft in drafts.drafts(book.con):
        if draft.kind not in (drafting.KIND, quoting.KIND):
            continue
        document = kept.load(book, draft.kind, draft.key)
        lines = _address(document) if document is not None else []
        where = ", ".join(lines)
        if document is not None and draft.kind == drafting.KIND:
            missing = still_missing(document, today=today)
            title = where or said("a visit without an address yet")
            yield DraftRow(draft.key, title, _date(document.get("date")), missing), _place(lines)
        elif document is not None and draft.kind == quoting.KIND:
            judgement = quoting.judge(document, businesses.business(book.con), today=today)
            title = (
                said("quote for {where}", where=where) if where else said("a quote without an address yet")
            )
            begun = draft.updated.astimezone().date()
            row = DraftRow(draft.key, title, begun, missing_of_quote(judgement), quoting.KIND)
            yield row, _place(lines)


def _address(document: Mapping[str, Any]) -> list[str]:
    premises = document.get("premises")
    address = premises.get("address", ()) if isinstance(premises, dict) else ()
    return [line for line in address if isinstance(line, str)] if isinstance(address, list) else []


def _date(text: object) -> dt.date | None:
    try:
        return dt.date.fromisoformat(text) if isinstance(text, str) else None
    except ValueError:
        return None


def _place(address: Iterable[str]) -> str:
    return " ".join(" ".join(address).casefold().split())
