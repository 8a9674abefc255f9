"""What differs between two values of JSON, short enough to keep many states of one document."""

from __future__ import annotations

from typing import Any

SAME: dict[str, Any] = {}


def difference(old: Any, new: Any) -> dict[str, Any]:
    """Return what makes ``new`` of ``old``, itself JSON; {} where they are equal.

    Objects are compared key by key, lists of one length entry by entry; anything else is replaced whole.
    """
    if isinstance(old, dict) and isinstance(new, dict):
        keys = {key: difference(old[key], value) for key, value in new.items() if key in old}
        keys |= {key: {"to": value} for key, value in new.items() if key not in old}
        gone = [key for key in old if key not in new]
        return _named("keys", keys) | ({"gone": gone, "keys": _some(keys)} if gone else {})
    if isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        pairs = enumerate(zip(old, new, strict=True))
        return _named("entries", {str(n): difference(before, after) for n, (before, after) in pairs})
    if old == new and type(old) is type(new):  # True is not 1 in a document
        return SAME
    return {"to": new}


def changed(old: Any, what: dict[str, Any]) -> Any:
    """Return ``old`` with a difference applied; ``old`` itself is left as it is.

    Raises:
        KeyError, IndexError, TypeError: the difference is not one of this value.
    """
    if "to" in what:
        return what["to"]
    if "entries" in what:
        entries = list(old)
        for n, one in what["entries"].items():
            entries[int(n)] = changed(entries[int(n)], one)
        return entries
    if "keys" in what:
        kept = {key: value for key, value in old.items() if key not in what.get("gone", ())}
        fresh = {
            key: changed(old[key], one) if key in old else one["to"] for key, one in what["keys"].items()
        }
        return {**kept, **fresh}
    return old


def _some(parts: dict[str, dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {key: one for key, one in parts.items() if one}


def _named(name: str, parts: dict[str, dict[str, Any]]) -> dict[str, Any]:
    return {name: some} if (some := _some(parts)) else SAME
