"""Somebody presses anything for a while: nothing breaks, the book verifies, the drafts come back as kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtTest import QTest
from tests.desktop.monkey import Monkey

from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.operations import book as books
from flueleaf.operations import drafting
from flueleaf.storage import drafts

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

SEED, ACTIONS = 3, 500  # fixed, so that what it finds can be found again


@pytest.mark.parametrize("seed", [SEED])
def test_anything_may_be_pressed(window: MainWindow, seed: int) -> None:
    monkey = Monkey(window, seed)
    monkey.act(ACTIONS)
    window.keeper.set_scale(1.0)
    assert window.leaf is not None
    window.leaf.leaving()
    QTest.qWait(0)
    book = window.desk.book
    assert books.verify(book)["faults"] == [], monkey.told[-20:]
    kept = [draft.key for draft in drafts.drafts(book.con) if draft.kind == drafting.KIND]
    assert kept, "nothing was typed into a visit"
    for key in kept:
        document = drafting.load(book, key)
        window.go(Place("visit", key))
        assert isinstance(window.leaf, TypedVisitLeaf), window.notice
        assert window.leaf.document() == document
