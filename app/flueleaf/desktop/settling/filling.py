"""What a slip is filled with, and what of it is typed already."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Filling:
    """What is taken over into a slip.

    Attributes:
        texts: by quantity key.
        settled: whether these are readings at rest.
        over: whether they take the place of what is typed.
    """

    texts: Mapping[str, str] = field(default_factory=dict)
    settled: bool = True
    over: bool = False


def typed_otherwise(texts: Mapping[str, str], typed: Mapping[str, str]) -> dict[str, str]:
    """Return what is typed already and differs from what would be filled in."""
    return {
        key: there for key, text in texts.items() if (there := typed.get(key, "").strip()) and there != text
    }
