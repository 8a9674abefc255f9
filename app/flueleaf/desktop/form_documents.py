"""Between the texts of a form's fields, by path, and the document that an operation reads."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def assembled(texts: Mapping[str, str]) -> dict[str, Any]:
    """Return a document from texts by path; empty texts are left out, numbered keys make a list."""
    root: dict[str, Any] = {}
    for path, text in texts.items():
        if not text:
            continue
        at = root
        *parents, last = path.split(".")
        for key in parents:
            at = at.setdefault(key, {})
        at[last] = text
    made = _listed(root)
    assert isinstance(made, dict)
    return made


def flattened(document: Any, path: str = "") -> dict[str, str]:
    """Return the texts of a document by path."""
    if isinstance(document, Mapping):
        pairs = [(str(key), value) for key, value in document.items()]
    elif isinstance(document, list | tuple):
        pairs = [(str(at), value) for at, value in enumerate(document)]
    else:
        return {} if document is None else {path: str(document)}
    found: dict[str, str] = {}
    for key, value in pairs:
        found |= flattened(value, f"{path}.{key}" if path else key)
    return found


def _listed(value: Any) -> Any:
    if not isinstance(value, dict):
        return value
    if value and all(key.isdigit() for key in value):
        return [_listed(item) for _, item in sorted(value.items(), key=lambda pair: int(pair[0]))]
    return {key: _listed(item) for key, item in value.items()}
