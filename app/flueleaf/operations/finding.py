"""The finder: names, streets, postcodes, makes, serials, paper numbers."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from flueleaf.storage import search, visits
from flueleaf.storage.book import Book
from flueleaf.storage.search import Hit

__all__ = ["Hit", "as_json", "find", "visit_id"]


def find(book: Book, text: str, most: int = 50) -> list[Hit]:
    """Return what the finder finds, best first; any text is harmless."""
    return search.find(book.con, text, most)


def visit_id(book: Book, row: int) -> str:
    """Return the id of the visit that a hit names by its row.

    Raises:
        LookupError: there is no such visit.
    """
    return visits.visit_id(book.con, row)


def as_json(hits: Iterable[Hit]) -> list[dict[str, Any]]:
    """Return hits in the shape of the headless contract."""
    return [{"kind": hit.kind, "id": hit.id, "title": hit.title, "subtitle": hit.subtitle} for hit in hits]
