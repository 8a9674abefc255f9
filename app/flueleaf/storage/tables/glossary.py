"""The shipped glossary, read from ``resources/glossary.toml``."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from flueleaf.domain.glossary import STATUSES, Word
from flueleaf.paths import RESOURCES
from flueleaf.storage.tables.entries import Entries

FILE = RESOURCES / "glossary.toml"


@cache
def load_glossary(path: Path = FILE) -> tuple[Word, ...]:
    """Return the words in the order of the file.

    Raises:
        ValueError: names the file and what is wrong with it.
    """
    entries = Entries.of_file(path, "glossary")
    entries.text("source")
    entries.text("checked")
    words: dict[str, Word] = {}
    for row in entries.rows("word"):
        word = Word(
            word=row.text("word"),
            meaning=row.text("meaning"),
            status=row.choice("status", STATUSES),
            forms=row.texts("forms"),
            quiet=row.flag("quiet"),
        )
        row.done()
        for spelling in word.spellings:
            if words.setdefault(spelling.lower(), word) is not word:
                raise ValueError(f"{path.name}: {spelling!r} stands for two words")
    entries.done()
    return tuple(dict.fromkeys(words.values()))
