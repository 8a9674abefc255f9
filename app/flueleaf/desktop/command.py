"""An action a person can take: its words, its menu and its key."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Command:
    """One action; the menus, the key sheet and the finder are all made from these.

    Attributes:
        words: what it does, as the menu says it.
        keys: the keys that do it, the first being shown; none needs Alt.
        run: does it.
        menu: the menu it stands in; a leaf's own commands stand under "Leaf".
    """

    words: str
    keys: tuple[str, ...]
    run: Callable[[], None]
    menu: str = "Leaf"
