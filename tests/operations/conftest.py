"""A small book and the documented evening."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from flueleaf.domain.records.business import Business
from flueleaf.operations import book as books
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
ISSUED = dt.datetime(2026, 11, 20, 20, 15, tzinfo=dt.UTC)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """An open book of a business registered for VAT, without any visit."""
    with books.create(tmp_path / "a.book") as made:
        books.save_business(
            made,
            Business(name="Ina Fell", address=("1 Shed Row",), postcode="QX9 1ZZ", vat="standard"),
        )
        yield made


@pytest.fixture
def document() -> dict[str, Any]:
    """The documented worked evening, numbers as decimals."""
    found: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    return found
