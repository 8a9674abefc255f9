from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QModelIndex, Qt

from flueleaf.desktop.finder_panel import FinderPanel
from flueleaf.desktop.finder_table_model import FinderTableModel, Found
from flueleaf.desktop.place import Place

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

FOUND = (
    Found("premises", "3 Quay Lane", "Port Ellery", Place("premises", "1")),
    Found("papers", "R-2026-0412", "", Place("paper", "R-2026-0412")),
    Found("premises", "14 Cooper’s Rise", "", Place("premises", "2")),
)


def test_the_model_groups_and_keeps_the_rules(qtmodeltester: ModelTester) -> None:
    model = FinderTableModel()
    model.show_found(FOUND)
    qtmodeltester.check(model)
    lines = [str(model.data(model.index(row))) for row in range(model.rowCount())]
    assert lines == ["premises", "3 Quay Lane", "14 Cooper’s Rise", "papers", "R-2026-0412"]
    assert model.found(model.index(0)) is None
    assert not model.flags(model.index(0)) & Qt.ItemFlag.ItemIsSelectable
    assert model.first_row() == 1
    assert (
        model.data(model.index(1), Qt.ItemDataRole.AccessibleTextRole) == "premises, 3 Quay Lane, Port Ellery"
    )
    assert model.found(QModelIndex()) is None


@pytest.fixture
def finder(qtbot: QtBot) -> FinderPanel:
    made = FinderPanel(lambda text: [one for one in FOUND if text.lower() in one.title.lower()])
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.begin()
    return made


@pytest.mark.usefixtures("keeper")
def test_typing_and_enter_open_the_first_found(qtbot: QtBot, finder: FinderPanel) -> None:
    qtbot.keyClicks(finder.edit, "quay")
    with qtbot.waitSignal(finder.chosen) as chosen:
        qtbot.keyClick(finder.edit, Qt.Key.Key_Return)
    assert chosen.args == [FOUND[0]]


@pytest.mark.usefixtures("keeper")
def test_arrows_walk_over_the_heads(qtbot: QtBot, finder: FinderPanel) -> None:
    chosen: list[Found] = []
    finder.chosen.connect(chosen.append)
    for _ in range(3):
        qtbot.keyClick(finder.edit, Qt.Key.Key_Down)
    qtbot.keyClick(finder.edit, Qt.Key.Key_Return)
    qtbot.keyClick(finder.edit, Qt.Key.Key_Up)
    qtbot.keyClick(finder.edit, Qt.Key.Key_Return)
    assert [one.title for one in chosen] == ["R-2026-0412", "14 Cooper’s Rise"]


@pytest.mark.usefixtures("keeper")
def test_nothing_found_opens_nothing(qtbot: QtBot, finder: FinderPanel) -> None:
    qtbot.keyClicks(finder.edit, "zzz")
    with qtbot.assertNotEmitted(finder.chosen):
        qtbot.keyClick(finder.edit, Qt.Key.Key_Return)


@pytest.mark.usefixtures("keeper")
def test_escape_goes_back_to_the_leaf(qtbot: QtBot, finder: FinderPanel) -> None:
    with qtbot.waitSignal(finder.left):
        qtbot.keyClick(finder.edit, Qt.Key.Key_Escape)


@pytest.mark.usefixtures("keeper")
def test_what_was_typed_goes_once_something_is_opened(qtbot: QtBot, finder: FinderPanel) -> None:
    qtbot.keyClicks(finder.edit, "quay")
    with qtbot.waitSignal(finder.chosen) as chosen:
        qtbot.keyClick(finder.edit, Qt.Key.Key_Return)
    assert chosen.args == [FOUND[0]]
    assert finder.edit.text() == ""
    assert finder.list.model().rowCount() > 2
