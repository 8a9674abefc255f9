"""An evening of its own: an empty book of the same owner, and the worked document."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import Place
from flueleaf.domain.records.business import Business
from flueleaf.operations import book as books
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from flueleaf.desktop.ask import Ask
    from flueleaf.desktop.window import MainWindow
    from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 20)


@pytest.fixture
def evening() -> dict[str, Any]:
    """The worked input of ``flueleaf evening``."""
    text = (DEMO_DB / "evening.json").read_text(encoding="utf-8")
    document: dict[str, Any] = load_json(text, name="evening.json")
    return document


@pytest.fixture
def bare(tmp_path: Path) -> Iterator[Book]:
    """A book in which nobody and nothing is known."""
    book = books.create(tmp_path / "bare.book")
    books.save_business(book, Business(name="Jory Quillfeather", vat="standard", vat_number="GB999999973"))
    yield book
    book.close()


@pytest.fixture
def bare_desk(bare: Book, answers: Ask, evening: dict[str, Any]) -> Desk:
    issued_at = dt.datetime.fromisoformat(evening["issued_at"])
    return Desk(bare, ChangeHub(), lambda: TODAY, answers, now=lambda: issued_at)


@pytest.fixture
def typist(window: MainWindow) -> Typist:
    """The window on a new visit to the premises of the worked evening, nothing typed yet."""
    window.go(Place("visit", within="1"))
    return Typist(window)
