"""The glossary of the window and the document say the same of the same words."""

from __future__ import annotations

from pathlib import Path

import pytest

from flueleaf.paths import RESOURCES
from flueleaf.storage.tables.glossary import load_glossary

DOCUMENT = RESOURCES.parent / "app" / "GLOSSARY.md"
HEADS = {"## Our own words": "own", "## Trade words": "trade"}


def _documented() -> dict[str, tuple[str, str]]:
    """Return word -> meaning and status, as the document's tables have them."""
    found: dict[str, tuple[str, str]] = {}
    status = ""
    for line in DOCUMENT.read_text(encoding="utf-8").splitlines():
        status = HEADS.get(line, status)
        if line.startswith("| ") and not line.startswith(("| word ", "| --- ")):
            word, _, meaning = line.strip("| ").partition(" | ")
            assert word not in found, f"{word} stands twice"
            found[word] = (meaning, status)
    return found


def test_document_and_table_hold_the_same_words() -> None:
    assert {word.word: (word.meaning, word.status) for word in load_glossary()} == _documented()


def test_two_words_may_not_share_a_spelling(tmp_path: Path) -> None:
    head = 'table = "glossary"\nsource = "x"\nchecked = "x"\n'
    one = '[[word]]\nword = "flue"\nmeaning = "x"\nstatus = "trade"\n'
    two = '[[word]]\nword = "pipe"\nforms = ["Flue"]\nmeaning = "x"\nstatus = "trade"\n'
    (tmp_path / "g.toml").write_text(head + one + two, encoding="utf-8")
    with pytest.raises(ValueError, match="stands for two words"):
        load_glossary(tmp_path / "g.toml")


def test_an_unknown_key_is_refused(tmp_path: Path) -> None:
    head = 'table = "glossary"\nsource = "x"\nchecked = "x"\n'
    text = head + '[[word]]\nword = "a"\nmeaning = "b"\nstatus = "own"\nx = 1\n'
    (tmp_path / "g.toml").write_text(text, encoding="utf-8")
    with pytest.raises(ValueError, match="unknown keys x"):
        load_glossary(tmp_path / "g.toml")
