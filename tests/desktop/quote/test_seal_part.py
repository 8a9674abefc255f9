"""The end of a quote: its head says what it tells, its button what it does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueleaf.desktop.place import Place
from flueleaf.desktop.quote.seal_part import SealPart

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


def test_the_head_does_not_repeat_the_button(window: MainWindow) -> None:
    window.go(Place("quote", within="1"))
    assert window.leaf is not None
    (part,) = window.leaf.findChildren(SealPart)
    assert part.title
    assert part.title not in part.button.text().lower()
