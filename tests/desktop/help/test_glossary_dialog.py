"""The glossary in the window: found by typing, opened at the words one is at, pointed out in labels."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QLineEdit, QVBoxLayout, QWidget

from flueleaf.desktop.help.glossary_dialog import GlossaryDialog
from flueleaf.desktop.help.what_it_means import words_at
from flueleaf.desktop.help.worded_label import worded
from flueleaf.desktop.looking_up import look_up
from flueleaf.desktop.section import Section
from flueleaf.desktop.theme import current
from flueleaf.operations import glossary
from flueleaf.operations.glossary import Word

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.desktop.window import MainWindow

TEXT = "Close the case, then the air inlet; once it has settled, the flue. Note the data plate of every one."


class Asked(QWidget):
    """A window that notes which word was asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: list[str] = []

    def show_word(self, word: Word) -> None:
        self.asked.append(word.word)


def _meaning(sheet: GlossaryDialog) -> str:
    found = sheet.page.findChild(QLabel, "glossary.meaning")
    assert found is not None
    return found.text()


def test_typing_narrows_the_list_and_the_arrows_walk_it(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    sheet = GlossaryDialog()
    qtbot.addWidget(sheet)
    sheet.show()
    assert sheet.listed.count() == len(glossary.words())
    QTest.keyClicks(sheet.search, "air")
    first = [sheet.listed.item(n).text() for n in range(3)]
    assert first == ["air factor", "air inlet test point", "air-free CO"]
    QTest.keyClick(sheet.search, Qt.Key.Key_Down)
    assert _meaning(sheet) == glossary.look_up("air inlet")[0].meaning
    QTest.keyClick(sheet.search, Qt.Key.Key_Return)
    assert sheet.isVisible()
    sheet.search.setText("no such word")
    assert sheet.listed.count() == 0
    QTest.keyClick(sheet.search, Qt.Key.Key_Escape)
    assert not sheet.isVisible()


def test_the_words_at_hand_come_first(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    section = Section("combustion")
    qtbot.addWidget(section)
    section.set_caution(TEXT)
    line = QLineEdit()
    line.setAccessibleName("working pressure")
    section.add_widget(line)
    found = [word.word for word in words_at(line)]
    assert found[0] == "working pressure"
    assert {"air inlet test point", "settled", "data plate"} <= set(found)
    sheet = GlossaryDialog(words_at(line))
    qtbot.addWidget(sheet)
    assert sheet.listed.item(0).text() == "working pressure"
    assert sheet.listed.count() == len(glossary.words())


def test_a_word_in_a_label_can_be_pressed_and_other_letters_cannot(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    window = Asked()
    qtbot.addWidget(window)
    made = worded(TEXT)
    QVBoxLayout(window).addWidget(made)
    window.resize(260, 300)
    window.show()
    qtbot.waitExposed(window)
    assert made.text() == TEXT
    boxes = list(made.boxes())
    assert {place.word.word for place, _ in boxes} == {"air inlet test point", "settled", "data plate"}
    lowest = 0.0
    for place, box in boxes:
        assert made.rect().contains(box.toAlignedRect())
        QTest.mouseClick(made, Qt.MouseButton.LeftButton, pos=box.center().toPoint())
        assert window.asked[-1] == place.word.word
        lowest = max(lowest, box.top())
    assert lowest > 0, "a narrow label sets its words on several lines"
    before = len(window.asked)
    QTest.mouseClick(made, Qt.MouseButton.LeftButton, pos=QPoint(2, 2))
    assert len(window.asked) == before


def test_the_dots_are_painted_under_the_word(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    made, plain = worded("settled"), QLabel("settled")
    for shown in (made, plain):
        qtbot.addWidget(shown)
        shown.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        shown.resize(120, 40)
        shown.show()
    assert made.grab().toImage() != plain.grab().toImage()


def test_the_finder_offers_a_word_and_opens_its_line(window: MainWindow) -> None:
    hits = [one for one in look_up(window, "spill") if one.group == "words"]
    assert [one.title for one in hits] == ["spillage"]
    assert hits[0].run is not None
    hits[0].run()
    sheet = window.findChild(GlossaryDialog)
    assert sheet is not None
    assert sheet.listed.currentItem().text() == "spillage"
    assert not [one for one in look_up(window, "s") if one.group == "words"]


def test_its_key_opens_it_on_every_leaf(window: MainWindow) -> None:
    next(one for one in window.commands if one.keys == ("Shift+F1",)).run()
    sheet = window.findChild(GlossaryDialog)
    assert sheet is not None
    assert sheet.isVisible()


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_meaning_has_the_width_of_its_page(keeper: ThemeKeeper, qtbot: QtBot, scale: float) -> None:
    keeper.set_scale(scale)
    sheet = GlossaryDialog()
    qtbot.addWidget(sheet)
    sheet.show()
    meaning = sheet.page.widget().findChild(QLabel, "glossary.meaning")
    assert meaning is not None
    sheet.page.widget().layout().activate()
    assert meaning.width() >= 0.75 * sheet.page.viewport().width()
    heights = [
        sheet.listed.visualItemRect(sheet.listed.item(row)).height() for row in range(sheet.listed.count())
    ]
    line = sheet.listed.fontMetrics().height()
    assert min(heights) >= line + current().space(2)
    wide = sheet.listed.viewport().width()
    assert all(
        heights[row] > 2 * line
        for row in range(sheet.listed.count())
        if sheet.listed.fontMetrics().horizontalAdvance(sheet.listed.item(row).text()) > wide
    )
