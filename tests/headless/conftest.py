"""A small book, the documented evening, and a way to call commands as the shell does."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from flueleaf.domain.records.business import Business
from flueleaf.headless import main as headless
from flueleaf.operations import book as books
from flueleaf.paths import DEMO_DB

TODAY = "2026-11-25"


@dataclass(frozen=True)
class Said:
    """What a command answered: exit code, JSON of standard output (None if empty), standard error."""

    code: int
    answer: Any
    error: str


Call = Callable[..., Said]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Call:
    """Call a command; a fault in the arguments ends it as argparse does, with exit code 2."""

    def run(*arguments: object) -> Said:
        try:
            code = headless.run([str(argument) for argument in arguments])
        except SystemExit as ended:
            code = int(ended.code or 0)
        out, error = capsys.readouterr()
        return Said(code, json.loads(out) if out.strip() else None, error)

    return run


@pytest.fixture
def ask(call: Call, tmp_path: Path) -> Call:
    """Call a command that reads a document: JSON text as it stands, or what becomes JSON."""

    def run(command: str, document: object, *more: object) -> Said:
        file = tmp_path / "document.json"
        text = document if isinstance(document, str) else json.dumps(document)
        file.write_text(text, encoding="utf-8")
        return call(command, file, *more)

    return run


@pytest.fixture(scope="session")
def blank_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of a business registered for VAT, without any visit."""
    path = tmp_path_factory.mktemp("blank") / "blank.book"
    with books.create(path) as book:
        books.save_business(
            book,
            Business(
                name="Ina Fell", address=("1 Shed Row",), postcode="QX9 1ZZ", vat="standard", vat_number="GB0"
            ),
        )
    return path


@pytest.fixture
def book(blank_book: Path, tmp_path: Path) -> Path:
    """A copy of the blank book to write in."""
    path = tmp_path / "a.book"
    shutil.copy(blank_book, path)
    return path


@pytest.fixture
def document() -> dict[str, Any]:
    """The documented worked evening."""
    found: dict[str, Any] = json.loads((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    return found


@pytest.fixture
def evening(call: Call, book: Path, tmp_path: Path) -> Call:
    """Run ``evening`` with a document on the small book."""

    def run(document: object, *more: object) -> Said:
        file = tmp_path / "evening.json"
        file.write_text(document if isinstance(document, str) else json.dumps(document), encoding="utf-8")
        return call("evening", book, file, "--out", tmp_path / "out", "--today", TODAY, *more)

    return run
