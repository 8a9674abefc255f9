"""Finds the texts of the window: calls in the program's source, and the words of the resources' tables.

Both are extraction methods as Babel wants them: they take a file and give line, keyword, texts and comments.
"""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import Any, BinaryIO

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_file

# The functions whose texts are taken, and how many of their first arguments are texts.
KEYWORDS: dict[str, int] = {"_": 1, "_n": 2, "said": 1, "marked": 1}
# What Babel is told of them: None takes the first argument, (1, 2) a text for one and a text for many.
BABEL_KEYWORDS: Mapping[str, Any] = {name: None if count == 1 else (1, 2) for name, count in KEYWORDS.items()}

# The tables with words for the screen, and the keys these stand under. A table's sources and clauses are
# the law's own words and stay as they are.
TABLES: dict[str, frozenset[str]] = {
    "kinds/*.toml": frozenset({"name", "lines", "caution", "question", "reason"}),
    "kinds/stages/*.toml": frozenset({"lines", "caution", "question"}),
    "kinds/notes/*.toml": frozenset({"title", "label", "choices"}),
    # An ending has a title for each purpose of a visit.
    "procedures/*.toml": frozenset(
        {"title", "does", "commissioning", "service", "landlord check", "breakdown"}
    ),
    "rules/due_dates__*.toml": frozenset({"name", "why", "checked"}),
    "rules/limits/*.toml": frozenset({"title", "note", "over"}),
    "fuels/*.toml": frozenset({"name"}),
    "glossary.toml": frozenset({"word", "forms", "meaning"}),
}
HEADED = "kinds/stages/*.toml"  # whose key is the heading of their part of a visit
# Words that documents and the book keep, and that the window says in its own language.
KEPT_WORDS = frozenset(
    {"CUSTOMER_KINDS", "FLUES", "POINTS", "PURPOSES", "ANSWERS", "DEFECT_CLASSES", "OUTCOMES", "SIGNATURES"}
    | {"PAYMENT_WAYS"}
)
TABLE_KEYWORD = "_"

Found = tuple[int, str, tuple[str, ...], list[str]]


def template(top: Path) -> Iterator[tuple[str, str | tuple[str, ...]]]:
    """Give every text of the window with the file it stands in, path from the top of the checkout."""
    for path in sorted((top / "app" / "flueleaf").rglob("*.py")):
        yield from _of_file(python_texts, path, top, {})
    resources = top / "resources"
    for pattern, keys in TABLES.items():
        for path in sorted(resources.glob(pattern)):
            yield from _of_file(table_texts, path, top, {"keys": keys, "headed": pattern == HEADED})


def collected(top: Path, into: Catalog) -> Catalog:
    """Put every text of the window into a catalogue; returns it."""
    for where, text in template(top):
        into.add(text, locations=[(where, 0)])
    return into


def python_texts(
    fileobj: BinaryIO, keywords: Collection[str], comment_tags: Collection[str], options: Mapping[str, Any]
) -> Iterator[Found]:
    """Give the literal texts that the keywords are called with, however deeply the calls are nested."""
    del comment_tags, options  # Babel hands them to every method
    for node in ast.walk(ast.parse(fileobj.read())):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in keywords:
            texts = literals(node.args[: KEYWORDS[node.func.id]])
            if texts and all(texts):
                yield node.lineno, node.func.id, texts, []
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            yield from ((node.lineno, "_", (word,), []) for word in _kept_words(node))


def _kept_words(node: ast.Assign | ast.AnnAssign) -> tuple[str, ...]:
    target = node.targets[0] if isinstance(node, ast.Assign) else node.target
    kept = isinstance(target, ast.Name) and target.id in KEPT_WORDS
    return literals(node.value.elts) if kept and isinstance(node.value, ast.Tuple) else ()


def literals(arguments: Collection[ast.expr]) -> tuple[str, ...]:
    """Return the arguments that are literal texts, if all of them are."""
    texts = [one.value for one in arguments if isinstance(one, ast.Constant) and isinstance(one.value, str)]
    return tuple(texts) if len(texts) == len(arguments) else ()


def table_texts(
    fileobj: BinaryIO, keywords: Collection[str], comment_tags: Collection[str], options: Mapping[str, Any]
) -> Iterator[Found]:
    """Give the words of a table that the screen shows; ``options["keys"]`` are the keys they stand under."""
    del keywords, comment_tags
    table = tomllib.load(fileobj)
    for text in _words(table, options["keys"]):
        yield 1, TABLE_KEYWORD, (text,), []
    if options["headed"]:
        yield 1, TABLE_KEYWORD, (table["key"],), []


def _words(value: Any, keys: Collection[str]) -> Iterator[str]:
    if isinstance(value, list):
        for item in value:
            yield from _words(item, keys)
    elif isinstance(value, dict):
        for key, item in value.items():
            texts = item if isinstance(item, list) else [item]
            if key in keys and all(isinstance(text, str) for text in texts):
                yield from (text for text in texts if text)
            else:
                yield from _words(item, keys)


def _of_file(
    method: Any, path: Path, top: Path, options: Mapping[str, Any]
) -> Iterator[tuple[str, str | tuple[str, ...]]]:
    where = path.relative_to(top).as_posix()
    for _line, text, _comments, _context in extract_from_file(method, path, BABEL_KEYWORDS, options=options):
        yield where, text
