"""A book for each test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from flueleaf.storage.book import Book


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the book of a test lies."""
    return tmp_path / "Ellery.book"


@pytest.fixture(scope="session")
def blank(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The bytes of a new book: making one anew for each test would take most of the time."""
    path = tmp_path_factory.mktemp("blank") / "blank.book"
    Book.create(path).close()
    return path.read_bytes()


@pytest.fixture
def book(path: Path, blank: bytes) -> Iterator[Book]:
    """A new book, open for writing; nobody is waited for."""
    path.write_bytes(blank)
    with Book.open(path, busy_ms=0) as made:
        yield made
