"""A sign-off goes on beside the window: who went elsewhere meanwhile stays there."""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QSettings
from tests.desktop.visit.typist import come_to_rest

from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.theme import ThemeKeeper


def test_who_goes_elsewhere_while_it_is_signed_off_stays_there(
    bare_desk: Desk, keeper: ThemeKeeper, tmp_path: Path, evening: dict[str, Any], qtbot: QtBot
) -> None:
    window = MainWindow(bare_desk, keeper, QSettings(str(tmp_path / "w.ini"), QSettings.Format.IniFormat))
    qtbot.addWidget(window)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    begun = drafting.begin(bare_desk.book, today=bare_desk.today())
    drafting.keep(bare_desk.book, {**copy.deepcopy(evening), "visit_id": begun["visit_id"]})
    window.go(Place("visit", str(begun["visit_id"])))
    come_to_rest(window)
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    with qtbot.waitSignal(bare_desk.hub.changed, timeout=60_000):
        leaf.sign_off()
        assert "Signing off" in window.notice, window.notice
        window.go(TONIGHT)
    assert bare_desk.book.con.execute("SELECT count(*) FROM visit").fetchone()[0] == 1
    assert window.leaf is not None
    assert window.leaf.place == TONIGHT
