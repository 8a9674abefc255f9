from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.operations.changes import Changes, Topic

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_only_the_watched_topics_reload(qtbot: QtBot) -> None:
    hub, owner, reloads = ChangeHub(), QObject(), []
    hub.watch(owner, [Topic.VISITS, Topic.DUE], lambda: reloads.append("visits"))
    hub.watch(owner, [Topic.MONEY], lambda: reloads.append("money"))
    with qtbot.waitSignal(hub.changed):
        hub.tell(Changes(frozenset({Topic.VISITS}), "The visit is signed off."))
    assert reloads == ["visits"]
    hub.tell(Changes(frozenset({Topic.PAPERS}), "issued"))
    assert reloads == ["visits"]


def test_nobody_reloads_after_its_leaf_is_gone(qtbot: QtBot) -> None:
    hub, owner, reloads = ChangeHub(), QObject(), []
    hub.watch(owner, [Topic.VISITS], lambda: reloads.append("visits"))
    with qtbot.waitSignal(owner.destroyed):
        owner.deleteLater()
    hub.tell(Changes(frozenset({Topic.VISITS}), "signed off"))
    assert reloads == []
