"""The doubts about the slips: lines stay while doubts come and go, and a button stands for its own doubt."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton, QVBoxLayout, QWidget

from flueleaf.desktop.visit.doubts_panel import DoubtsPanel
from flueleaf.desktop.visit.slip_column import Spot
from flueleaf.domain.judging.assessment import Doubt

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

TRAMP = Doubt("o2-co2-disagree", "co2_pct", "O2 and CO2 disagree.", point="flue", rate="max", attempt=1)
RATIO = Doubt("ratio-disagrees", "ratio", "The ratio typed is another.", point="flue", rate="min", attempt=2)
EXPIRED = Doubt("calibration-expired", "", "The calibration had run out.")


class Page(QWidget):
    """The panel between two fields, as on the leaf."""

    def __init__(self) -> None:
        super().__init__()
        self.before, self.panel, self.after = QLineEdit(), DoubtsPanel("works.0"), QLineEdit()
        column = QVBoxLayout(self)
        for widget in (self.before, self.panel, self.after):
            column.addWidget(widget)


@pytest.fixture
def page(qtbot: QtBot) -> Page:
    made = Page()
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def words(panel: DoubtsPanel) -> list[str]:
    return [line._words.text() for line in panel.lines if not line.isHidden()]


def test_a_line_a_doubt_each_with_its_slip(page: Page) -> None:
    page.panel.show_doubts([EXPIRED, TRAMP, RATIO])
    assert words(page.panel) == [
        "The calibration had run out.",
        "flue, high rate: O2 and CO2 disagree.",
        "flue, low rate, attempt 2: The ratio typed is another.",
    ]
    assert [one.objectName() for one in page.panel.buttons] == [
        "works.0.doubts.flue.max.1.o2-co2-disagree",
        "works.0.doubts.flue.min.2.ratio-disagrees",
    ], "nobody can confirm what no slip holds"


def test_lines_stay_while_doubts_come_and_go(page: Page) -> None:
    page.panel.show_doubts([TRAMP, RATIO])
    made = page.panel.lines
    page.panel.show_doubts([RATIO])
    assert page.panel.lines[0] is made[0]
    assert words(page.panel) == ["flue, low rate, attempt 2: The ratio typed is another."]
    assert made[1].isHidden()
    assert made[1].button.objectName() == "", "nobody finds what is not shown"
    page.panel.show_doubts([])
    page.panel.release()
    assert page.panel.isHidden()
    page.panel.show_doubts([TRAMP, RATIO])
    assert page.panel.lines == made
    assert not page.panel.isHidden()


def test_the_page_is_told_only_when_there_are_other_buttons(page: Page, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.panel.grown):
        page.panel.show_doubts([TRAMP])
    with qtbot.assertNotEmitted(page.panel.grown):
        page.panel.show_doubts([replace(TRAMP, text="O2 and CO2 disagree by more.")])
        page.panel.show_doubts([RATIO])
    with qtbot.waitSignal(page.panel.grown):
        page.panel.show_doubts([TRAMP, RATIO])


def test_confirming_tells_slip_and_doubt_and_the_words_turn(page: Page, qtbot: QtBot) -> None:
    page.panel.show_doubts([EXPIRED, TRAMP, RATIO])
    with qtbot.waitSignal(page.panel.confirmed) as told:
        assert page.panel.confirm(Spot("flue", "min", 2))
    assert told.args == [Spot("flue", "min", 2), "ratio-disagrees", True]
    with qtbot.waitSignal(page.panel.confirmed) as told:
        assert page.panel.confirm(None)
    assert told.args == [Spot("flue", "max", 1), "o2-co2-disagree", True]
    page.panel.show_doubts([EXPIRED, replace(TRAMP, confirmed=True), RATIO])
    assert page.panel.buttons[0].text() == "Stands – take back"
    assert page.panel.lines[1]._words.property("tone") == "soft"
    with qtbot.waitSignal(page.panel.confirmed) as told:
        page.panel.buttons[0].click()
    assert told.args == [Spot("flue", "max", 1), "o2-co2-disagree", False]
    page.panel.show_doubts([EXPIRED, TRAMP, RATIO])
    assert page.panel.buttons[0].text() == "Checked, stands"
    assert page.panel.lines[1]._words.property("tone") == ""
    assert not page.panel.confirm(Spot("flue", "min", 1)), "there is no doubt about that slip"


def test_the_cursor_stays_at_the_button_of_its_doubt(page: Page) -> None:
    page.panel.show_doubts([TRAMP, RATIO])
    page.panel.buttons[1].setFocus()
    page.panel.show_doubts([RATIO])
    focused = QApplication.focusWidget()
    assert isinstance(focused, QPushButton)
    assert focused.objectName() == "works.0.doubts.flue.min.2.ratio-disagrees"


def test_the_cursor_leaves_a_doubt_that_is_gone(page: Page) -> None:
    page.panel.show_doubts([TRAMP, RATIO])
    page.panel.buttons[0].setFocus()
    page.panel.show_doubts([RATIO])
    focused = QApplication.focusWidget()
    assert focused is None or focused not in page.panel.findChildren(QPushButton), (
        "Space would confirm another doubt than the one that was looked at"
    )


def test_the_page_does_not_move_under_the_hand(page: Page) -> None:
    page.panel.show_doubts([TRAMP, RATIO])
    QApplication.processEvents()
    taken = page.panel.height()
    page.panel.show_doubts([])
    QApplication.processEvents()
    assert page.panel.isVisible()
    assert page.panel.height() >= taken, "until the field is left the room stays"
    assert words(page.panel) == []
    page.panel.release()
    assert page.panel.isHidden()
    page.panel.show_doubts([RATIO])
    assert page.panel.minimumHeight() == 0, "what was given back is not kept for ever"
